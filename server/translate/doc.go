// Package translate turns the contract's messages into the engine's types and
// back. It is the only place where the two meet.
//
// Requests: what only the wire can get wrong is collected here as violations
// with the path of the field (a number no enum names, a quantity without a
// unit where leaving it out would mean something else); everything the engine
// can see for itself is left to the engine. A request that is wrong is still
// translated as far as it goes, so that the engine can add what else is wrong.
//
// Answers: every field of the answer messages is filled, which a test proves
// by reflection. Nothing is rounded, worded or judged here.
//
// The functions are pure. Messages and engine values never share a map or a
// slice, so that a caller in the same process may change either.
package translate
