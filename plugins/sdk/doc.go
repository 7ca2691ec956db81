// Package sdk is what a plugin author writes against. A plugin tells Lixivium
// what an additive does to a cold-process soap: to water, alkali, trace time,
// firmness and heat, and what to look out for. It runs as a process of its own;
// this package is everything between that process and the author, who writes
// two functions and never sees a protocol.
//
// # Writing one
//
// Put the rules into a package that answers a *Plugin, and Serve into a main:
//
//	func main() { sdk.Serve(oats.Plugin()) }
//
// The example of this package is a complete plugin. An author's steps:
//
//  1. Describe the additive: its id (begin it with a prefix of your own, such as
//     "acme-oat-milk"), its usual dose, the parameters that a dose may set, and
//     the rights ([Grant]) that the answers need. Ask for no more than they use:
//     what a plugin may move decides what the operator must trust it with, and
//     what can still be answered when it is down.
//  2. Write Adjust. It is shown the plugin's own doses as shares of the fats,
//     never grams, and answers what one gram of the dose does ([Adjustment]).
//     Figures follow from the product; the factors on trace time and firmness
//     from how much of it there is ([Band.AtDose]). A dose that makes no sense
//     is a [Rejection]: it reaches the caller at the field that is wrong.
//  3. Write Review, if there is something to say of the settled batch: grams,
//     water, everybody's doses, portions. It answers findings and cannot move
//     anything. What two additives do to each other belongs here.
//  4. Say what every figure rests on ([Basis], and the source in words). An
//     estimate is welcome when it says so.
//  5. Run the conformance kit, plugins/conform, in a test.
//  6. Build it, and write it into lixivium.yaml with the rights it is granted.
//     The host runs only files whose digest is written there.
//
// # What must hold
//
// Both functions are pure. The same question gets the same answer: no clock, no
// chance, no network, no state, no map order. Answers are remembered and asked
// again now and then; a plugin that changes its mind is taken out of service.
// Many goroutines call at once. Nothing that was passed in is written to.
//
// Every figure stays within the bounds named at its field and within the
// granted rights. An answer that does not is refused whole, and the recipe with
// it: a wrong lye weight burns skin, and no answer is better.
//
// Silence is an answer. An ordinary dose gets no finding; one that is sure to
// spoil a batch gets a caution; danger is for harm to people.
//
// # What is taken care of
//
// Standard output is moved to standard error before the author's code runs, so
// a stray print does not break the start. Standard error is the log. A panic in
// a rule fails that one call and not the process. The process leaves when its
// host asks it to, or when its standard input ends. Deadlines arrive with the
// context; a rule that takes microseconds need not look at it.
//
// A plugin in another language needs none of this: the file additive.proto
// imports nothing and is the whole contract.
//
// The package stays a draft until plugins in other languages have used the
// contract: until version 1.0.0 a release may break it and says so.
package sdk
