package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
)

// system is one that archives are made for.
type system struct {
	os, arch string
	name     string // for people
	exe      string // the program's name there
}

var systems = []system{
	{"windows", "amd64", "Windows 10 and later", "slipleaf.exe"},
	{"darwin", "arm64", "macOS, Apple processor", "slipleaf"},
	{"darwin", "amd64", "macOS, Intel processor", "slipleaf"},
	{"linux", "amd64", "Linux, 64-bit PC", "slipleaf"},
	{"linux", "arm64", "Linux, 64-bit ARM", "slipleaf"},
}

// release is one run.
type release struct{ version, to, only string }

var plainVersion = regexp.MustCompile(`^[0-9A-Za-z][0-9A-Za-z.-]*$`)

// made is an archive on the disk.
type made struct {
	system
	file string // its name
	size int
	sum  string // SHA-256 in hex
}

func (r release) make(ctx context.Context) error {
	if !plainVersion.MatchString(r.version) {
		return fmt.Errorf("-version %q: letters, digits, points and hyphens", r.version)
	}
	if err := os.MkdirAll(r.to, 0o755); err != nil {
		return err
	}
	tmp, err := os.MkdirTemp("", "slipleaf-release-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(tmp)
	var all []made
	program := ""
	for _, s := range systems {
		if r.only != "" && r.only != s.os+"/"+s.arch {
			continue
		}
		program = filepath.Join(tmp, s.os+"-"+s.arch)
		if err := s.build(ctx, program); err != nil {
			return err
		}
		m, err := r.pack(s, program)
		if err != nil {
			return err
		}
		fmt.Printf("%s: %.1f MB\n", m.file, float64(m.size)/1e6)
		all = append(all, m)
	}
	if len(all) == 0 {
		return fmt.Errorf("-only %s: no such system", r.only)
	}
	bill, err := billOf(program, r.version)
	if err != nil {
		return err
	}
	return errors.Join(r.write("slipleaf-"+r.version+".cdx.json", bill), r.write("SHA256SUMS", sums(all, bill, r.version)), r.write("index.html", page(all, r.version)))
}

// build compiles the program without anything of this machine in it.
func (s system) build(ctx context.Context, to string) error {
	cmd := exec.CommandContext(ctx, "go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid=", "-o", to, "./cmd/slipleaf")
	cmd.Env = append(os.Environ(), "GOOS="+s.os, "GOARCH="+s.arch, "CGO_ENABLED=0", "GOFLAGS=")
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("building for %s/%s: %w\n%s", s.os, s.arch, err, out)
	}
	return nil
}

// pack puts the program with its papers into an archive.
func (r release) pack(s system, program string) (made, error) {
	exe, err := os.ReadFile(program)
	if err != nil {
		return made{}, err
	}
	licence, err := os.ReadFile("LICENSE")
	if err != nil {
		return made{}, err
	}
	base := fmt.Sprintf("slipleaf-%s-%s-%s", r.version, s.os, s.arch)
	files := []packed{
		{base + "/" + s.exe, exe, true},
		{base + "/LICENSE.txt", licence, false},
		{base + "/OPEN.txt", []byte(strings.Join(opening(s), "\n") + "\n"), false},
	}
	archive, ending := zipped, ".zip"
	if s.os == "linux" {
		archive, ending = tarred, ".tar.gz"
	}
	data, err := archive(files)
	if err != nil {
		return made{}, err
	}
	m := made{s, base + ending, len(data), fmt.Sprintf("%x", sha256.Sum256(data))}
	return m, r.write(m.file, data)
}

func (r release) write(name string, data []byte) error {
	return os.WriteFile(filepath.Join(r.to, name), data, 0o644)
}

// sums are lines that sha256sum -c reads.
func sums(all []made, bill []byte, version string) []byte {
	var b bytes.Buffer
	for _, m := range all {
		fmt.Fprintf(&b, "%s  %s\n", m.sum, m.file)
	}
	fmt.Fprintf(&b, "%x  slipleaf-%s.cdx.json\n", sha256.Sum256(bill), version)
	return b.Bytes()
}
