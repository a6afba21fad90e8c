package main

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"slipleaf": main})
}

// The scripts run the command as growers do; each carries its own journal.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/scripts",
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"code": codeFrom, "added": onlyAdded, "serve": serveFolder, "fill": fillIn, "files": countFiles, "cmp-code": sameButCode, "names": countNames, "mode": fileMode,
		},
	})
}

// serveFolder serves a folder on this machine while the script runs, and sets a variable to its address.
func serveFolder(ts *testscript.TestScript, _ bool, args []string) {
	s := httptest.NewServer(http.FileServer(http.Dir(ts.MkAbs(args[0]))))
	ts.Defer(s.Close)
	ts.Setenv(args[1], s.URL)
}

// fillIn puts the script's variables into a file where it names them as ${NAME}.
func fillIn(ts *testscript.TestScript, _ bool, args []string) {
	text := os.Expand(ts.ReadFile(args[0]), ts.Getenv)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o644))
}

// codeFrom sets the variables CODE, CODE4 and RECORD by the first record under the folder that has a code: of the lot and
// count that are given, or, with the word items, of several plants.
func codeFrom(ts *testscript.TestScript, _ bool, args []string) {
	names, err := filepath.Glob(filepath.Join(ts.MkAbs(args[0]), "*.md"))
	ts.Check(err)
	for _, name := range names {
		b, err := os.ReadFile(name)
		ts.Check(err)
		_, after, ok := strings.Cut(string(b), "\ncode: ")
		if !ok || len(args) == 2 && !strings.Contains(string(b), "\nitems:\n") || len(args) > 2 && !strings.Contains(string(b), "lot: "+args[1]+"\ncount: "+args[2]+"\n") {
			continue
		}
		code, _, _ := strings.Cut(after, "\n")
		ts.Setenv("CODE", code)
		ts.Setenv("CODE4", code[:4])
		ts.Setenv("RECORD", name)
		return
	}
	ts.Fatalf("no record with a code under %s", args)
}

// countFiles checks how many files a folder has.
func countFiles(ts *testscript.TestScript, _ bool, args []string) {
	list, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	if fmt.Sprint(len(list)) != args[1] {
		ts.Fatalf("%d files, not %s: %v", len(list), args[1], list)
	}
}

// countNames checks how many files below a folder hold a text, kept changes among them, whose contents are in base 64.
func countNames(ts *testscript.TestScript, _ bool, args []string) {
	in, err := filesWith(ts.MkAbs(args[0]), args[1])
	ts.Check(err)
	if fmt.Sprint(len(in)) != args[2] {
		ts.Fatalf("%q is in %d files, not %s: %v", args[1], len(in), args[2], in)
	}
}

var codeLine = regexp.MustCompile(`(?m)^code: [0-9a-z]{25}$`)

// sameButCode compares two records, the code of the first aside.
func sameButCode(ts *testscript.TestScript, _ bool, args []string) {
	got := codeLine.ReplaceAllString(ts.ReadFile(args[0]), "code: CODE")
	if want := ts.ReadFile(args[1]); got != want {
		ts.Fatalf("got\n%s\nwant\n%s", got, want)
	}
}

// fileMode checks who may do what with a file.
func fileMode(ts *testscript.TestScript, _ bool, args []string) {
	info, err := os.Stat(ts.MkAbs(args[0]))
	ts.Check(err)
	if got := fmt.Sprintf("%o", info.Mode().Perm()); got != args[1] {
		ts.Fatalf("%s: %s, not %s", args[0], got, args[1])
	}
}

// onlyAdded checks that the second file is the first with bytes added in one place.
func onlyAdded(ts *testscript.TestScript, _ bool, args []string) {
	before, after := []byte(ts.ReadFile(args[0])), []byte(ts.ReadFile(args[1]))
	n := 0
	for n < len(before) && n < len(after) && before[n] == after[n] {
		n++
	}
	if len(after) <= len(before) || !bytes.HasSuffix(after, before[n:]) {
		ts.Fatalf("more was changed than one addition:\n%s\n->\n%s", before, after)
	}
}

// Many who send at the same moment cannot both take the last slip.
func TestTheLastSlipGoesOutOnce(t *testing.T) {
	bin := built(t)
	dir := smallJournal(t, bin)
	withLot(t, dir, 5)
	const senders = 12
	var wg sync.WaitGroup
	outs := make([]string, senders)
	sent := make([]bool, senders)
	for i := range senders {
		wg.Go(func() {
			out, err := exec.Command(bin, "send", fmt.Sprintf("Person %d", i), "HZ-1:1", "--in", dir, "--on", "2026-06-03").CombinedOutput()
			outs[i], sent[i] = string(out), err == nil
		})
	}
	wg.Wait()
	done := 0
	for i := range senders {
		switch {
		case sent[i]:
			done++
		case !strings.Contains(outs[i], "HZ-1 has 0 left of 5"):
			t.Errorf("refused for another reason: %s", outs[i])
		}
	}
	records, err := filepath.Glob(filepath.Join(dir, "sent", "2026-06-03-*.md"))
	if err != nil || done != 5 || len(records) != 5 {
		t.Errorf("%d sent, %d records, %v", done, len(records), err)
	}
	if left, err := filepath.Glob(filepath.Join(dir, "sent", ".*")); err != nil || len(left) > 0 {
		t.Errorf("left lying: %v, %v", left, err)
	}
	if out, err := exec.Command(bin, "proof", dir, "--on", "2026-06-03").CombinedOutput(); err != nil {
		t.Errorf("the journal does not hold: %s", out)
	}
}

func TestCodesUseTheirWholeAlphabet(t *testing.T) {
	var all [256]byte
	for i := range all {
		all[i] = byte(i)
	}
	s, err := mint(bytes.NewReader(all[:]), len(all))
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range codeAlphabet {
		if n := strings.Count(s, string(r)); n != 8 {
			t.Errorf("%c came %d times of 256, not 8", r, n)
		}
	}
	if strings.ContainsAny(s, "ilou") {
		t.Error("a letter that is misread")
	}
	if _, err := mint(bytes.NewReader(nil), 25); err == nil {
		t.Error("a code without randomness")
	}
}

func TestAReportIsAddedInTheWayOfTheFile(t *testing.T) {
	const line = "{date: 2026-06-01, outcome: rooted}"
	for _, c := range []struct{ name, head, want string }{
		{"no reports yet", "lot: A\n# keep me\nprivate: {name: x}\n", "lot: A\n# keep me\nprivate: {name: x}\nreports:\n  - " + line + "\n"},
		{"a list", "reports:   # all of them\n    - {date: 1}   # first\n# after\nlot: A\n", "reports:   # all of them\n    - {date: 1}   # first\n    - " + line + "\n# after\nlot: A\n"},
		{"a list at the margin", "reports:\n- date: 1\n  outcome: x\nlot: A\n", "reports:\n- date: 1\n  outcome: x\n- " + line + "\nlot: A\n"},
		{"a flow list", "reports: [{date: 1, cause: \"a ] b\"}] # so\nlot: A\n", "reports: [{date: 1, cause: \"a ] b\"}, " + line + "] # so\nlot: A\n"},
		{"an empty flow list", "reports: [ ]\nlot: A\n", "reports: [ " + line + "]\nlot: A\n"},
		{"a flow list over lines", "reports: [\n  {date: 1}, # ]\n  {date: 2}\n]\nlot: A\n", "reports: [\n  {date: 1}, # ]\n  {date: 2}\n, " + line + "]\nlot: A\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, ok := withReport([]byte("---\n"+c.head+"---\nBody: reports: []\n"), line)
			if want := "---\n" + c.want + "---\nBody: reports: []\n"; !ok || string(got) != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
			dos := strings.ReplaceAll("---\n"+c.head+"---\nBody\n", "\n", "\r\n")
			got, ok = withReport([]byte(dos), line)
			if !ok || strings.Count(string(got), "\n") != strings.Count(string(got), "\r\n") {
				t.Errorf("line ends are mixed: %q", got)
			}
		})
	}
	for _, bad := range []string{"", "no head", "---\nreports: 5\n---\n", "---\nreports: [\n---\n", "---\nreports:\nlot: A\n---\n"} {
		if got, ok := withReport([]byte(bad), line); ok {
			t.Errorf("%q became %q", bad, got)
		}
	}
}

func TestTextsSurviveTheirYAML(t *testing.T) {
	for _, s := range []string{"fine sand", "", "no", "a: b", "it's \"so\"", "- x", "#1", "Zoë", "[x]"} {
		w := word(s)
		if s == "" && w != "" || s != "" && w != s && w != fmt.Sprintf("%q", s) {
			t.Errorf("%q -> %s", s, w)
		}
	}
}
