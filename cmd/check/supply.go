package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
)

// mostDirect is how many modules the program may depend on directly: each needs a reason in DEVELOPERS.md.
const mostDirect = 18

// module is a module that the program is built from.
type module struct {
	Path, Version, Dir string
	Main, Indirect     bool
}

// supply checks what the program is built from: few direct dependencies, each with its reason, and licences that allow it.
// That two builds have the same bytes is a test of cmd/release.
func supply(ctx context.Context, c *checker) (passed, failed int, err error) {
	mods, err := programModules(ctx)
	if err != nil {
		return 0, 0, err
	}
	reasons, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		return 0, 0, err
	}
	direct := 0
	for _, m := range mods {
		licence := licenceOf(m.Dir)
		if !m.Indirect {
			direct++
		}
		fmt.Fprintf(c.out, "   %-46s %-12s %s\n", m.Path, licence, map[bool]string{true: "indirect", false: "direct"}[m.Indirect])
		switch {
		case licence == "":
			failed++
			fmt.Fprintf(c.out, "   %s has no licence, or one that this check does not know\n", m.Path)
		case !m.Indirect && !bytes.Contains(reasons, []byte(shortName(m.Path))):
			failed++
			fmt.Fprintf(c.out, "   %s has no reason in DEVELOPERS.md\n", m.Path)
		default:
			passed++
		}
	}
	if direct > mostDirect {
		failed++
		fmt.Fprintf(c.out, "   %d direct dependencies, more than %d\n", direct, mostDirect)
	} else {
		passed++
	}
	return passed, failed, nil
}

// programModules lists the modules whose packages are in the slipleaf binary, by path.
func programModules(ctx context.Context) ([]module, error) {
	out, err := exec.CommandContext(ctx, "go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", "./cmd/slipleaf").Output()
	if err != nil {
		return nil, err
	}
	used := strings.Fields(string(out))
	out, err = exec.CommandContext(ctx, "go", "list", "-m", "-json", "all").Output()
	if err != nil {
		return nil, err
	}
	var mods []module
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var m module
		if err := d.Decode(&m); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		if !m.Main && slices.Contains(used, m.Path) {
			mods = append(mods, m)
		}
	}
	return mods, nil
}

// shortName is how DEVELOPERS.md names a module: without its host and major version.
func shortName(path string) string {
	parts := strings.Split(path, "/")
	if last := parts[len(parts)-1]; len(last) == 2 && last[0] == 'v' {
		parts = parts[:len(parts)-1]
	}
	return parts[len(parts)-1]
}
