//go:build properties

package engine_test

// propertyRecipes is how many recipes the properties are tried on.
const propertyRecipes = 24000
