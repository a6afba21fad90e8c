package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// A journal alone in its repository is sent with the headers that this one's site is sent with.
func TestHostedHeadersAreThoseOfTheSource(t *testing.T) {
	root, err := os.ReadFile("../../netlify.toml")
	if err != nil {
		t.Fatal(err)
	}
	rules := func(s string) string { return s[strings.Index(s, "[[headers]]"):] }
	version := regexp.MustCompile(`GO_VERSION = .*`)
	if rules(hosted) != rules(string(root)) || version.FindString(hosted) != version.FindString(string(root)) {
		t.Error("hosted.toml has other headers than netlify.toml, or another version of Go")
	}
}

func TestHostedRefusesWhatIsNoAddress(t *testing.T) {
	for _, s := range []string{"", " ", "-x", "a;b", "$(id)", "a'b", `a"b`, "a b", "a\nb", "`id`", "a&b", "a|b", "--upload-pack=x"} {
		if f, err := hostedFile(s); err == nil {
			t.Errorf("%q makes\n%.300s", s, f.After)
		}
	}
	for _, s := range []string{"https://git.example/me/slipleaf.git", "git@git.example:me/slipleaf.git", "/srv/slipleaf"} {
		if _, err := hostedFile(s); err != nil {
			t.Error(err)
		}
	}
}

// The one command of netlify.toml builds the site in a clone of a repository that holds the journal alone. The program's
// source is fetched from a repository of this machine.
func TestHostedBuildsAClone(t *testing.T) {
	if !long {
		t.Skip("takes -long: it compiles the program")
	}
	for _, program := range []string{"git", "sh", "go"} {
		if _, err := exec.LookPath(program); err != nil {
			t.Skip(err)
		}
	}
	dir := t.TempDir()
	sh := func(in, line string) {
		t.Helper()
		cmd := exec.CommandContext(t.Context(), "sh", "-c", line)
		cmd.Dir = in
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", line, err, out)
		}
	}
	source, own, clone := filepath.Join(dir, "source"), filepath.Join(dir, "own"), filepath.Join(dir, "clone")
	if err := os.CopyFS(source, os.DirFS("../..")); err != nil {
		t.Fatal(err)
	}
	commit := `git init --quiet && git add --all && git -c user.name=x -c user.email=x@example.org commit --quiet --message x`
	sh(source, `rm -rf .git testdata/node && `+commit)
	var out strings.Builder
	w := world{Out: &out, Err: &out, Now: time.Now, Env: os.Getenv}
	if status := run(context.Background(), []string{"start", own, "--hosted", source}, w); status != done {
		t.Fatal(out.String())
	}
	sh(own, commit)
	sh(dir, `git clone --quiet own clone`)
	text, err := os.ReadFile(filepath.Join(clone, "netlify.toml"))
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`command = '([^']*)'`).FindSubmatch(text)
	if m == nil {
		t.Fatalf("no command in\n%s", text)
	}
	sh(clone, string(m[1]))
	if _, err := os.Stat(filepath.Join(clone, "www", "index.html")); err != nil {
		t.Error(err)
	}
}
