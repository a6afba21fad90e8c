package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"debug/buildinfo"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"slices"
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

// largest is how many bytes a program may have: one that is larger stops the release.
const largest = 28_000_000

// release is one run.
type release struct{ version, to, only string }

var plainVersion = regexp.MustCompile(`^[0-9A-Za-z][0-9A-Za-z.-]*$`)

// made is an archive with the program in it.
type made struct {
	system
	file    string // its name
	data    []byte
	modules *debug.BuildInfo // as the program says itself
}

func (m made) sum() string { return fmt.Sprintf("%x", sha256.Sum256(m.data)) }

func (r release) make(ctx context.Context) error {
	if !plainVersion.MatchString(r.version) {
		return fmt.Errorf("-version %q: letters, digits, points and hyphens", r.version)
	}
	tmp, err := os.MkdirTemp("", "slipleaf-release-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(tmp)
	env, err := plainEnv(ctx)
	if err != nil {
		return err
	}
	var all []made
	for _, s := range systems {
		if r.only != "" && r.only != s.os+"/"+s.arch {
			continue
		}
		program := filepath.Join(tmp, s.os+"-"+s.arch)
		if err := s.build(ctx, program, env); err != nil {
			return err
		}
		m, err := r.pack(ctx, s, program, env)
		if err != nil {
			return err
		}
		fmt.Printf("%s: %.1f MB\n", m.file, float64(len(m.data))/1e6)
		all = append(all, m)
	}
	if len(all) == 0 {
		return fmt.Errorf("-only %s: no such system", r.only)
	}
	bill, err := billOf(all, r.version)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(r.to, 0o755); err != nil {
		return err
	}
	var sums bytes.Buffer
	write := func(name string, data []byte) {
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(data), name) // a line that sha256sum -c reads
		err = errors.Join(err, os.WriteFile(filepath.Join(r.to, name), data, 0o644))
	}
	for _, m := range all {
		write(m.file, m.data)
	}
	write("slipleaf-"+r.version+".cdx.json", bill)
	write("index.html", page(all, r.version))
	return errors.Join(err, os.WriteFile(filepath.Join(r.to, "SHA256SUMS"), sums.Bytes(), 0o644))
}

// plainEnv is the environment to build in: of what steers Go it has only where things lie and which Go it is, so that no
// setting of this machine, of its shell or of go env -w, is in the bytes.
func plainEnv(ctx context.Context) ([]string, error) {
	where := []string{"GOCACHE", "GOMODCACHE", "GOPATH", "GOPROXY", "GOSUMDB", "GONOPROXY", "GONOSUMDB", "GOTOOLCHAIN"}
	out, err := exec.CommandContext(ctx, "go", append([]string{"env"}, where...)...).Output()
	if err != nil {
		return nil, fmt.Errorf("go env: %w", err)
	}
	env := slices.DeleteFunc(os.Environ(), func(v string) bool { return strings.HasPrefix(v, "GO") || strings.HasPrefix(v, "CGO") })
	for i, value := range strings.Split(strings.TrimRight(string(out), "\r\n"), "\n") {
		if i < len(where) {
			env = append(env, where[i]+"="+strings.TrimSpace(value))
		}
	}
	return append(env, "GOENV=off", "GOWORK=off", "CGO_ENABLED=0"), nil
}

// build compiles the program without anything of this machine in it.
func (s system) build(ctx context.Context, to string, env []string) error {
	cmd := exec.CommandContext(ctx, "go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid=", "-o", to, "./cmd/slipleaf")
	cmd.Env = append(slices.Clone(env), "GOOS="+s.os, "GOARCH="+s.arch)
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("building for %s/%s: %w\n%s", s.os, s.arch, err, out)
	}
	return nil
}

// pack puts the program with its papers into an archive.
func (r release) pack(ctx context.Context, s system, program string, env []string) (made, error) {
	exe, err := os.ReadFile(program)
	if err != nil {
		return made{}, err
	}
	if len(exe) > largest {
		return made{}, fmt.Errorf("the program for %s/%s has %d bytes, more than %d: find what made it grow with go tool nm -size -sort size", s.os, s.arch, len(exe), largest)
	}
	modules, err := buildinfo.Read(bytes.NewReader(exe))
	if err != nil {
		return made{}, err
	}
	licence, err := os.ReadFile("LICENSE")
	if err != nil {
		return made{}, err
	}
	others, err := licences(ctx, modules, env)
	if err != nil {
		return made{}, err
	}
	base := fmt.Sprintf("slipleaf-%s-%s-%s", r.version, s.os, s.arch)
	files := []packed{
		{base + "/" + s.exe, exe, true},
		{base + "/LICENSE.txt", licence, false},
		{base + "/LICENSES-OF-OTHERS.txt", others, false},
		{base + "/OPEN.txt", opening(s), false},
	}
	archive, ending := zipped, ".zip"
	if s.os == "linux" {
		archive, ending = tarred, ".tar.gz"
	}
	data, err := archive(files)
	return made{s, base + ending, data, modules}, err
}

// licences are the texts that Go and the modules of a program want to travel with it.
func licences(ctx context.Context, modules *debug.BuildInfo, env []string) ([]byte, error) {
	args := []string{"list", "-m", "-f", "{{.Dir}}"}
	for _, d := range modules.Deps {
		args = append(args, d.Path)
	}
	list, root := exec.CommandContext(ctx, "go", args...), exec.CommandContext(ctx, "go", "env", "GOROOT")
	list.Env, root.Env = env, env
	dirs, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("go list -m: %w", err)
	}
	goDir, err := root.Output()
	if err != nil {
		return nil, fmt.Errorf("go env GOROOT: %w", err)
	}
	var b bytes.Buffer
	for i, dir := range strings.Split(strings.TrimSpace(string(goDir)+string(dirs)), "\n") {
		name := "Go " + modules.GoVersion
		if i > 0 {
			name = modules.Deps[i-1].Path + " " + modules.Deps[i-1].Version
		}
		found := 0
		for _, pattern := range []string{"LICEN[CS]E*", "COPYING*", "NOTICE*"} {
			files, err := filepath.Glob(filepath.Join(strings.TrimSpace(dir), pattern))
			if err != nil {
				return nil, err
			}
			for _, file := range files {
				text, err := os.ReadFile(file)
				if err != nil {
					return nil, err
				}
				fmt.Fprintf(&b, "%s\n\n%s\n\n\n", name, bytes.TrimSpace(bytes.ReplaceAll(text, []byte("\r"), nil)))
				found++
			}
		}
		if found == 0 {
			return nil, fmt.Errorf("%s has no licence in %s", name, strings.TrimSpace(dir))
		}
	}
	return b.Bytes(), nil
}
