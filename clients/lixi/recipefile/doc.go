// Package recipefile reads recipe files: YAML that is, field by field, a
// request message of the contract, with `recipe_format: 1` at its top. A price
// book is read the same way from a file of its own, with `prices_format: 1`.
//
// It is driven by the message descriptor, so that a new field of the contract
// is a new key of the file without code here. It accepts a narrow part of
// YAML: maps, lists, plain numbers, text, true and false. What could change a
// weight silently is refused: a decimal comma, a unit in a value, a key said
// twice, an anchor, a tag, a missing value. All problems of a file, up to
// MaxProblems, come back at once, each with line, column and what to do.
//
// A file may be a variant: it names a base beside it and states what differs.
// What is wrong then names the line of whichever file it stands in. Write gives
// the file of a request.
//
// It does not judge values: ranges, names of fats and required fields are the
// service's to say. Places says where in the file a path of the request
// stands, so that the service's answer can be shown at its line.
package recipefile

// Limits of a file. A recipe of a thousand fats takes about 100 kB.
const (
	// MaxBytes is the largest file read.
	MaxBytes = 1 << 20
	// MaxProblems is how many problems of one file are told at once.
	MaxProblems = 20
	// maxDepth is how deep maps and lists may be nested. The contract needs 9.
	maxDepth = 24
)

// Format is the number of the file formats that this package reads.
const Format = 1
