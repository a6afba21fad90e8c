package journal

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/sync/errgroup"
	"pgregory.net/rapid"
)

// complaintsOf reads a journal of one more file.
func complaintsOf(t *testing.T, file, data string, opts Options) Complaints {
	t.Helper()
	fsys := madeJournal(0, "")
	fsys[file] = &fstest.MapFile{Data: []byte(data)}
	opts.On = june
	_, complaints, err := Read(t.Context(), fsys, mustAlmanac(t), opts)
	if err != nil {
		t.Fatal(err)
	}
	inside(t, fsys, complaints)
	return complaints
}

// rulesOf gives the rules that are complained of in a journal of one more file.
func rulesOf(t *testing.T, file, data string, opts Options) []string {
	t.Helper()
	var out []string
	for _, c := range complaintsOf(t, file, data, opts) {
		out = append(out, fmt.Sprintf("%s:%d:%d %s", c.File, c.Line, c.Column, c.Rule))
	}
	return out
}

// Every limit is said with its number and with what to do.
func TestLimits(t *testing.T) {
	hasNumber := regexp.MustCompile(`[0-9]`)
	deep := strings.Repeat("[", 100) + strings.Repeat("]", 100)
	shown := 0
	for name, row := range map[string]struct {
		file, data string
		opts       Options
		want       string
	}{
		"a file over its limit":       {"pages/a.md", "---\ntitle: A\n---\n" + strings.Repeat("x", 1<<20), Options{}, "[pages/a.md:1:1 limit]"},
		"a file at its limit":         {"pages/a.md", "---\ntitle: A\n---\n", Options{Limits: Limits{FileBytes: 17}}, "[journal.yaml:1:1 limit tanks/shelf/tank.md:1:1 limit tanks/trough/tank.md:1:1 limit]"},
		"a head over its limit":       {"pages/a.md", "---\ntitle: A\n#" + strings.Repeat("x", 64<<10) + "\n---\n", Options{}, "[pages/a.md:1:1 limit]"},
		"a text over its limit":       {"pages/a.md", "---\ntitle: Twelve words\n---\n", Options{Limits: Limits{Text: 6}}, "[pages/a.md:2:8 limit]"},
		"more files than are taken":   {"pages/a.md", "---\ntitle: A\n---\n", Options{Limits: Limits{Files: 6}}, "[tanks/shelf:1:1 limit]"},
		"a head nested too deep":      {"pages/a.md", "---\ntitle: " + deep + "\n---\n", Options{}, "[pages/a.md:2:1 limit]"},
		"photos in too many folders":  {"photos" + strings.Repeat("/a", 20) + "/b.jpg", "", Options{}, "[photos" + strings.Repeat("/a", 17) + ":1:1 limit]"},
		"more mistakes than are told": {"pages/a.md", "---\n" + mistakes(300) + "---\n", Options{}, ""},
		"lists nested by dashes":      {"pages/a.md", "---\ntitle: A\norder:\n  " + strings.Repeat("- ", 100) + "\n---\n", Options{}, "[pages/a.md:4:1 limit]"},
		"a faulty head of too many parts": {"pages/a.md", "---\ntitle: *a\norder: [" + strings.Repeat("a,", 2000) + "]\n---\n", Options{},
			"[pages/a.md:2:1 limit]"},
		"a text of too many empty lines":    {"pages/a.md", "---\ntitle: |\n" + strings.Repeat("\n", 7000) + "  x\n---\n", Options{}, "[pages/a.md:2:1 limit]"},
		"too many dashes between brackets":  {"pages/a.md", "---\norder: [" + strings.Repeat("- ", 7000) + "\n---\n", Options{}, "[pages/a.md:2:1 limit]"},
		"too many signs that begin nothing": {"pages/a.md", "---\ntitle: " + strings.Repeat("@", 7000) + "\n---\n", Options{}, "[pages/a.md:2:1 limit]"},
	} {
		if got := fmt.Sprint(rulesOf(t, row.file, row.data, row.opts)); row.want != "" && got != row.want {
			t.Errorf("%s: %s, want %s", name, got, row.want)
		}
		said := false
		for _, c := range complaintsOf(t, row.file, row.data, row.opts) {
			if c.Rule == "limit" {
				said = true
				if !hasNumber.MatchString(c.Message) || c.Hint == "" || len(c.Message+c.Hint) > 300 {
					t.Errorf("%s: %s; %s", name, c.Message, c.Hint)
				}
			}
		}
		if !said {
			t.Errorf("%s is taken", name)
		}
		shown++
	}
	t.Attr("figure", fmt.Sprintf("limits shown, of a journal: %d", shown))
}

// mistakes is a head of so many unknown keys.
func mistakes(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "a%d: 1\n", i)
	}
	return b.String()
}

// What is no text is refused where it stops being one, and so is what leads out of the journal.
func TestWhatIsNoTextOrLeadsOut(t *testing.T) {
	for name, row := range map[string]struct{ file, data, want string }{
		"NUL in a head":         {"pages/a.md", "---\ntitle: A\x00\n---\n", "[pages/a.md:2:9 encoding]"},
		"NUL in a body":         {"pages/a.md", "---\ntitle: A\n---\nab\x00\n", "[pages/a.md:4:3 encoding]"},
		"NUL in journal.yaml":   {"journal.yaml", "title: A\x00\n", "[journal.yaml:1:9 encoding]"},
		"Latin-1":               {"pages/a.md", "---\ntitle: caf\xe9\n---\n", "[pages/a.md:2:11 encoding]"},
		"half a letter":         {"pages/a.md", "---\ntitle: A\n---\n\xc3\n", "[pages/a.md:4:1 encoding]"},
		"UTF-16":                {"pages/a.md", "\xff\xfe-\x00-\x00-\x00\n\x00", "[pages/a.md:1:4 encoding]"},
		"a surrogate":           {"pages/a.md", "---\ntitle: A\n---\n\xed\xa0\x80\n", "[pages/a.md:4:1 encoding]"},
		"an overlong slash":     {"pages/a.md", "---\ntitle: A\n---\n\xc0\xaf\n", "[pages/a.md:4:1 encoding]"},
		"two byte order marks":  {"pages/a.md", "\ufeff\ufeff---\ntitle: A\n---\n", "[pages/a.md:1:1 no-head]"},
		"a photo from outside":  {"tanks/trough/2026-05-01.md", "---\nphotos: [{file: ../../../etc/passwd, alt: a}]\n---\n", "[tanks/trough/2026-05-01.md:2:17 no-photo]"},
		"an absolute photo":     {"tanks/trough/2026-05-01.md", "---\nphotos: [{file: /etc/passwd, alt: a}]\n---\n", "[tanks/trough/2026-05-01.md:2:17 no-photo]"},
		"a theme from outside":  {"journal.yaml", "title: A\nlook: ../look\n", "[journal.yaml:2:7 bad-text]"},
		"a theme from the root": {"journal.yaml", "title: A\nlook: /etc\n", "[journal.yaml:2:7 bad-text]"},
	} {
		if got := fmt.Sprint(rulesOf(t, row.file, row.data, Options{})); got != row.want {
			t.Errorf("%s: %s, want %s", name, got, row.want)
		}
	}
}

func TestAFileWithNothingButMistakesIsCutShort(t *testing.T) {
	got := rulesOf(t, "pages/a.md", "---\n"+mistakes(3000)+"---\n", Options{})
	if len(got) != maxComplaints+1 {
		t.Errorf("%d complaints", len(got))
	}
}

// What is found when files are joined is cut short too: of one file, and of all, with how many more there are.
func TestFaultsBetweenFilesAreCutShort(t *testing.T) {
	const lots = 1500
	var b strings.Builder
	for i := range lots {
		fmt.Fprintf(&b, "  - {lot: NO-%d, count: 1}\n", i)
	}
	cs := complaintsOf(t, "sent/a.md", "---\nsent: 2026-05-01\nitems:\n"+b.String()+"---\n", Options{})
	unknown, said := 0, ""
	for _, c := range cs {
		switch c.Rule {
		case "unknown-lot":
			if unknown++; c.Line != unknown+3 {
				t.Errorf("the %d. is in line %d", unknown, c.Line)
			}
		case "limit":
			said = c.Message
		}
	}
	if want := fmt.Sprintf("%d more errors in this journal are not listed", lots-maxComplaints); unknown != maxComplaints || said != want {
		t.Errorf("%d, and %q; want %d, and %q", unknown, said, maxComplaints, want)
	}
}

// The first errors and the first other complaints are listed, in whatever order and by however many at once they come, and
// the rest are counted.
func TestAPileKeepsTheFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		counts := [2]int{rapid.IntRange(0, 3*MostListed).Draw(t, "errors"), rapid.IntRange(0, 3*MostListed).Draw(t, "notes")}
		var all Complaints
		for kind, n := range counts {
			for i := range n {
				all = append(all, Complaint{File: "sent/a.md", Line: i + 1, Severity: Severity(2 * kind), Rule: "r"})
			}
		}
		seed := rapid.Uint64().Draw(t, "order")
		rand.New(rand.NewPCG(seed, 0)).Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
		var p Pile
		var g errgroup.Group
		for part := range slices.Chunk(all, len(all)/3+1) {
			g.Go(func() error { p.Add(part...); return nil })
		}
		_ = g.Wait()
		var listed [2]int
		limits := 0
		for _, c := range p.List() {
			if c.Rule == "limit" {
				limits++
				if (c.Severity == Error) != (counts[0] > MostListed) {
					t.Fatalf("%v of %d errors", c, counts[0])
				}
				continue
			}
			kind := min(int(c.Severity), 1)
			if listed[kind]++; c.Line != listed[kind] {
				t.Fatalf("the %d. is of line %d", listed[kind], c.Line)
			}
		}
		want := 0
		if max(counts[0], counts[1]) > MostListed {
			want = 1
		}
		if listed != [2]int{min(counts[0], MostListed), min(counts[1], MostListed)} || limits != want {
			t.Fatalf("of %v, %v are listed, and %d times it is said that there are more", counts, listed, limits)
		}
	})
}

// A byte order mark and line ends of other systems change nothing that is read, and no place.
func TestLineEndsAndByteOrderMarks(t *testing.T) {
	names := mustAlmanac(t)
	for _, dir := range []string{"good", "thirty-mistakes"} {
		plain := os.DirFS("../../testdata/journals/" + dir)
		_, want, err := Read(t.Context(), plain, names, Options{On: june})
		if err != nil {
			t.Fatal(err)
		}
		for _, end := range []string{"\r\n", "\r"} {
			other := fstest.MapFS{}
			err := fs.WalkDir(plain, ".", func(path string, e fs.DirEntry, err error) error {
				if err != nil || e.IsDir() {
					return err
				}
				data, err := fs.ReadFile(plain, path)
				if !strings.HasPrefix(path, "photos/") {
					data = append([]byte("\ufeff"), bytes.ReplaceAll(data, []byte("\n"), []byte(end))...)
				}
				other[path] = &fstest.MapFile{Data: data}
				return err
			})
			if err != nil {
				t.Fatal(err)
			}
			_, got, err := Read(t.Context(), other, names, Options{On: june})
			if err != nil {
				t.Fatal(err)
			}
			if fmt.Sprint(got) != fmt.Sprint(want) {
				t.Errorf("%s with %q reads otherwise:\n%v\n%v", dir, end, got, want)
			}
		}
	}
}

func TestNamesOfFiles(t *testing.T) {
	for file, want := range map[string]string{
		"pages/a-b--c.md": "[]", "pages/-a.md": "[]", "pages/7.md": "[]", "pages/über.md": "[pages/über.md:1:1 bad-name]",
		"pages/com1.md": "[pages/com1.md:1:1 bad-name]", "pages/A.md": "[pages/A.md:1:1 bad-name]", "pages/.md": "[]",
		"pages/.#a.md": "[]", "pages/a.md~": "[]", "pages/a.txt": "[pages/a.txt:1:1 stray]", "pages/feed.md": "[]",
		"sent/To Sam, 2nd.md": "[sent/To Sam, 2nd.md:2:1 missing-key sent/To Sam, 2nd.md:2:1 unknown-key]",
		"sent/what?.md":       "[sent/what?.md:1:1 bad-name]", "sent/nul.md": "[sent/nul.md:1:1 bad-name]",
		"tanks/Nano/tank.md": "[tanks/Nano:1:1 bad-name]", "README.md": "[]", "tankz/a/tank.md": "[]", "tanks/trough/Tank.md": "[tanks/trough/Tank.md:1:1 bad-name]",
		"tanks/trough/2026-04-18.jpg": "[tanks/trough/2026-04-18.jpg:1:1 stray]", "tanks/trough/2026-04-18-.md": "[tanks/trough/2026-04-18-.md:1:1 bad-name]",
		"tanks/trough/1026-04-18.md": "[tanks/trough/1026-04-18.md:1:1 bad-name]", "tanks/trough/2026-04-18-a-1.md": "[]",
	} {
		if got := fmt.Sprint(rulesOf(t, file, "---\ntitle: A\n---\n", Options{})); got != want {
			t.Errorf("%s: %s, want %s", file, got, want)
		}
	}
}

func TestNothingBehindALinkIsRead(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, madeJournal(1, "")); err != nil {
		t.Fatal(err)
	}
	outside := t.TempDir()
	if err := os.WriteFile(outside+"/secret.md", []byte("---\ntitle: Secret\n---\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, to := range map[string]string{"pages": outside, "tanks/linked": outside, "tanks/trough/2026-01-01.md": outside + "/secret.md"} {
		if err := os.Symlink(to, dir+"/"+name); err != nil {
			t.Skip(err)
		}
	}
	j, complaints, err := Read(t.Context(), os.DirFS(dir), mustAlmanac(t), Options{On: june})
	if err != nil {
		t.Fatal(err)
	}
	if len(complaints) != 3 || len(j.Pages) != 0 {
		t.Errorf("%v", complaints)
	}
	for _, c := range complaints {
		if c.Rule != "symlink" {
			t.Error(c)
		}
	}
}
