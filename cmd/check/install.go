package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
)

// tools are the programs that the steps use beyond Go, with the Debian package that brings each.
var tools = []struct{ program, debian string }{
	{"gcc", "gcc"},
	{"node", "nodejs"},
	{"npm", "npm"},
	{"chromium", "chromium"},
	{"pdfinfo", "poppler-utils"},
	{"zbarimg", "zbar-tools"},
	{"xmllint", "libxml2-utils"},
	{"jing", "jing"},
	{"exiftool", "libimage-exiftool-perl"},
	{"python3", "python3"},
	{"strace", "strace"},
}

// pythonModules are what the feeds are read with; Debian's own python3 has them.
var pythonModules = []struct{ module, debian string }{
	{"feedparser", "python3-feedparser"},
	{"icalendar", "python3-icalendar"},
}

// fontFiles are the fonts of the pictures; a browser in the checks knows no others.
var fontFiles = []struct{ file, debian string }{
	{"truetype/dejavu/DejaVuSans.ttf", "fonts-dejavu-core"},
	{"truetype/noto/NotoSans-Regular.ttf", "fonts-noto-core"},
	{"opentype/urw-base35/P052-Roman.otf", "fonts-urw-base35"},
}

// debianPython is Debian's interpreter, whatever other python3 comes first on the path.
const debianPython = "/usr/bin/python3"

// nodeDir holds the lock file of what comes from the npm registry.
var nodeDir = filepath.Join("testdata", "node")

func install(ctx context.Context, c *checker) (int, int, error) {
	var want []string
	for _, t := range tools {
		if _, err := exec.LookPath(t.program); err != nil {
			want = append(want, t.debian)
		}
	}
	for _, f := range fontFiles {
		if _, err := os.Stat(filepath.Join("/usr/share/fonts", f.file)); err != nil {
			want = append(want, f.debian)
		}
	}
	for _, m := range pythonModules {
		if exec.CommandContext(ctx, debianPython, "-c", "import "+m.module).Run() != nil {
			want = append(want, m.debian)
		}
	}
	if len(want) > 0 {
		if err := c.apt(ctx, want); err != nil {
			return 0, 0, err
		}
	}
	if _, err := exec.LookPath("npm"); err != nil {
		return 0, 0, fmt.Errorf("npm: %w", errMissing)
	}
	if upToDate(filepath.Join(nodeDir, "package-lock.json"), filepath.Join(nodeDir, "node_modules", ".package-lock.json")) {
		return 1, 0, nil
	}
	npm := exec.CommandContext(ctx, "npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error")
	npm.Dir = nodeDir
	if out, err := npm.CombinedOutput(); err != nil {
		return 0, 0, fmt.Errorf("npm ci: %w\n%s", err, out)
	}
	return 1, 0, nil
}

// apt installs Debian packages, where it may.
func (c *checker) apt(ctx context.Context, packages []string) error {
	if _, err := exec.LookPath("apt-get"); err != nil || os.Geteuid() != 0 {
		return fmt.Errorf("%v: %w (no apt-get, or not root)", packages, errMissing)
	}
	fmt.Fprintln(c.out, "   installing", packages)
	for _, args := range [][]string{{"update", "-qq"}, append([]string{"install", "-qq", "-y", "--no-install-recommends"}, packages...)} {
		cmd := exec.CommandContext(ctx, "apt-get", args...)
		cmd.Env = append(os.Environ(), "DEBIAN_FRONTEND=noninteractive")
		if out, err := cmd.CombinedOutput(); err != nil {
			return fmt.Errorf("apt-get %v: %w\n%s", args, err, tail(out, 2000))
		}
	}
	return nil
}

// upToDate reports whether made is at least as new as its source.
func upToDate(source, made string) bool {
	s, err := os.Stat(source)
	m, err2 := os.Stat(made)
	return err == nil && err2 == nil && !m.ModTime().Before(s.ModTime())
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

func tail(b []byte, n int) []byte {
	if len(b) > n {
		return b[len(b)-n:]
	}
	return b
}
