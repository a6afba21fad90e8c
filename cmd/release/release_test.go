package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	cyclonedx "github.com/CycloneDX/cyclonedx-go"
)

// The same source gives the same bytes, in whatever folder and after whatever time, and each line of the checksums holds.
func TestTwoReleasesAreTheSame(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program twice")
	}
	t.Chdir("../..")
	own := runtime.GOOS + "/" + runtime.GOARCH
	if own != "linux/amd64" && own != "linux/arm64" {
		own = "linux/amd64"
	}
	var first map[string][]byte
	for _, to := range []string{t.TempDir(), filepath.Join(t.TempDir(), "a b", "ü")} {
		if err := (release{version: "1.2.3", to: to, only: own}).make(t.Context()); err != nil {
			t.Fatal(err)
		}
		got := map[string][]byte{}
		entries, err := os.ReadDir(to)
		if err != nil || len(entries) != 4 {
			t.Fatal(entries, err)
		}
		for _, e := range entries {
			if got[e.Name()], err = os.ReadFile(filepath.Join(to, e.Name())); err != nil {
				t.Fatal(err)
			}
		}
		for line := range strings.Lines(string(got["SHA256SUMS"])) {
			sum, name, _ := strings.Cut(strings.TrimSpace(line), "  ")
			if fmt.Sprintf("%x", sha256.Sum256(got[name])) != sum {
				t.Errorf("the checksum of %s does not hold", name)
			}
		}
		if first == nil {
			first = got
		}
		for name, data := range got {
			if !bytes.Equal(data, first[name]) {
				t.Errorf("%s differs", name)
			}
			if dir, _ := os.Getwd(); bytes.Contains(data, []byte(dir)) {
				t.Errorf("%s names a folder of this machine", name)
			}
		}
	}
	var bom cyclonedx.BOM
	if err := cyclonedx.NewBOMDecoder(bytes.NewReader(first["slipleaf-1.2.3.cdx.json"]), cyclonedx.BOMFileFormatJSON).Decode(&bom); err != nil || len(*bom.Components) < 10 {
		t.Fatal(err)
	}
	named := false
	for _, c := range *bom.Components {
		named = named || strings.HasPrefix(c.PackageURL, "pkg:golang/github.com/yuin/goldmark@v")
	}
	if !named {
		t.Error("the bill of materials lacks a module")
	}
	// One file with all in it, small enough for a slow line.
	for name, data := range first {
		if strings.HasSuffix(name, ".tar.gz") && sizeInside(t, data) > 30_000_000 {
			t.Errorf("the program has %d bytes", sizeInside(t, data))
		}
	}
}

func sizeInside(t *testing.T, archive []byte) (most int64) {
	t.Helper()
	z, err := gzip.NewReader(bytes.NewReader(archive))
	if err != nil {
		t.Fatal(err)
	}
	for r := tar.NewReader(z); ; {
		h, err := r.Next()
		if err == io.EOF {
			return most
		}
		if err != nil {
			t.Fatal(err)
		}
		most = max(most, h.Size)
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
		if steps := opening(s); len(steps) != 9 || steps[3] != "" || steps[7] != "" {
			t.Errorf("%s: %q", s.name, steps)
		}
		all = append(all, made{s, "slipleaf-1-" + s.os + s.arch, 1, strings.Repeat("ab", 32) + s.arch})
	}
	html := string(page(all, "1"))
	for _, m := range all {
		if !strings.Contains(html, `href="`+m.file+`"`) || !strings.Contains(html, m.sum) {
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
