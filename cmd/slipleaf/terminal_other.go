//go:build !windows

package main

import (
	"os"
	"path/filepath"
	"runtime"
)

// endKeys end what is typed.
const endKeys = "Ctrl-D on a line of its own"

// ownTerminal reports whether a terminal was opened for this program alone. A double click on macOS starts it in a new
// terminal by its whole path, from the home folder (from memory).
func ownTerminal() bool {
	if runtime.GOOS != "darwin" || !filepath.IsAbs(os.Args[0]) {
		return false
	}
	here, err := os.Getwd()
	home, err2 := os.UserHomeDir()
	return err == nil && err2 == nil && here == home
}
