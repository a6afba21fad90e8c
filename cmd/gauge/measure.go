package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"slipleaf/build/site"
)

// measured is what gauge prints.
type measured struct {
	Journal size             `json:"journal"`
	Files   int              `json:"files"` // of the site
	Bytes   int64            `json:"bytes"`
	Rounds  int              `json:"rounds"`
	Work    map[string]spent `json:"work"`
	Ratios  map[string]span  `json:"ratios"`  // to the floor of the same round
	Saves   waits            `json:"saves"`   // of the preview
	Outside float64          `json:"outside"` // seconds of cmark over the same bodies; 0: not installed
}

// spent is what one kind of work took over the rounds.
type spent struct {
	Seconds span            `json:"seconds"`
	CPU     span            `json:"cpu"` // seconds of the processors: steadier where the machine has other work
	Phases  map[string]span `json:"phases,omitempty"`
	Peak    int64           `json:"peak"` // bytes, the most of all rounds
}

// span is the least, the middle and the most of some figures.
type span struct {
	Min    float64 `json:"min"`
	Median float64 `json:"median"`
	Max    float64 `json:"max"`
}

func spanOf(x []float64) span {
	x = slices.Sorted(slices.Values(x))
	return span{x[0], (x[(len(x)-1)/2] + x[len(x)/2]) / 2, x[len(x)-1]}
}

// kinds are the kinds of work, in the order in which each round does them. The first change after a full build lays the
// whole site out beside itself; those after it have a spare.
var kinds = []string{"floor", "full", "unchanged", "one entry", "another entry", "preview"}

// measure makes a journal and does all kinds of work in turn, so that what else the machine does meets all alike.
func measure(ctx context.Context, s size, rounds int, by func(context.Context, work) (took, error)) (measured, error) {
	r := measured{Journal: s, Rounds: rounds, Work: map[string]spent{}, Ratios: map[string]span{}}
	dir, err := os.MkdirTemp("", "gauge-")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(dir)
	from, like := filepath.Join(dir, "journal"), filepath.Join(dir, "like")
	if err := writeJournal(from, s); err != nil {
		return r, err
	}
	first, err := by(ctx, work{Kind: "build", From: from, To: like}) // also warms the disk's cache
	if err != nil {
		return r, err
	}
	r.Files, r.Bytes = first.Files, first.Bytes
	all := map[string][]took{}
	for i := range rounds {
		for _, kind := range kinds {
			t, err := piece(ctx, dir, kind, i, by)
			if err != nil {
				return r, err
			}
			all[kind] = append(all[kind], t)
		}
	}
	r.sum(all)
	r.Outside, err = outside(ctx, from)
	return r, err
}

// piece does one kind of work, with the disk at rest before it.
func piece(ctx context.Context, dir, kind string, round int, by func(context.Context, work) (took, error)) (took, error) {
	w := work{Kind: "build", From: filepath.Join(dir, "journal"), To: filepath.Join(dir, "www")}
	switch kind {
	case "floor":
		w.Kind, w.Like, w.To = "floor", filepath.Join(dir, "like"), filepath.Join(dir, "floor")
		defer os.RemoveAll(w.To)
	case "full":
		for _, x := range append(site.Beside(w.To), w.To) {
			if err := os.RemoveAll(x); err != nil {
				return took{}, err
			}
		}
	case "preview":
		w.Kind = "saves"
	case "one entry", "another entry":
		if err := touch(w.From, round); err != nil {
			return took{}, err
		}
	}
	if err := syncDisk(dir); err != nil {
		return took{}, err
	}
	return by(ctx, w)
}

// touch adds a sentence to the first entry of the first tank.
func touch(journal string, round int) error {
	found, err := filepath.Glob(filepath.Join(journal, "tanks", tankID(0), "2*.md"))
	if err != nil || len(found) == 0 {
		return fmt.Errorf("no entry to change: %v", err)
	}
	f, err := os.OpenFile(found[0], os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = fmt.Fprintf(f, "\nLooked at again, for time %d.\n", round+1)
	return err
}

func (r *measured) sum(all map[string][]took) {
	var served []float64
	for _, t := range all["preview"] {
		served = append(served, t.Saves...)
	}
	r.Saves = waitsOf(served)
	for kind, ts := range all {
		s := spent{Phases: map[string]span{}}
		var seconds, ratios, cpu []float64
		phases := map[string][]float64{}
		for i, t := range ts {
			seconds, ratios = append(seconds, t.Seconds), append(ratios, t.Seconds/all["floor"][i].Seconds)
			cpu = append(cpu, t.CPU)
			s.Peak = max(s.Peak, t.Peak)
			for p, x := range t.Phases {
				phases[p] = append(phases[p], x)
			}
		}
		for p, x := range phases {
			s.Phases[p] = spanOf(x)
		}
		s.Seconds, s.CPU = spanOf(seconds), spanOf(cpu)
		r.Work[kind], r.Ratios[kind] = s, spanOf(ratios)
	}
}

func (r measured) print(w io.Writer) {
	fmt.Fprintf(w, "%d entries, %d species, %d parcels, %d tanks: %d files, %.1f MB; %d rounds\n\n", r.Journal.Entries, r.Journal.Species, r.Journal.Parcels, r.Journal.Tanks, r.Files, float64(r.Bytes)/1e6, r.Rounds)
	fmt.Fprintf(w, "| work | seconds: median (min–max) | × floor: median (min–max) | processor seconds | peak memory |\n|---|---|---|---|---|\n")
	for _, k := range kinds {
		if k == "preview" {
			continue // its time is that of its saves
		}
		s, q := r.Work[k].Seconds, r.Ratios[k]
		fmt.Fprintf(w, "| %s | %.2f (%.2f–%.2f) | %.2f (%.2f–%.2f) | %.1f | %d MB |\n", k, s.Median, s.Min, s.Max, q.Median, q.Min, q.Max, r.Work[k].CPU.Median, r.Work[k].Peak>>20)
	}
	p := r.Work["full"].Phases
	fmt.Fprintf(w, "\nfull: read %.2f s, make %.2f s, write %.2f s (medians)\n", p["read"].Median, p["make"].Median, p["write"].Median)
	fmt.Fprintf(w, "preview: a save is served after %.0f ms (median of %d; %.0f–%.0f, 95 %% within %.0f ms); peak memory %d MB\n",
		1000*r.Saves.Median, r.Saves.N, 1000*r.Saves.Min, 1000*r.Saves.Max, 1000*r.Saves.P95, r.Work["preview"].Peak>>20)
	if r.Outside > 0 {
		fmt.Fprintf(w, "cmark over the same bodies, one process: %.2f s\n", r.Outside)
	}
}
