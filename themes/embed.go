// Package themes holds the looks that come with the program.
package themes

import (
	"embed"
	"io/fs"
)

//go:embed bench
var looks embed.FS

// Bench is the default theme's folder.
func Bench() fs.FS {
	sub, err := fs.Sub(looks, "bench")
	if err != nil { // only a name that is no valid path fails
		panic(err)
	}
	return sub
}
