// Command gauge generates a large journal and times its build against a baseline: the least work
// that any build of as many files of as many bytes must do on the same machine. Its tests hold the benchmarks of single
// builds, of saves in the preview and of photos, with the same journal: go test ./cmd/gauge -run XXX -bench . -entries 10000
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
)

func main() {
	if err := run(context.Background(), os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "gauge:", err)
		os.Exit(2)
	}
}

// flags are those of the journal's size.
func (s *size) flags(set *flag.FlagSet) {
	set.Uint64Var(&s.Seed, "seed", 1, "seed of the journal")
	set.IntVar(&s.Entries, "entries", s.Entries, "diary entries")
	set.IntVar(&s.Species, "species", s.Species, "plants")
	set.IntVar(&s.Parcels, "parcels", s.Parcels, "parcels sent")
	set.IntVar(&s.Tanks, "tanks", s.Tanks, "tanks")
}

// run reads the flags and either does one piece of work, as a child, or measures them all.
func run(ctx context.Context, args []string) error {
	set := flag.NewFlagSet("gauge", flag.ContinueOnError)
	s := size{Entries: 10_000, Species: 200, Parcels: 2000, Tanks: 12}
	s.flags(set)
	rounds := set.Int("rounds", 5, "rounds of all kinds of work, one after the other")
	keep := set.String("write", "", "write the journal to this folder and measure nothing")
	child := set.String("child", "", "do this piece of work, described as JSON, and tell what it took")
	if err := set.Parse(args); err != nil {
		return err
	}
	switch {
	case *keep != "":
		return writeJournal(*keep, s)
	case *child != "":
		return asChild(ctx, *child)
	}
	r, err := measure(ctx, s, *rounds, ownChild)
	if err != nil {
		return err
	}
	r.print(os.Stdout)
	return nil
}
