package invent

// Demo is the size of a whole season: 40 weeks, 12 programmes, 48 parts, some
// 670 passages. All of it can be placed, and its heavy weeks bind: it is about
// as tight as the season that make demo plans.
func Demo(seed uint64) Size { return Grown(40, 0, true, seed) }

// Grown is a season of any length with as many programmes a week as Demo, each
// of the same size. At most so many programmes are at hand at once; 0 leaves
// it at five weeks for each part.
func Grown(weeks, atOnce int, irregular bool, seed uint64) Size {
	return Size{Weeks: weeks, Programmes: max(1, weeks*3/10), Parts: 4, Passages: 14, Lead: 35, AtOnce: atOnce,
		Tightness: 0.85, Irregular: irregular, Hours: true, Off: 0.05, Seed: seed}
}

// Small is a season for exhaustive checks: two weeks, one programme.
func Small(seed uint64) Size {
	return Size{Weeks: 2, Programmes: 1, Parts: 1, Passages: 2, Lead: 10, Tightness: 0.5, Seed: seed}
}

// Named is a size with the word that tests and tables know it by.
type Named struct {
	Name string
	Size Size
}

// Sizes gives one season of each kind: ten weeks each, small enough to be
// planned many times over, and each hard in a way of its own.
func Sizes(seed uint64) []Named {
	of := func(name string, change func(z *Size)) Named {
		z := Grown(10, 0, true, seed)
		z.Passages, z.Off = 10, 0
		change(&z)
		return Named{name, z}
	}
	return []Named{
		{"small", Small(seed)},
		of("easy", func(z *Size) { z.Tightness = 0.4 }),
		of("tight", func(z *Size) { z.Tightness = 0.95 }),
		of("too tight", func(z *Size) { z.Tightness = 1.3 }),
		of("ordinary recipes", func(z *Size) { z.Irregular = false }),
		of("estimates", func(z *Size) { z.Estimates = 0.7 }),
		of("late parts", func(z *Size) { z.Late = 0.4 }),
		of("without hours", func(z *Size) { z.Hours = false }),
		of("rest days", func(z *Size) { z.RestDays = 3 }),
		of("weeks off", func(z *Size) { z.Off = 0.2 }),
		of("all at once", func(z *Size) { z.Programmes, z.AtOnce = 6, 6 }),
		of("impossible", func(z *Size) { z.Impossible = true }),
	}
}
