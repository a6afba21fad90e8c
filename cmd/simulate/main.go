// Command simulate writes the measured half of the demonstration journal: counts, trims, losses, parameters, doses and
// codes. Titles, prose, lots and parcels are written by hand and left as they stand. Run on its own output it
// changes nothing.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	root := flag.String("root", ".", "folder that holds content/ and testdata/")
	summary := flag.Bool("summary", false, "print what happens on each day instead of writing")
	flag.Parse()
	if err := run(*root, *summary); err != nil {
		fmt.Fprintln(os.Stderr, "simulate:", err)
		os.Exit(2)
	}
}

// run simulates the world of plan.go and writes what it owns below root.
func run(root string, summary bool) error {
	w := simulate(seed, tanks())
	if summary {
		fmt.Print(w.summary())
		return nil
	}
	files, err := render(os.DirFS(root), w)
	if err != nil {
		return err
	}
	for _, f := range files {
		path := filepath.Join(root, filepath.FromSlash(f.path))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, f.data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
