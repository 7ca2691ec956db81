// Package wire speaks the plugin contract for package host: it turns what the
// engine asks into messages, judges what comes back against the contract, and
// turns it into the engine's types. Protobuf types of the contract stop here
// and in package host.
//
// It is pure: no process, no socket, no clock. Nothing is ever brought inside
// a bound: an answer with one figure outside is refused whole, because an
// author's mistake must not become a lye weight.
package wire
