package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// mostDirect is how many modules the program may depend on directly: each needs a reason in DEVELOPERS.md.
const mostDirect = 18

// module is a module that the program is built from.
type module struct {
	Path, Version, Dir string
	Main, Indirect     bool
}

// TestSupply looks at what the program is built from: few direct dependencies, each with its reason, and licences that allow it.
// That two builds have the same bytes is a test of cmd/release.
func TestSupply(t *testing.T) {
	t.Chdir("../..")
	mods, err := programModules(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	reasons, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	direct := 0
	for _, m := range mods {
		if licenceOf(m.Dir) == "" {
			t.Errorf("%s has no licence, or one that this check does not know", m.Path)
		}
		if m.Indirect {
			continue
		}
		direct++
		if !bytes.Contains(reasons, []byte(shortName(m.Path))) {
			t.Errorf("%s has no reason in DEVELOPERS.md", m.Path)
		}
	}
	if direct == 0 || direct > mostDirect {
		t.Errorf("%d direct dependencies; at most %d", direct, mostDirect)
	}
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

// licences are those that let the program be given away under its own, by words that their text has and words that it has
// not, with their SPDX identifiers (SPDX License List 3).
var licences = []struct{ id, has, lacks string }{
	{"Apache-2.0", "Apache License Version 2.0", ""},
	{"MIT", "Permission is hereby granted, free of charge, to any person obtaining a copy", ""},
	{"ISC", "Permission to use, copy, modify, and/or distribute this software", ""},
	{"BSD-3-Clause", "Neither the name", "All advertising materials"},
	{"BSD-2-Clause", "Redistribution and use in source and binary forms", "Neither the name"},
}

// licenceOf names the licences of a module, by every file of its folder that has one; "" where there is none, or one that is
// not known.
func licenceOf(dir string) string {
	var ids []string
	for _, pattern := range []string{"[Ll][Ii][Cc][Ee][Nn][CcSs]*", "COPYING*"} {
		names, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			return ""
		}
		for _, n := range names {
			if info, err := os.Stat(n); err != nil || info.IsDir() {
				continue
			}
			text, err := os.ReadFile(n)
			if err != nil {
				return ""
			}
			id := licenceIn(string(text))
			if id == "" {
				return ""
			}
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return strings.Join(slices.Compact(ids), " AND ")
}

// licenceIn recognises the text of a licence; "" for one that is not known.
func licenceIn(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	for _, l := range licences {
		if strings.Contains(text, l.has) && (l.lacks == "" || !strings.Contains(text, l.lacks)) {
			return l.id
		}
	}
	return ""
}

// Sentences of the licences' own texts, as SPDX lists them.
func TestLicencesAreNamed(t *testing.T) {
	const bsd = "Redistribution and use in source and binary forms, with or without\nmodification, are permitted provided that the following conditions are met:"
	for text, want := range map[string]string{
		"Apache License\n   Version 2.0, January 2004":                                                   "Apache-2.0",
		"Permission is hereby granted, free of charge, to any person obtaining a copy\nof this software": "MIT",
		bsd: "BSD-2-Clause",
		bsd + " 3. Neither the name of the copyright holder nor":                           "BSD-3-Clause",
		bsd + " 3. All advertising materials mentioning features 4. Neither the name of":   "",
		"Permission to use, copy, modify, and/or distribute this software for any purpose": "ISC",
		"GNU GENERAL PUBLIC LICENSE Version 3":                                             "", "All rights reserved.": "", "": "",
	} {
		if got := licenceIn(text); got != want {
			t.Errorf("%.40q: %q, not %q", text, got, want)
		}
	}
}
