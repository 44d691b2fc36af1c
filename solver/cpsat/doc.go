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
// A model is built from typed handles and solved:
//
//	lib, err := cpsat.Open(path)
//	m := cpsat.NewModel("two visits")
//	a := m.NewInt("start a", cpsat.Range(0, 10))
//	b := m.NewInt("start b", cpsat.Range(0, 10))
//	m.NoOverlap(m.Task("a", a, 3), m.Task("b", b, 4))
//	m.Minimize(cpsat.Sum(a, b))
//	r, err := lib.Solve(ctx, m, cpsat.Params{})
//	if s, ok := r.Solution(); ok {
//		fmt.Println(s.Int(a), s.Int(b))
//	}
//
// # What to believe
//
// Solutions are cheap to check, and whoever knows what a model means should
// check them. Proofs are not: release 9.15 has known faults that lose
// solutions. Params is set up so that none of those met in random models held
// against all their points is left (see Params).
//
// When the engine finds itself in error it aborts the process, and no Go code
// can prevent that. A program that must not die of it solves in a process of
// its own.
//
// Field numbers are those of 9.15.6755. The tests compare with bytes made by
// its Python package, which has them from the same definitions.
//
// The package knows no music, and where the library comes from is not its
// business: Open takes a path. It may take types of solver/mip, and nothing
// else of ours.
package cpsat
