//go:build browser

package browser

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// demoDay is the day for which the demonstration is made here.
const demoDay = "2026-11-25"

// nodeDir holds the lock file of what comes from the npm registry.
var nodeDir = filepath.Join("testdata", "node")

// made is what all tests share: the program, and the demonstration that it published.
var made struct{ program, demo string }

// TestMain builds the program and publishes the demonstration once for all tests.
func TestMain(m *testing.M) {
	os.Exit(run(m))
}

func run(m *testing.M) int {
	dir, err := os.MkdirTemp("", "slipleaf-browser-")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	if err := os.Chdir("../../.."); err != nil { // the module's folder, where all names begin
		panic(err)
	}
	made.program, made.demo = filepath.Join(dir, "slipleaf"), filepath.Join(dir, "demo")
	for _, args := range [][]string{{"go", "build", "-o", made.program, "./cmd/slipleaf"}, publishing("content", made.demo)} {
		if out, err := exec.Command(args[0], args[1:]...).CombinedOutput(); err != nil {
			os.Stderr.Write(append(out, '\n'))
			panic(err)
		}
	}
	return m.Run()
}

// publishing is the command that makes a journal into a site.
func publishing(journal, to string, more ...string) []string {
	return append([]string{made.program, "publish", journal, "--to", to, "--on", demoDay}, more...)
}

// publish makes a journal into a site.
func publish(t *testing.T, journal, to string, more ...string) {
	t.Helper()
	args := publishing(journal, to, more...)
	if out, err := exec.CommandContext(t.Context(), args[0], args[1:]...).CombinedOutput(); err != nil {
		t.Fatalf("publish: %v\n%s", err, out)
	}
}

// need finds a program. Without it the test is skipped, and fails where nothing may be left out.
func need(t *testing.T, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		lacking(t, err)
	}
	return path
}

// needNode finds a file of what comes from the npm registry.
func needNode(t *testing.T, name ...string) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join(append([]string{nodeDir, "node_modules"}, name...)...))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(path); err != nil {
		lacking(t, err)
	}
	return path
}

// lacking skips a test for want of something, which CI does not allow.
func lacking(t *testing.T, why error) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal("not here: ", why)
	}
	t.Skip("not here: ", why)
}

// demoPages lists the pages of the demonstration as a browser asks for them.
func demoPages(t *testing.T) []string {
	t.Helper()
	all, err := pages(made.demo)
	if err != nil || len(all) == 0 {
		t.Fatal(len(all), " pages: ", err)
	}
	return all
}

// The same journal and day give the same bytes.
func TestPublishingTwice(t *testing.T) {
	t.Parallel()
	again := t.TempDir()
	publish(t, "content", filepath.Join(again, "www"))
	first, err := files(made.demo)
	if err != nil {
		t.Fatal(err)
	}
	second, err := files(filepath.Join(again, "www"))
	if err != nil || len(first) != len(second) {
		t.Fatalf("%d files, then %d (%v)", len(first), len(second), err)
	}
	for _, name := range first {
		x, err := os.ReadFile(filepath.Join(made.demo, name))
		if err != nil {
			t.Fatal(err)
		}
		y, err := os.ReadFile(filepath.Join(again, "www", name))
		if err != nil || !bytes.Equal(x, y) {
			t.Errorf("%s differs between two runs", name)
		}
	}
}

// files lists the regular files under dir, relative and sorted.
func files(dir string) ([]string, error) {
	var out []string
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, p)
		out = append(out, rel)
		return err
	})
	return out, err
}

// Every page of the demonstration is HTML as the standard has it, by the rules of html-validate.
func TestHTML(t *testing.T) {
	t.Parallel()
	bin := needNode(t, ".bin", "html-validate")
	all, err := files(made.demo)
	if err != nil {
		t.Fatal(err)
	}
	report := filepath.Join(t.TempDir(), "html.json") // a pipe would be cut short when the program exits
	args := []string{"--config", filepath.Join(nodeDir, "htmlvalidate.json"), "--formatter", "json=" + report}
	n := len(args)
	for _, f := range all {
		if strings.HasSuffix(f, ".html") {
			args = append(args, filepath.Join(made.demo, f))
		}
	}
	said, runErr := exec.CommandContext(t.Context(), bin, args...).CombinedOutput()
	out, err := os.ReadFile(report)
	if err != nil {
		t.Fatalf("html-validate: %v\n%s", runErr, said)
	}
	var reports []struct {
		FilePath string
		Messages []struct {
			RuleID, Message string
			Line, Column    int
		}
	}
	if err := json.Unmarshal(out, &reports); err != nil || len(args) == n || runErr != nil && len(reports) == 0 {
		t.Fatalf("html-validate of %d pages: %v: %v\n%s", len(args)-n, runErr, err, said)
	}
	for _, r := range reports {
		rel, _ := filepath.Rel(made.demo, r.FilePath)
		for _, m := range r.Messages[:min(len(r.Messages), 5)] {
			t.Errorf("%s:%d:%d %s (%s)", rel, m.Line, m.Column, m.Message, m.RuleID)
		}
	}
}
