package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"testing"

	cyclonedx "github.com/CycloneDX/cyclonedx-go"
)

// The same source gives the same bytes, in whatever folder, after whatever time and whatever this machine sets for Go; each
// file made has a checksum that holds, and no program is too large, of which that for Windows is the largest.
func TestTwoReleasesAreTheSame(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program three times")
	}
	t.Chdir("../..")
	if err := (release{version: "1.2.3", to: t.TempDir(), only: "windows/amd64"}).make(t.Context()); err != nil {
		t.Error(err)
	}
	first := released(t, t.TempDir())
	settings := filepath.Join(t.TempDir(), "env")
	if err := os.WriteFile(settings, []byte("GOAMD64=v2\nGOFLAGS=-tags=elsewhere\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for name, value := range map[string]string{"GOENV": settings, "GOAMD64": "v3", "GOARM64": "v9.0", "GOFLAGS": "-race", "GOEXPERIMENT": "nogreenteagc", "GOOS": "plan9", "CGO_ENABLED": "1", "GOWORK": settings, "GOFIPS140": "latest"} {
		t.Setenv(name, value)
	}
	second := released(t, filepath.Join(t.TempDir(), "a b", "ü"))
	if !slices.Equal(slices.Sorted(maps.Keys(first)), slices.Sorted(maps.Keys(second))) {
		t.Errorf("other files: %v, %v", slices.Sorted(maps.Keys(first)), slices.Sorted(maps.Keys(second)))
	}
	here, _ := os.Getwd()
	for name, data := range first {
		if !bytes.Equal(data, second[name]) {
			t.Errorf("%s differs", name)
		}
		if bytes.Contains(data, []byte(here)) {
			t.Errorf("%s names a folder of this machine", name)
		}
	}
}

// released makes a release for a Linux machine and reads it: the program too, out of its archive.
func released(t *testing.T, to string) map[string][]byte {
	t.Helper()
	if err := (release{version: "1.2.3", to: to, only: "linux/amd64"}).make(t.Context()); err != nil {
		t.Fatal(err)
	}
	made := map[string][]byte{}
	entries, err := os.ReadDir(to)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if made[e.Name()], err = os.ReadFile(filepath.Join(to, e.Name())); err != nil {
			t.Fatal(err)
		}
	}
	summed := 0
	for line := range strings.Lines(string(made["SHA256SUMS"])) {
		sum, name, _ := strings.Cut(strings.TrimSpace(line), "  ")
		if data, ok := made[name]; !ok || fmt.Sprintf("%x", sha256.Sum256(data)) != sum {
			t.Errorf("the checksum of %s does not hold", name)
		}
		summed++
	}
	if summed != 3 || len(made) != summed+1 {
		t.Errorf("%d checksums for %d files", summed, len(made))
	}
	others := string(inside(t, made["slipleaf-1.2.3-linux-amd64.tar.gz"], "/LICENSES-OF-OTHERS.txt"))
	for _, want := range []string{"The Go Authors", "github.com/yuin/goldmark v", "Yusuke Inuzuka", "Alec Thomas"} {
		if !strings.Contains(others, want) {
			t.Errorf("the licences of others lack %q", want)
		}
	}
	made["program"] = inside(t, made["slipleaf-1.2.3-linux-amd64.tar.gz"], "/slipleaf")
	return made
}

// inside is the file of an archive whose name ends so.
func inside(t *testing.T, archive []byte, ending string) []byte {
	t.Helper()
	z, err := gzip.NewReader(bytes.NewReader(archive))
	if err != nil {
		t.Fatal(err)
	}
	for r := tar.NewReader(z); ; {
		h, err := r.Next()
		if err != nil {
			t.Fatal(ending, err)
		}
		if strings.HasSuffix(h.Name, ending) {
			data, err := io.ReadAll(r)
			if err != nil {
				t.Fatal(err)
			}
			return data
		}
	}
}

// The bill says of each program which modules it holds: one that a single system needs is in the list and no other has it.
func TestEveryProgramIsBilled(t *testing.T) {
	of := func(paths ...string) *debug.BuildInfo {
		b := &debug.BuildInfo{GoVersion: "go1.26.8"}
		for _, p := range paths {
			b.Deps = append(b.Deps, &debug.Module{Path: p, Version: "v1.0.0"})
		}
		return b
	}
	bill, err := billOf([]made{
		{file: "a.zip", data: []byte("a"), modules: of("example.org/both", "example.org/windows")},
		{file: "b.zip", data: []byte("b"), modules: of("example.org/both", "example.org/linux")},
	}, "1")
	if err != nil {
		t.Fatal(err)
	}
	var bom cyclonedx.BOM
	if err := cyclonedx.NewBOMDecoder(bytes.NewReader(bill), cyclonedx.BOMFileFormatJSON).Decode(&bom); err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(bill, []byte(`"licenses"`)); n != 1 {
		t.Errorf("the licence is listed %d times", n)
	}
	var listed []string
	for _, c := range *bom.Components {
		listed = append(listed, c.BOMRef)
	}
	both, std := "pkg:golang/example.org/both@v1.0.0", "pkg:golang/stdlib@go1.26.8"
	windows, linux := "pkg:golang/example.org/windows@v1.0.0", "pkg:golang/example.org/linux@v1.0.0"
	if want := []string{"a.zip@1", "b.zip@1", both, linux, windows, std}; !slices.Equal(listed, want) {
		t.Errorf("%q, not %q", listed, want)
	}
	want := map[string][]string{"slipleaf@1": {"a.zip@1", "b.zip@1"}, "a.zip@1": {both, windows, std}, "b.zip@1": {both, linux, std}}
	for _, d := range *bom.Dependencies {
		if !slices.Equal(*d.Dependencies, want[d.Ref]) {
			t.Errorf("%s holds %q", d.Ref, *d.Dependencies)
		}
	}
	if len(*bom.Dependencies) != len(want) {
		t.Error("a program is missing")
	}
}

// A program that is too large stops the release.
func TestLargeProgramsAreRefused(t *testing.T) {
	program := filepath.Join(t.TempDir(), "program")
	if err := os.WriteFile(program, make([]byte, largest+1), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := (release{version: "1"}).pack(t.Context(), systems[0], program, nil); err == nil || !strings.Contains(err.Error(), "28000001 bytes") {
		t.Error(err)
	}
}

// What is packed comes out again under its name, a program as one that can be run, and nothing tells of who packed it.
func TestArchivesHoldWhatIsPacked(t *testing.T) {
	files := []packed{{"a/slipleaf", []byte("program"), true}, {"a/OPEN.txt", []byte("ü"), false}}
	z, err := zipped(files)
	if err != nil {
		t.Fatal(err)
	}
	r, err := zip.NewReader(bytes.NewReader(z), int64(len(z)))
	if err != nil || len(r.File) != 2 || r.File[0].Mode() != 0o755 || r.File[1].Mode() != 0o644 || !r.File[0].Modified.Equal(then) {
		t.Fatal(r, err)
	}
	f, err := r.File[0].Open()
	if err != nil {
		t.Fatal(err)
	}
	if got, _ := io.ReadAll(f); string(got) != "program" {
		t.Errorf("%q", got)
	}
	g, err := tarred(files)
	if err != nil {
		t.Fatal(err)
	}
	u, err := gzip.NewReader(bytes.NewReader(g))
	if err != nil || u.Name != "" || !u.ModTime.IsZero() {
		t.Fatal(u.Header, err)
	}
	h, err := tar.NewReader(u).Next()
	if err != nil || h.FileInfo().Mode() != 0o755 || h.Uid != 0 || h.Uname != "" || !h.ModTime.Equal(then) {
		t.Errorf("%+v, %v", h, err)
	}
}

// Every system has its steps in both languages, and the page names every archive with its checksum.
func TestEverySystemIsOpened(t *testing.T) {
	var all []made
	for _, s := range systems {
		if steps := strings.Split(strings.TrimSpace(string(opening(s))), "\n"); len(steps) != 9 || steps[3] != "" || steps[7] != "" {
			t.Errorf("%s: %q", s.name, steps)
		}
		all = append(all, made{system: s, file: "slipleaf-1-" + s.os + s.arch, data: []byte(s.os + s.arch)})
	}
	html := string(page(all, "1"))
	for _, m := range all {
		if !strings.Contains(html, `href="`+m.file+`"`) || !strings.Contains(html, m.sum()) {
			t.Errorf("the page lacks %s", m.file)
		}
	}
}

func TestVersionsAreNames(t *testing.T) {
	for _, bad := range []string{"", "../x", "a b", "-x", "1;2"} {
		if err := (release{version: bad, to: t.TempDir()}).make(t.Context()); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}
