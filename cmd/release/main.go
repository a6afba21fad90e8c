// Command release makes what people download: an archive for each system with the program, its licence and how to open it,
// a bill of materials, checksums, and a page with links to them all. The same source and the same Go give the same bytes.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
)

func main() {
	to := flag.String("to", "dist", "the folder for the archives; it is made")
	version := flag.String("version", "devel", "the version in the names")
	only := flag.String("only", "", "one system alone, as in linux/arm64")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	err := release{version: *version, to: *to, only: *only}.make(ctx)
	stop()
	if err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}
