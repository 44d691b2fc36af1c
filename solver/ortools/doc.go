// Package ortools knows where the shared libraries of the engines come from: the
// pinned release of OR-Tools, its checksums, unpacking, and the one clear line when
// they cannot be had. It knows neither engine and opens neither: the bindings
// solver/highs and solver/cpsat take the path that [Locate] gives. One process may open
// libortools from one place only; a second copy of it aborts the process.
//
// # Where a library is looked for
//
//  1. the folder given by the setting "engines" (a flag, PRIMAPROVA_ENGINES, the
//     settings file); if one is given, nothing else is tried;
//  2. a program built with the tag engines carries the libraries of its platform,
//     and unpacks them once into the user's cache;
//  3. a program built without that tag uses what "make deps" put beside its sources.
//
// # What is trusted
//
// pins.txt holds the sha256 of each wheel. The program pack checks it and writes two
// bundles, each a zstd-compressed tar with a list of sums (the format of sha256sum):
// highs, which HiGHS needs, and cpsat, which CP-SAT needs besides. HiGHS alone is
// 5 MB and is there in a blink; all the libraries of CP-SAT are 70 MB. The sums travel
// inside the program, so whatever lies in the cache is checked against them at every
// start, and a missing or spoilt file is unpacked again. A cache that others can
// write to is refused, because a file could be exchanged after its check. The user's
// own folder is the user's own choice and is taken as it is.
package ortools
