// Command check installs what the checks need, runs them all and prints one summary.
package main

import (
	"context"
	"flag"
	"os"
	"os/signal"
	"strings"
)

func main() {
	only := flag.String("only", "", "run only the steps whose name holds this word")
	long := flag.Bool("long", false, "run the long tests too: simulations, thousands of kills, ten minutes of each fuzz target")
	span := flag.Duration("fuzz", -1, "how long each fuzz target runs; without it 30 s in all, or 10 min each with -long; 0: not at all")
	target := flag.String("target", "", "fuzz only what has this word in its package or name")
	flag.Parse()
	// As a release is built: what is compiled for the checks serves the release that they make, too.
	_ = os.Setenv("CGO_ENABLED", "0")
	_ = os.Setenv("GOFLAGS", strings.TrimSpace(os.Getenv("GOFLAGS")+" -trimpath"))
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	c := checker{out: os.Stdout, ci: os.Getenv("CI") == "true", long: *long, only: *only, fuzz: *span, target: *target}
	ok := c.run(ctx)
	stop()
	if !ok {
		os.Exit(1)
	}
}
