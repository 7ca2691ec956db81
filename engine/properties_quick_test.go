//go:build !properties

package engine_test

// propertyRecipes is how many recipes the properties are tried on. make
// properties tries more.
const propertyRecipes = 3000
