// Command check installs what the checks need, runs them all and prints one summary.
package main

import (
	"context"
	"flag"
	"os"
	"os/signal"
)

func main() {
	only := flag.String("only", "", "run only the steps whose name holds this word")
	long := flag.Bool("long", false, "run the long checks too: simulations, faults, ten minutes of fuzzing")
	update := flag.Bool("update", false, "make the stored pictures anew (with -only pictures or -only readme)")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	c := checker{out: os.Stdout, ci: os.Getenv("CI") == "true", long: *long, only: *only, update: *update}
	ok := c.run(ctx)
	stop()
	if !ok {
		os.Exit(1)
	}
}
