// Package content holds the demonstration journal, for those who have the program alone.
package content

import (
	"embed"
	"io/fs"
)

//go:embed journal.yaml friends pages photos plants sent tanks
var files embed.FS

// Demonstration is the demonstration journal.
func Demonstration() fs.FS { return files }
