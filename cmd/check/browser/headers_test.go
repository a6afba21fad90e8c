//go:build browser

package browser

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strconv"
	"strings"
)

// headerRule is one [[headers]] table of netlify.toml: a path, which may end in /*, and what is sent.
type headerRule struct {
	path   string
	values map[string]string
}

// matches reports whether a rule speaks of a request's path, without regard to case as the host has it. A part that
// begins with a colon stands for any one part.
func (h headerRule) matches(p string) bool {
	rule := strings.Split(strings.ToLower(h.path), "/")
	parts := strings.Split(strings.ToLower(p), "/")
	for i, r := range rule {
		switch {
		case r == "*" && i == len(rule)-1:
			return i < len(parts)
		case i >= len(parts):
			return false
		case strings.HasPrefix(r, ":") && parts[i] != "":
		case r != parts[i]:
			return false
		}
	}
	return len(rule) == len(parts)
}

// readHeaderRules reads the header rules of a netlify.toml; none when there is no such file. It reads the part of
// TOML that the file uses: tables, and keys with strings on one line.
func readHeaderRules(file string) ([]headerRule, error) {
	text, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	rules, err := headerRules(string(text))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return rules, nil
}

// headerRules parses the text of a netlify.toml. Errors name the line.
func headerRules(text string) ([]headerRule, error) {
	var rules []headerRule
	table := ""
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
			continue
		case strings.HasPrefix(line, "["):
			if table = line; table == "[[headers]]" {
				rules = append(rules, headerRule{values: map[string]string{}})
			}
			continue
		case table != "[[headers]]" && table != "[headers.values]":
			continue
		}
		key, value, err := setting(line)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
		if len(rules) == 0 {
			return nil, fmt.Errorf("line %d: values before any [[headers]]", i+1)
		}
		last := &rules[len(rules)-1]
		if table == "[[headers]]" && key == "for" {
			last.path = value
		} else if table == "[headers.values]" {
			last.values[key] = value
		}
	}
	for _, r := range rules {
		if r.path == "" || len(r.values) == 0 {
			return nil, fmt.Errorf("a [[headers]] table without a path or without values: the host drops it silently")
		}
	}
	return rules, nil
}

// setting reads `key = "value"`, with a bare or quoted key and a basic or literal string.
func setting(line string) (key, value string, err error) {
	key, value, ok := strings.Cut(line, "=")
	if !ok {
		return "", "", fmt.Errorf("%q is no setting", line)
	}
	key, value = strings.Trim(strings.TrimSpace(key), `"'`), strings.TrimSpace(value)
	if len(value) > 1 && value[0] == '\'' && value[len(value)-1] == '\'' {
		return key, value[1 : len(value)-1], nil
	}
	value, err = strconv.Unquote(value)
	if err != nil {
		return "", "", fmt.Errorf("%s: not a string on one line", key)
	}
	return key, value, nil
}
