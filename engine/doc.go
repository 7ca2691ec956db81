// Package engine works out batches of cold-process soap: how much alkali a
// recipe takes and how sure that is, how much water, what every line weighs,
// and what speaks against the batch.
//
// It takes a Recipe and answers a Formulation; Scale and SwapFat answer a
// changed Recipe with its Formulation. The answer depends on the
// recipe, the balances and the additive rules handed in, and on nothing else:
// the package reads no file, clock or random number, starts no goroutine and
// gives the same bits for alkali, water, portions and rounding on every
// machine. Estimates and intervals use exp and erfc and may differ in the last
// bits.
//
// It leaves to others: where additive rules run (the Additives interface),
// how recipes are stored or written, and every judgement about skin, law and
// sale. It never says that a batch is safe; findings say what speaks against it.
//
// Masses are unrounded unless balances are given. Shares are percent. Errors
// are *Violations (the request is wrong; all of it is said at once),
// *Impossible (the batch cannot be made), *MissingOwner (an additive's rules are
// not at hand) or *OwnerFailed (they are, and did not answer).
package engine
