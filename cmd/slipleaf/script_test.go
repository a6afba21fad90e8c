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

// untidy is how seldom a program that a test starts frees memory, as GOGC has it: most end after 50 ms, of which tidying
// up takes a fifth.
const untidy = "400"

func TestMain(m *testing.M) {
	if err := os.Setenv("GOGC", untidy); err != nil {
		panic(err)
	}
	testscript.Main(m, map[string]func(){"slipleaf": main})
}

// The scripts run the command as growers do; each carries its own journal.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/scripts",
		Setup: func(env *testscript.Env) error {
			env.Setenv("GOGC", untidy)
			return nil
		},
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
	t.Parallel()
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
