// Command gauge generates a large journal and times its build against a baseline: the least work
// that any build of as many files of as many bytes must do on the same machine.
package main

import (
	"context"
	"encoding/json"
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

// run reads the flags and either does one piece of work, as a child, or measures them all.
func run(ctx context.Context, args []string) error {
	set := flag.NewFlagSet("gauge", flag.ContinueOnError)
	var s size
	set.Uint64Var(&s.Seed, "seed", 1, "seed of the journal")
	set.IntVar(&s.Entries, "entries", 10_000, "diary entries")
	set.IntVar(&s.Species, "species", 200, "plants")
	set.IntVar(&s.Parcels, "parcels", 2000, "parcels sent")
	set.IntVar(&s.Tanks, "tanks", 12, "tanks")
	rounds := set.Int("rounds", 5, "rounds of all kinds of work, one after the other")
	asJSON := set.Bool("json", false, "print what was measured as JSON")
	keep := set.String("write", "", "write the journal to this folder and measure nothing")
	child := set.String("child", "", "do this piece of work, described as JSON, and tell what it took")
	photos := set.Int("photos", 0, "measure publishing this many photos of 12 megapixels instead")
	cpu := set.String("profile", "", "build -write's journal once and write a profile of the processor to this file")
	if err := set.Parse(args); err != nil {
		return err
	}
	switch {
	case *photos > 0:
		d, err := gaugePhotos(ctx, *photos, s.Seed, ownChild)
		if err != nil {
			return err
		}
		return d.print(os.Stdout, *asJSON)
	case *cpu != "":
		return profile(ctx, *keep, *cpu)
	case *keep != "":
		return writeJournal(*keep, s)
	case *child != "":
		return asChild(ctx, *child)
	}
	r, err := measure(ctx, s, *rounds, ownChild)
	if err != nil {
		return err
	}
	if *asJSON {
		e := json.NewEncoder(os.Stdout)
		e.SetIndent("", "  ")
		return e.Encode(r)
	}
	r.print(os.Stdout)
	return nil
}
