package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
)

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
