package journal

import (
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/tools/txtar"

	"slipleaf/build/head"
)

var update = flag.Bool("update", false, "rewrite golden files")

// journalOf makes a journal of an archive: its files over a small sound journal. A name that begins with - takes a file
// away, with @ makes a link; \xe9 stands for that byte.
func journalOf(a *txtar.Archive) fstest.MapFS {
	fsys := fstest.MapFS{
		"journal.yaml":         {Data: []byte("title: Bench\nregion: GB\n")},
		"tanks/trough/tank.md": {Data: []byte("---\nname: The trough\nbegan: 2026-01-10\n---\n")},
	}
	for _, f := range a.Files {
		switch f.Name[0] {
		case '-':
			delete(fsys, f.Name[1:])
		case '@':
			fsys[f.Name[1:]] = &fstest.MapFile{Data: f.Data, Mode: fs.ModeSymlink}
		default:
			fsys[f.Name] = &fstest.MapFile{Data: []byte(strings.ReplaceAll(string(f.Data), `\xe9`, "\xe9"))}
		}
	}
	return fsys
}

// What a hint shows as a sample of a mapping is one that the reader takes.
func TestSamplesAreTaken(t *testing.T) {
	for name, b := range bindings {
		d := &decoder{limits: Limits{}.orDefault()}
		n, faults := head.Parse("a: "+b.Sample(), 1)
		at := reflect.New(b.typ)
		if len(faults) > 0 || !d.mapping(&n.Kids[0], b, at.Elem()) {
			t.Errorf("%s: %s: %v %v", name, b.Sample(), faults, d.out)
			continue
		}
		if b.check != nil {
			b.check(d, &n.Kids[0], at.Interface())
		}
		if len(d.out) > 0 {
			t.Errorf("%s: %s: %v", name, b.Sample(), d.out)
		}
	}
}

// Every rule has an example in testdata/rules: a journal with all that is said of it at its head.
func TestEveryRuleHasAnExample(t *testing.T) {
	names := mustAlmanac(t)
	used := map[string]bool{}
	for _, rule := range Rules() {
		t.Run(rule.Name, func(t *testing.T) {
			path := filepath.Join("testdata", "rules", rule.Name+".txtar")
			used[path] = true
			a, err := txtar.ParseFile(path)
			if err != nil {
				t.Fatal(err)
			}
			_, complaints, err := Read(t.Context(), journalOf(a), names, Options{On: june, Zone: func(name string) bool { return name == "Europe/London" }})
			if err != nil {
				t.Fatal(err)
			}
			var b strings.Builder
			found := false
			for _, c := range complaints {
				b.WriteString(c.String() + " [" + c.Rule + "]\n")
				if c.Hint == "" {
					t.Errorf("nothing says what to do about: %s", c)
				}
				b.WriteString("  hint: " + c.Hint + "\n")
				found = found || c.Rule == rule.Name
			}
			if !found {
				t.Errorf("the example does not show the rule:\n%s", b.String())
			}
			if *update {
				a.Comment = []byte(b.String())
				if err := os.WriteFile(path, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if string(a.Comment) != b.String() {
				t.Errorf("got\n%s\nwant\n%s", b.String(), a.Comment)
			}
		})
	}
	all, err := filepath.Glob("testdata/rules/*")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range all {
		if !used[path] {
			t.Errorf("%s is of no rule", path)
		}
	}
}

func TestRulesAreDescribed(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		if r.Name == "" || r.About == "" || r.Cure == "" || seen[r.Name] {
			t.Errorf("%+v", r)
		}
		seen[r.Name] = true
	}
}
