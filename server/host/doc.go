// Package host runs additive plugins as processes of their own and answers the
// engine's questions with theirs. It implements engine.Additives.
//
// What may be relied upon:
//
//   - Nothing runs that the operator did not name. The bytes that are hashed
//     are the bytes that run, and rights and additive ids are those of the
//     operator's line, never more.
//   - No figure outside the grants or bounds reaches the engine, and none is
//     brought inside: a plugin that breaks the contract gives an
//     engine.Failure, as does one that is missing, crashed or late. The
//     reasons are the Reason constants.
//   - An answer is the plugin's own answer to this question, asked now or
//     remembered. One remembered answer in 64 is asked again; a plugin that
//     then says something else is put out of service.
//   - A crash costs one retry, a frozen process its deadline. What keeps
//     failing is restarted ever later and at last quarantined, until the host
//     is made anew. A machine short of descriptors, disk, memory or processes
//     is no fault of the plugin: it is tried again every second.
//   - No plugin outlives the host, however the host ends.
//
// Processes guard against faults, not against malice: a plugin runs as the
// same user, with the same files and network. One that forks and starts a
// session of its own leaves the process group and is not killed with it; what it
// forked within the group stays when the host itself is killed outright; and the
// memory of its children is not watched.
//
// Where plugins are configured is the business of package config; which
// failures still allow an answer is the engine's.
package host
