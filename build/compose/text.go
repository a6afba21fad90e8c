package compose

import (
	"regexp"
	"strings"
)

// section writes a key with a value that is not empty.
func section(b *strings.Builder, key, value string) {
	if value != "" {
		b.WriteString(key + ": " + value + "\n")
	}
}

// list writes a list of mappings; an item that says nothing is left out.
func list[T any](b *strings.Builder, key string, items []T) {
	lines := ""
	for _, i := range items {
		if text := flow(pairs(i)); text != "" {
			lines += "  - " + text + "\n"
		}
	}
	if lines != "" {
		b.WriteString(key + ":\n" + lines)
	}
}

// flow writes "{a: 1, b: 2}"; "" where every value is empty.
func flow(pairs []pair) string {
	var parts []string
	for _, p := range pairs {
		v := Line(p.value)
		switch {
		case v == "":
			continue
		case p.words:
			v = Quoted(v)
		default:
			v = scalar(v)
		}
		parts = append(parts, p.key+": "+v)
	}
	if len(parts) == 0 {
		return ""
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// names writes "[a, b]"; "" where there are none.
func names(all []string) string {
	var out []string
	for _, n := range all {
		if n = Line(n); n != "" {
			out = append(out, scalar(n))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// scalar is a text of one line, in quotes where YAML would take it for something else.
func scalar(v string) string {
	if !plain.MatchString(v) || reserved[strings.ToLower(v)] {
		return Quoted(v)
	}
	return v
}

// plain are values that need no quotes; reserved are those of them that YAML takes for something else than text.
var (
	plain    = regexp.MustCompile(`^[A-Za-z0-9<][A-Za-z0-9 .<%/°µ-]*$`)
	reserved = map[string]bool{"null": true, "yes": true, "no": true, "on": true, "off": true, "y": true, "n": true}
)

// Quoted writes a text of one line in double quotes.
func Quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

// Line is a text on one line: spaces, breaks and characters that do not show are one space each run.
func Line(s string) string {
	return spaces.ReplaceAllString(strings.Trim(strings.Map(visible, strings.ToValidUTF8(s, " ")), " "), " ")
}

var spaces = regexp.MustCompile(` +`)

// visible is a character, or a space where it shows nothing.
func visible(r rune) rune {
	if blank(r) {
		return ' '
	}
	return r
}

// blank reports whether a character shows nothing: a control, any space, or one that steers the direction or the order of
// bytes. The tankside page's script has the same list.
func blank(r rune) bool {
	return r < 0x20 || r >= 0x7f && r <= 0xa0 || r == 0x1680 || r >= 0x2000 && r <= 0x200a || r >= 0x2028 && r <= 0x202f || r == 0x205f ||
		r >= 0x2066 && r <= 0x2069 || r == 0x3000 || r == 0xfeff || r >= 0xfffd && r <= 0xffff
}

// body is the Markdown of an entry: lines end as on every system of ours, blank lines around it are gone.
func body(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(strings.ToValidUTF8(s, " "), "\r\n", "\n"), "\r", "\n")
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(strings.Map(visible, l), " ")
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n")
}
