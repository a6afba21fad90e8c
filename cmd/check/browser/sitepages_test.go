//go:build browser

package browser

import (
	"path/filepath"
	"slices"
	"strings"
)

// pagesPerKind is how many pages of a kind are looked at: the first and the last, by path.
const pagesPerKind = 2

// pages lists the paths of all HTML pages under dir as a browser asks for them, sorted.
func pages(dir string) ([]string, error) {
	all, err := files(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, f := range all {
		f = filepath.ToSlash(f)
		if strings.HasSuffix(f, ".html") && f != "sheets/index.html" { // the blank index that keeps servers from listing the sheets
			out = append(out, "/"+strings.TrimSuffix(f, "index.html"))
		}
	}
	slices.Sort(out)
	return out, nil
}

// some picks at most n pages of every kind: the first, the last and those evenly between.
func some(paths []string, n int) []string {
	kinds := map[string][]string{}
	for _, p := range paths {
		kinds[kindOf(p)] = append(kinds[kindOf(p)], p)
	}
	var out []string
	for _, of := range kinds {
		if len(of) <= n {
			out = append(out, of...)
			continue
		}
		for i := range n {
			at := 0
			if n > 1 {
				at = i * (len(of) - 1) / (n - 1)
			}
			out = append(out, of[at])
		}
	}
	slices.Sort(out)
	return out
}

// kindOf names the kind of a page by its path: names of tanks, plants, days and codes fall away.
func kindOf(path string) string {
	parts := strings.Split(strings.Trim(path, "/"), "/")
	switch {
	case len(parts) == 1:
		return parts[0]
	case len(parts) == 2:
		return parts[0] + "/*"
	case parts[0] == "sheets":
		return "sheets/*/" + strings.Join(parts[2:], "/")
	}
	return parts[0] + "/*/*"
}

// having keeps the pages of some kinds.
func having(paths []string, keep func(kind string) bool) []string {
	var out []string
	for _, p := range paths {
		if keep(kindOf(p)) {
			out = append(out, p)
		}
	}
	return out
}
