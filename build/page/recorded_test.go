package page_test

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"io/fs"
	"maps"
	"math"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/facts"
	"slipleaf/build/fingerprint"
	"slipleaf/build/page"
)

// made is an output with what it was made from.
type made struct {
	data []byte
	read []facts.Key
	from fingerprint.Sum
}

func makeAll(t *testing.T, b *page.Site) map[string]made {
	t.Helper()
	out := map[string]made{}
	for _, o := range b.Outputs() {
		if strings.HasSuffix(o.Addr, ".png") {
			continue // drawing them is slow
		}
		data, read, err := o.Record()
		if err != nil {
			t.Fatalf("%s: %v", o.Addr, err)
		}
		out[o.Addr] = made{data, read, b.All.Sum(read)}
	}
	return out
}

// Whatever file of the journal changes, an output whose recorded facts stay the same stays the same: what a page reads
// is what was recorded. Each file in turn gets more text, another head, or goes.
func TestWhatIsNotRecordedChangesNothing(t *testing.T) {
	t.Parallel()
	type held struct{ dir, on string }
	journals, least := []held{{"../../testdata/journals/good", "2026-06-20"}, {"../../testdata/journals/good", "2026-04-20"}}, 20 // some is dated ahead of the other day
	if !testing.Short() {
		journals, least = append(journals, held{"testdata/bench", "2026-04-25"}), 50
	}
	tried, stayed, changed := 0, 0, 0
	for _, k := range journals {
		whole := copyOf(t, k.dir)
		before, err := bookOf(whole, day(t, k.on))
		if err != nil {
			t.Fatal(err)
		}
		old := makeAll(t, before)
		for _, name := range slices.Sorted(maps.Keys(whole)) {
			for _, edit := range []func([]byte) []byte{longer, counted, gone} {
				after, err := bookOf(edited(whole, name, edit), day(t, k.on))
				if err != nil {
					continue // no site is made of a journal with faults
				}
				tried++
				for addr, now := range makeAll(t, after) {
					was, known := old[addr]
					switch {
					case !known:
					case after.All.Sum(was.read) != was.from:
						changed++
					case !bytes.Equal(was.data, now.data):
						t.Errorf("%s: %s comes out differently, though all that it was recorded to read is the same", name, addr)
					default:
						stayed++
					}
				}
			}
		}
	}
	if tried < least || stayed < 20*least || changed < 20*least {
		t.Errorf("%d edits, %d outputs that stayed and %d with other facts: too few to tell", tried, stayed, changed)
	}
}

// Whatever the day, an output whose recorded facts stay the same stays the same: what a page reads of the day is recorded too.
// Some days lie before entries, parcels and reports of the journal, others far behind them all, in both directions.
func TestADayThatIsNotRecordedChangesNothing(t *testing.T) {
	t.Parallel()
	days := map[string][]string{"../../testdata/journals/good": {"2026-03-30", "2026-05-31", "2026-06-01", "2026-06-20", "2026-08-31", "2027-01-02"}}
	if !testing.Short() {
		days["testdata/bench"] = []string{"2025-12-31", "2026-01-01", "2026-04-24", "2026-04-25", "2026-05-02", "2026-07-01", "2030-01-01"}
	}
	stayed, changed := 0, 0
	for dir, on := range days {
		whole := copyOf(t, dir)
		sites, all := make([]*page.Site, len(on)), make([]map[string]made, len(on))
		for i := range on {
			var err error
			if sites[i], err = bookOf(whole, day(t, on[i])); err != nil {
				t.Fatal(err)
			}
			all[i] = makeAll(t, sites[i])
		}
		for i, from := range on {
			for j, to := range on {
				for addr, was := range all[i] {
					now, there := all[j][addr]
					switch {
					case i == j || !there:
					case sites[j].All.Sum(was.read) != was.from:
						changed++
					case !bytes.Equal(was.data, now.data):
						t.Errorf("%s: %s of %s comes out differently on %s, though all that it was recorded to read is the same", dir, addr, from, to)
					default:
						stayed++
					}
				}
			}
		}
	}
	if stayed < 300 || changed < 300 {
		t.Errorf("%d outputs stayed, %d had other facts: too few to tell", stayed, changed)
	}
}

// A forecast from few counts also rests on how the plant grows in another tank, and so does the page that shows it.
func TestAForecastRestsOnOtherTanks(t *testing.T) {
	t.Parallel()
	on := day(t, "2026-02-16")
	sites, all := make([]*page.Site, 2), make([]map[string]made, 2)
	for i, rate := range []float64{0.02, 0.06} {
		files := fstest.MapFS{"journal.yaml": {Data: []byte("title: Two tanks\ntrim-when: {stems: 60}\n")}}
		count := func(tank string, ago, stems int) {
			files["tanks/"+tank+"/tank.md"] = &fstest.MapFile{Data: []byte("---\nname: " + tank + "\ninside: {length: 60 cm, width: 30 cm, height: 36 cm}\n---\n")}
			files["tanks/"+tank+"/"+on.Add(-ago).String()+".md"] = &fstest.MapFile{Data: fmt.Appendf(nil, "---\ncounts: [{plant: rotala-rotundifolia, stems: %d}]\n---\n\nCounted.\n", stems)}
		}
		for k, stems := range []int{33, 41, 52} {
			count("vat", 14-7*k, stems)
		}
		for k := range 10 {
			count("tray", 70-7*k, int(20*math.Exp(rate*7*float64(k))))
		}
		var err error
		if sites[i], err = bookOf(files, on); err != nil {
			t.Fatal(err)
		}
		all[i] = makeAll(t, sites[i])
	}
	if bytes.Equal(all[0]["/tanks/vat/"].data, all[1]["/tanks/vat/"].data) {
		t.Error("the one tank's page says nothing of the other: the test shows nothing")
	}
	for addr, was := range all[0] {
		if sites[1].All.Sum(was.read) == was.from && !bytes.Equal(was.data, all[1][addr].data) {
			t.Errorf("%s comes out differently, though all that it was recorded to read is the same", addr)
		}
	}
}

// What was written once says the same on every later day: entries, their files, and the papers of parcels long sent.
func TestWhatIsPastIsTheSameOnAnotherDay(t *testing.T) {
	t.Parallel()
	whole := copyOf(t, "../../testdata/journals/good")
	today, err := bookOf(whole, day(t, "2027-01-05"))
	if err != nil {
		t.Fatal(err)
	}
	later, err := bookOf(whole, day(t, "2027-02-17"))
	if err != nil {
		t.Fatal(err)
	}
	now, then := makeAll(t, today), makeAll(t, later)
	counted := map[string]int{}
	for addr, was := range now {
		kind := path.Base(addr)
		switch {
		case strings.HasPrefix(addr, "/sheets/"):
			kind = "paper"
		case strings.HasPrefix(addr, "/tanks/") && strings.Count(addr, "/") == 4:
			kind = "entry"
		case !slices.Contains([]string{"parameters.csv", "growth.csv", "diary", "feed.atom", "feed.json", "sitemap.xml"}, kind):
			continue
		}
		counted[kind]++
		if later.All.Sum(was.read) != was.from {
			t.Errorf("%s is made again on another day", addr)
		}
		if !bytes.Equal(was.data, then[addr].data) {
			t.Errorf("%s says something else on another day", addr)
		}
	}
	for _, kind := range []string{"paper", "entry", "parameters.csv", "growth.csv", "diary", "feed.atom", "feed.json", "sitemap.xml"} {
		if counted[kind] == 0 {
			t.Errorf("there is no %s: %v", kind, counted)
		}
	}
}

// A page says of which day it is where it says something else on another, and nowhere else.
func TestTheFootNamesTheDayWhereItMatters(t *testing.T) {
	t.Parallel()
	b, err := bookOf(copyOf(t, "../../testdata/journals/good"), day(t, "2026-06-20"))
	if err != nil {
		t.Fatal(err)
	}
	named, unnamed := 0, 0
	for addr, m := range makeAll(t, b) {
		_, foot, has := bytes.Cut(m.data, []byte(`<footer class="foot">`))
		if !has {
			continue
		}
		rests := slices.Contains(m.read, facts.Key{Kind: facts.Day})
		if says := bytes.Contains(foot, []byte("Built for 20 June 2026.")); says != rests {
			t.Errorf("%s rests on the day: %v, says so: %v", addr, rests, says)
		}
		if rests {
			named++
		} else {
			unnamed++
		}
	}
	if named == 0 || unnamed == 0 {
		t.Errorf("%d pages name the day, %d do not", named, unnamed)
	}
}

// edited are the files of a journal with one that is edited, or gone where nothing is left of it.
func edited(whole fstest.MapFS, name string, edit func([]byte) []byte) fstest.MapFS {
	files := maps.Clone(whole)
	files[name] = &fstest.MapFile{Data: edit(whole[name].Data)}
	if files[name].Data == nil {
		delete(files, name)
	}
	return files
}

func longer(text []byte) []byte { return append(bytes.Clone(text), "\nOne sentence more.\n"...) }

// counted changes a figure and a title in the head.
func counted(text []byte) []byte {
	text = bytes.Replace(text, []byte("stems: "), []byte("stems: 1"), 1)
	text = bytes.Replace(text, []byte("gh: "), []byte("gh: 1"), 1)
	return bytes.Replace(text, []byte("title: "), []byte("title: The "), 1)
}

func gone([]byte) []byte { return nil }

func copyOf(t *testing.T, dir string) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	root := os.DirFS(dir)
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, p)
		out[p] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// lentOnly are fields that a page could reach without its reading being recorded, and the files that may use them for what
// is no page.
var lentOnly = map[string][]string{
	"Source.Body":   nil,            // a text is lent by Reader.Text
	"Tank.Entries":  {"outputs.go"}, // the tanks of the outline have none; they are lent by Reader
	"LotLoss.Entry": nil,            // an entry is lent by Reader
	"Site.All":      {"outputs.go", "site.go", "papers.go"},
	"Linked.On":     nil, // the day is lent by Reader
	"Ledger.On":     nil,
	"Facts.On":      nil,
	"Today.On":      nil,
}

// The compiler keeps a page from whatever package facts does not lend. This keeps it from the few fields by which what is
// lent leads to more.
func TestPagesReadOnlyWhatIsLent(t *testing.T) {
	uses := 0
	fset := token.NewFileSet()
	exports := importer.ForCompiler(fset, "gc", exported(t))
	for _, pkg := range []string{"page", "papers", "plot", "words", "sharing", "suit", "review", "tankform"} {
		info := &types.Info{Selections: map[*ast.SelectorExpr]*types.Selection{}}
		if _, err := (&types.Config{Importer: exports}).Check(pkg, fset, parsed(t, fset, pkg), info); err != nil {
			t.Fatal(err)
		}
		for sel, field := range info.Selections {
			allowed, watched := lentOnly[fieldName(field)]
			if !watched {
				continue
			}
			uses++
			if at := fset.Position(sel.Pos()); !slices.Contains(allowed, filepath.Base(at.Filename)) {
				t.Errorf("%s: %s is read past what is recorded", at, fieldName(field))
			}
		}
	}
	if uses == 0 {
		t.Error("not even the permitted uses were found: the search is broken")
	}
}

// parsed are the files of a package beside this one, without its tests.
func parsed(t *testing.T, fset *token.FileSet, pkg string) []*ast.File {
	t.Helper()
	var out []*ast.File
	for _, name := range sources(t) {
		if filepath.Base(filepath.Dir(name)) != pkg {
			continue
		}
		f, err := parser.ParseFile(fset, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, f)
	}
	return out
}

// exported finds what the compiler noted of every package that this one imports.
func exported(t *testing.T) importer.Lookup {
	t.Helper()
	list, err := exec.CommandContext(t.Context(), "go", "list", "-export", "-deps", "-f", "{{.ImportPath}} {{.Export}}", ".").Output()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for line := range strings.Lines(string(list)) {
		path, file, _ := strings.Cut(strings.TrimSpace(line), " ")
		files[path] = file
	}
	return func(path string) (io.ReadCloser, error) { return os.Open(files[path]) }
}

// fieldName names a field with the type that has it, through whatever embeds that; "" for a method.
func fieldName(s *types.Selection) string {
	if s.Kind() != types.FieldVal {
		return ""
	}
	t := s.Recv()
	for n, i := range s.Index() {
		if p, ok := t.Underlying().(*types.Pointer); ok {
			t = p.Elem()
		}
		field := t.Underlying().(*types.Struct).Field(i)
		if n == len(s.Index())-1 {
			if named, ok := types.Unalias(t).(*types.Named); ok {
				return named.Obj().Name() + "." + field.Name()
			}
			return field.Name()
		}
		t = field.Type()
	}
	return ""
}

// An output is found by its address as it stands in the list of all, and none at another address.
func TestAnOutputIsFoundByItsAddress(t *testing.T) {
	t.Parallel()
	for dir, on := range map[string]string{"../../testdata/journals/good": "2026-06-20", "testdata/bench": "2026-04-25"} {
		whole := copyOf(t, dir)
		if tank := whole["tanks/nano/tank.md"]; tank != nil {
			tank.Data = bytes.Replace(tank.Data, []byte("---\n"), []byte("---\nformerly: [sill, kitchen]\n"), 1)
		}
		b, err := bookOf(whole, day(t, on))
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range b.Outputs() {
			if got, ok := b.Output(o.Addr); !ok || got.Addr != o.Addr {
				t.Errorf("%s is not found", o.Addr)
			}
			for _, other := range []string{strings.TrimSuffix(o.Addr, "/") + "x", o.Addr + "x/", strings.TrimSuffix(o.Addr, "/")} {
				if got, ok := b.Output(other); other != o.Addr && ok {
					t.Errorf("%s gives %s", other, got.Addr)
				}
			}
		}
	}
}
