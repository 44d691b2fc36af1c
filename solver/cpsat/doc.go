// Package cpsat is CP-SAT, the constraint solver of OR-Tools 9.15, from Go
// without cgo: a typed builder for models, the encoding of models and settings,
// one call that solves and can be stopped, and the decoding of the answer.
//
// It speaks the C interface of libortools (ortools/sat/c_api/cp_solver_c.h),
// which takes and gives protocol buffers as bytes. Three facts about that
// interface shape this package:
//
//   - Malformed bytes abort the whole process. So models are built only through
//     Model, which checks every index, domain and string before it is written,
//     and Params checks itself. There is no way to send bytes of one's own.
//   - A constraint under a wrong field number is silently ignored, and the
//     answer says "optimal". So the bytes are compared with golden ones, and
//     every kind of constraint has a test that it binds.
//   - The engine installs its own SIGINT handler and prints to standard output
//     unless told otherwise. It is always told otherwise: stop a solve through
//     its context, and read the log in Response.Log.
//
// Field numbers and defaults are those of 9.15.6755, read in its
// cp_model.proto and sat_parameters.proto.
//
// The package knows no music, and where the library comes from is not its
// business: Open takes a path. It may take types of solver/mip, and nothing
// else of ours.
package cpsat
