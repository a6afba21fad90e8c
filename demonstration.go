// Package content holds the demonstration journal, for those who have the program alone.
package content

import (
	"embed"
	"io/fs"
)

//go:embed content/journal.yaml content/friends content/pages content/photos content/plants content/sent content/tanks
var files embed.FS

// Demonstration is the demonstration journal.
func Demonstration() fs.FS {
	sub, err := fs.Sub(files, "content")
	if err != nil { // only a name that is no valid path fails
		panic(err)
	}
	return sub
}
