package site

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/sys/unix"

	"slipleaf/build/theme"
)

// A disk of its own can't be exchanged for another folder: that is said, with what to name instead, each time, and nothing
// is left in it. A folder within it can.
func TestADiskIsNoTarget(t *testing.T) {
	to := filepath.Join(t.TempDir(), "stick")
	if err := os.Mkdir(to, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := unix.Mount("none", to, "tmpfs", 0, ""); err != nil {
		t.Skip("needs leave to mount: ", err)
	}
	t.Cleanup(func() {
		if err := unix.Unmount(to, 0); err != nil {
			t.Error(err)
		}
	})
	files := []theme.File{{Path: "index.html", Data: []byte("x")}}
	within := filepath.Join(to, "site")
	for range 2 {
		if _, err := Place(t.Context(), to, files); err == nil || !strings.Contains(err.Error(), "--to "+within) {
			t.Errorf("%v", err)
		}
		if left, err := os.ReadDir(to); err != nil || len(left) > 0 {
			t.Errorf("%v is left in it; %v", left, err)
		}
	}
	for _, text := range []string{"x", "y"} {
		files[0].Data = []byte(text)
		if _, err := Place(t.Context(), within, files); err != nil {
			t.Error(err)
		}
		if got, err := os.ReadFile(filepath.Join(within, "index.html")); err != nil || string(got) != text {
			t.Errorf("%q, %v", got, err)
		}
	}
}
