package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// Whatever a publish leaves beside the site, under the name it has, is planted as a link to somebody else's file or folder
// before: nothing of these is written to, whether the publish refuses or goes its way.
func TestAPublishWritesThroughNoLinkBesideTheSite(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	publish := func(top, on string) {
		_, _ = exec.Command(bin, "publish", dir, "--to", filepath.Join(top, "www"), "--on", on).CombinedOutput() // refusing is right too
	}
	first := t.TempDir()
	publish(first, "2026-06-02")
	publish(first, "2026-06-03") // a spare, if one is kept
	names := map[string]bool{".www.new": true, ".www.next": true, ".www.old": true, ".www.spare": true, ".www.lock": true, ".www.journal": true}
	left, err := os.ReadDir(first)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range left {
		if l.Name() != "www" {
			names[l.Name()] = true
		}
	}
	if len(left) < 2 {
		t.Fatal("a publish leaves nothing beside the site: the test shows little")
	}
	targets := []string{"file", "folder", "folder/own", "nothing"}
	for name := range names {
		for _, to := range targets {
			t.Run(name+" to "+to, func(t *testing.T) {
				top, other := t.TempDir(), t.TempDir()
				if err := os.Mkdir(filepath.Join(other, "folder"), 0o755); err != nil {
					t.Fatal(err)
				}
				for _, f := range []string{"file", "folder/own"} {
					if err := os.WriteFile(filepath.Join(other, f), []byte("precious"), 0o644); err != nil {
						t.Fatal(err)
					}
				}
				if err := os.Symlink(filepath.Join(other, to), filepath.Join(top, name)); err != nil {
					t.Skip(err)
				}
				before := tree(t, other)
				publish(top, "2026-06-02")
				publish(top, "2026-06-03")
				same(t, before, tree(t, other))
			})
		}
	}
}
