// Package build_test holds what is true of the compiler as a whole.
package build_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// mayImport is the one-way flow: what each package may import of ours. A package that is not listed fails, and so
// does a permission that is not used.
var mayImport = table(`
spelling:
fingerprint:
quantity: spelling
format: quantity
chart:
curve:
leaders:
livestock:
dice:
draw: curve dice leaders livestock
lexer:
prose: spelling lexer
reckon: spelling quantity
dynamics: reckon
topic: spelling quantity reckon dynamics
almanac: quantity
names: spelling almanac
block: spelling quantity usual journal
head: spelling
doubt: quantity
usual: quantity
listing: spelling quantity usual
journal: spelling fingerprint quantity format almanac names head doubt usual listing
console: spelling journal
record: quantity usual block journal
ledger: quantity reckon journal
growth: fingerprint quantity reckon dynamics almanac journal ledger
facts: fingerprint quantity almanac journal ledger growth
sheet: quantity reckon almanac journal ledger livestock
feed: quantity almanac listing journal ledger schema
plot: quantity chart draw dynamics almanac journal growth facts words theme
sharing: quantity chart reckon almanac journal ledger facts feed theme words
review: quantity reckon chart dynamics growth plot words theme
keys: quantity format words
tankform: quantity almanac journal compose words
suit: quantity draw almanac block journal ledger facts sheet feed words theme
page: spelling fingerprint quantity chart draw prose reckon almanac block journal ledger livestock growth facts sheet feed words papers theme plot sharing suit picture schema review keys tankform
words: quantity almanac journal ledger reckon
papers: quantity almanac chart draw journal livestock sheet words theme
theme: spelling fingerprint words
picture: curve draw
schema: quantity format
disk:
site: disk fingerprint quantity prose almanac journal growth facts page theme words picture listing
gather: spelling journal feed disk
desk: spelling quantity format listing almanac block message journal page words papers compose change growth picture tankform
preview: spelling fingerprint quantity journal facts page words theme site desk listing
change: disk
compose: quantity format journal
interview: quantity journal compose
message: spelling block almanac ledger
`)

// table reads lines of a package and what it may import.
func table(text string) map[string]string {
	out := map[string]string{}
	for line := range strings.Lines(strings.TrimSpace(text)) {
		pkg, imports, _ := strings.Cut(line, ":")
		out[pkg] = strings.TrimSpace(imports)
	}
	return out
}

// impure are the packages that touch disk, network or clock; all others are pure.
var impure = []string{"disk", "site", "preview", "gather", "change", "desk"}

// seeded are the packages that may draw numbers, from a generator with a seed.
var seeded = []string{"dynamics", "growth", "reckon"}

// refused is what a pure package does not import.
var refused = []string{"os", "net", "net/http", "os/exec", "math/rand", "log"}

func TestFlowIsOneWay(t *testing.T) {
	dirs, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range dirs {
		if !d.IsDir() || d.Name() == "testdata" {
			continue
		}
		allowed, listed := mayImport[d.Name()]
		if !listed {
			t.Errorf("package %s has no place in the flow: add it to mayImport", d.Name())
			continue
		}
		used := map[string]bool{}
		for file, imports := range importsOf(t, d.Name()) {
			for _, imp := range imports {
				for _, fault := range faultsOf(d.Name(), file, imp, strings.Fields(allowed)) {
					t.Error(fault)
				}
				if !strings.HasSuffix(file, "_test.go") {
					used[path.Base(imp)] = used[path.Base(imp)] || strings.HasPrefix(imp, "slipleaf/build/")
				}
			}
		}
		for _, p := range strings.Fields(allowed) {
			if !used[p] {
				t.Errorf("%s may import %s and does not: take the permission away", d.Name(), p)
			}
		}
	}
	for name := range mayImport {
		if len(goFiles(t, name)) == 0 {
			t.Errorf("the flow has a package %s, and build does not", name)
		}
	}
}

// faultsOf tells what is wrong with one import of a file of a package.
func faultsOf(pkg, file, imp string, allowed []string) []string {
	ours, isOurs := strings.CutPrefix(imp, "slipleaf/")
	test := strings.HasSuffix(file, "_test.go")
	switch {
	case isOurs && strings.HasPrefix(ours, "build/") && path.Base(ours) != pkg && !slices.Contains(allowed, path.Base(ours)) && !test:
		return []string{file + " imports " + path.Base(ours) + ": data flows one way, and it is not before " + pkg}
	case isOurs && strings.HasPrefix(ours, "cmd/"):
		return []string{file + " imports a command"}
	case isOurs && ours == "themes" && pkg != "site" && pkg != "preview" && !test:
		return []string{file + " imports the themes: a page gets its theme handed in"}
	case !test && strings.HasPrefix(imp, "math/rand") && slices.Contains(seeded, pkg):
		return unseeded(file)
	case !test && !slices.Contains(impure, pkg) && isRefused(imp):
		return []string{file + " imports " + imp + ": only " + strings.Join(impure, ", ") + " touch disk, network and clock"}
	}
	return nil
}

// ofSeed are the names of math/rand/v2 that lead to a generator with a seed; all others draw from the program's own.
var ofSeed = regexp.MustCompile(`\brand\.(New|NewPCG|NewChaCha8|Rand|PCG|ChaCha8|Source)\b`)

// unseeded lists what a file draws without a seed.
func unseeded(file string) (out []string) {
	text, err := os.ReadFile(file)
	if err != nil {
		return []string{err.Error()}
	}
	for _, use := range regexp.MustCompile(`\brand\.\w+`).FindAllString(string(text), -1) {
		if !ofSeed.MatchString(use) {
			out = append(out, file+" draws without a seed: "+use)
		}
	}
	return out
}

// isRefused reports whether an import, or a later version of one, is of what a pure package does without.
func isRefused(imp string) bool {
	return slices.ContainsFunc(refused, func(r string) bool {
		version, later := strings.CutPrefix(imp, r+"/v")
		_, err := strconv.Atoi(version)
		return imp == r || later && err == nil
	})
}

// The test of the flow must be able to fail.
func TestFlowFindsWhatItIsFor(t *testing.T) {
	for _, c := range []struct {
		pkg, file, imp, allowed string
		bad                     bool
	}{
		{"journal", "journal/a.go", "math/rand/v2", "quantity", true}, {"journal", "journal/a.go", "math/rand", "quantity", true},
		{"growth", "growth/space.go", "math/rand/v2", "quantity", false},
		{"journal", "journal/a_test.go", "math/rand/v2", "quantity", false}, {"reckon", "reckon/a.go", "math/big", "quantity", false},
		{"reckon", "reckon/a.go", "os", "quantity", true}, {"site", "site/a.go", "os", "", false}, {"reckon", "reckon/a.go", "slipleaf/build/page", "quantity", true},
		{"reckon", "reckon/a.go", "slipleaf/build/quantity", "quantity", false}, {"page", "page/a.go", "slipleaf/themes", "", true},
		{"page", "page/a.go", "slipleaf/cmd/slipleaf", "", true}, {"page", "page/a.go", "net/http", "", true}, {"page", "page/a.go", "net/url", "", false},
	} {
		if got := faultsOf(c.pkg, c.file, c.imp, strings.Fields(c.allowed)); (len(got) > 0) != c.bad {
			t.Errorf("%s imports %s: %v", c.file, c.imp, got)
		}
	}
}

func TestPurePackagesReadNoClock(t *testing.T) {
	for pkg := range mayImport {
		if slices.Contains(impure, pkg) {
			continue
		}
		for _, file := range goFiles(t, pkg) {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, call := range []string{"time.Now(", "time.Since(", "time.After("} {
				if !strings.HasSuffix(file, "_test.go") && strings.Contains(string(b), call) {
					t.Errorf("%s calls %s): a pure package knows no clock", file, call)
				}
			}
		}
	}
}

// importsOf lists the imports of each file of a package, tests included.
func importsOf(t *testing.T, pkg string) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	for _, file := range goFiles(t, pkg) {
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			p, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			out[file] = append(out[file], p)
		}
	}
	return out
}

func goFiles(t *testing.T, pkg string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(pkg, func(p string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(p, ".go") {
			out = append(out, p)
		}
		return err
	})
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	return out
}
