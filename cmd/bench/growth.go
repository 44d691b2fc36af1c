package main

import (
	"fmt"
	"strconv"
	"strings"

	"primaprova/model/invent"
)

func demoSize(seed int) invent.Size { return invent.Demo(uint64(seed)) }

// togetherWeeks is how long the seasons are whose programmes at hand at once vary.
const togetherWeeks = 40

// growing is what growth goes through.
type growing struct {
	weeks    []int // lengths of seasons of equal density
	together []int // most programmes at hand at once, in seasons of togetherWeeks
	recipes  []int // 1: no two alike, 0: ordinary ones
	seasons  []int // seeds: some seasons are harder than others of their size
}

// growth plans longer seasons of equal density, and seasons with more
// programmes at hand at once.
func (b *bench) growth() {
	for _, own := range b.growing.recipes {
		recipes := [...]string{"ordinary recipes", "no two recipes alike"}[own]
		for _, seed := range b.growing.seasons {
			for _, weeks := range b.growing.weeks {
				b.grown(fmt.Sprintf("%d weeks, %s, season %d", weeks, recipes, seed), invent.Grown(weeks, 0, own == 1, uint64(seed)))
			}
			for _, n := range b.growing.together {
				b.grown(fmt.Sprintf("%d weeks, %d programmes at once, %s, season %d", togetherWeeks, n, recipes, seed), invent.Grown(togetherWeeks, n, own == 1, uint64(seed)))
			}
		}
	}
}

// grown plans one season and says what a week of it takes.
func (b *bench) grown(what string, z invent.Size) {
	if b.ctx.Err() != nil {
		return
	}
	b.doing("growth: %s", what)
	r := b.child(task{Do: "solve", Size: &z, Work: b.work})
	if r.Failure == "" {
		weeks := float64(z.Weeks)
		r.Note = fmt.Sprintf("per week: %.3f s, %.3f cpu s, %.2f MB", r.Seconds/weeks, r.CPU/weeks, r.Megabytes/weeks)
	}
	b.add(r.row("growth", what))
}

// wholes reads numbers by commas, each from least to most. Nothing is none.
func wholes(text string, least, most int) ([]int, error) {
	var out []int
	for word := range strings.SplitSeq(text, ",") {
		if word == "" {
			continue
		}
		n, err := strconv.Atoi(word)
		if err != nil || n < least || n > most {
			return nil, fmt.Errorf("%q: is no number from %d to %d", word, least, most)
		}
		out = append(out, n)
	}
	return out, nil
}
