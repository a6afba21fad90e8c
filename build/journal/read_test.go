package journal

import (
	"cmp"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	diffcmp "github.com/google/go-cmp/cmp"

	"slipleaf/build/almanac"
	"slipleaf/build/quantity"
)

func mustAlmanac(t testing.TB) *almanac.Almanac {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

var june = quantity.Date{Year: 2026, Month: 6, Day: 30}

func TestAGoodJournalHasNoComplaints(t *testing.T) {
	j, complaints, err := Read(t.Context(), os.DirFS("../../testdata/journals/good"), mustAlmanac(t), Options{On: june})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range complaints {
		t.Error(c)
	}
	if len(j.Tanks) != 1 || len(j.Tanks[0].Entries) != 2 {
		t.Errorf("%d tanks", len(j.Tanks))
	}
}

var want = regexp.MustCompile(`(?:(\d+):)?(\d+) "([a-z-]+)"`)

// wanted collects the complaints that stand beside the mistakes of a file: # want COLUMN "rule", or LINE:COLUMN "rule".
func wanted(file string, data []byte) []string {
	var out []string
	for i, text := range strings.Split(string(data), "\n") {
		_, wants, found := strings.Cut(text, "# want ")
		if !found {
			continue
		}
		for _, m := range want.FindAllStringSubmatch(wants, -1) {
			out = append(out, fmt.Sprintf("%s:%s:%s: %s", file, cmp.Or(m[1], fmt.Sprint(i+1)), m[2], m[3]))
		}
	}
	return out
}

func TestEveryMistakeIsFoundWhereItStands(t *testing.T) {
	fsys := os.DirFS("../../testdata/journals/thirty-mistakes")
	expected := []string{ // of files that cannot carry a comment
		"tanks/trough/2026-05-06.md:1:1: no-head",
		"tanks/trough/2026-02-30.md:1:1: bad-name",
		"tanks/trough/monday.md:1:1: bad-name",
		"friends/marsh.json:2:11: friend-file",
	}
	err := fs.WalkDir(fsys, ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := fs.ReadFile(fsys, path)
		expected = append(expected, wanted(path, data)...)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(expected) < 30 {
		t.Fatalf("only %d mistakes", len(expected))
	}
	_, complaints, err := Read(t.Context(), fsys, mustAlmanac(t), Options{On: june})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range complaints {
		got = append(got, fmt.Sprintf("%s:%d:%d: %s", c.File, c.Line, c.Column, c.Rule))
		t.Log(c)
	}
	slices.Sort(expected)
	slices.Sort(got)
	if diff := diffcmp.Diff(expected, got); diff != "" {
		t.Error(diff)
	}
}
