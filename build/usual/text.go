// Package usual knows the usual form of what people write by hand in a journal: the lines of a head, dates and the names of
// files. It takes what is plainly meant, and nothing that could mean two things.
package usual

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"slipleaf/build/quantity"
)

// Fence reports whether a line is one around a head.
func Fence(line []byte) bool {
	return bytes.HasPrefix(line, []byte("---")) && len(bytes.TrimRight(line[3:], " \t")) == 0
}

// Fix is a text of a file at a place, both counted from 1, and what it was taken for.
type Fix struct {
	Line, Column int
	Old, As      string
}

// Apply gives the lines with the fixes made, from the last to the first, so that columns hold.
func Apply(lines []string, fixes []Fix) []string {
	out := slices.Clone(lines)
	for i := len(fixes) - 1; i >= 0; i-- {
		f := fixes[i]
		if f.Line < 1 || f.Line > len(out) {
			continue
		}
		l := []rune(out[f.Line-1])
		at := f.Column - 1
		if at < 0 || at > len(l) {
			continue
		}
		before, rest := string(l[:at]), string(l[at:])
		for _, q := range []string{"", "\"", "'"} {
			if after, ok := strings.CutPrefix(rest, q+f.Old+q); ok {
				out[f.Line-1] = before + f.As + after
				break
			}
		}
	}
	return out
}

var comment = regexp.MustCompile(`[ \t]+#[^"']*$`)

// Shown is a line for a message, without its comment and what could steer a terminal.
func Shown(s string) string {
	s = strings.TrimSpace(comment.ReplaceAllString(s, ""))
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return -1
		}
		return r
	}, s)
	if utf8.RuneCountInString(s) > 100 {
		s = string([]rune(s)[:100]) + "…"
	}
	return s
}

// DifferAt is how many characters two lines share at their beginning.
func DifferAt(a, b string) int {
	x, y := []rune(a), []rune(b)
	n := 0
	for n < len(x) && n < len(y) && x[n] == y[n] {
		n++
	}
	return n
}

// smartFence is the line around a head after a program has made its hyphens into dashes.
var smartFence = regexp.MustCompile(`^[-–—]{1,4}[ \t]*$`)

// Fences makes the two lines around a head of hyphens again.
func Fences(data []byte) []byte {
	if !bytes.Contains(data, []byte("–")) && !bytes.Contains(data, []byte("—")) {
		return data
	}
	lines := strings.Split(string(data), "\n")
	open := dashes(lines[0])
	for i := 1; open && i < len(lines); i++ {
		if dashes(lines[i]) {
			if !Fence([]byte(lines[i])) {
				lines[i] = "---"
			}
			if !Fence([]byte(lines[0])) {
				lines[0] = "---"
			}
			return []byte(strings.Join(lines, "\n"))
		}
	}
	return data
}

func dashes(line string) bool {
	return Fence([]byte(line)) || smartFence.MatchString(line) && strings.ContainsAny(line, "–—")
}

var (
	// AboveRange is a figure above the range of a test.
	AboveRange = regexp.MustCompile(`(:[ \x{a0}]*)>[ \x{a0}]*([0-9][0-9.,]*[ \x{a0}]*[^,}\]#\s]+)`)
	tightColon = regexp.MustCompile(`^([ ]*(?:- )?[A-Za-z][A-Za-z-]*):([^\s:/].*)$`)
	tightPair  = regexp.MustCompile(`([{,][ ]*[A-Za-z][A-Za-z-]*):([^\s:/"'])`)
	inchMark   = regexp.MustCompile(`([0-9])[ ]?(?:"|″|”|'')([ ]*(?:[,}\]]|$|#))`)
	flowComma  = regexp.MustCompile(`([0-9]),([0-9]{1,2})([^0-9,]|, )`)
	flowKey    = regexp.MustCompile(`:[ ]*[<>]?[0-9]+,[0-9]`)
)

// YAML writes lines of a head as the YAML that is plainly meant: tabs and no-break spaces as spaces, a space after a
// colon, a figure above a test's range, inches, a decimal comma in braces. whole: there are no fences.
func YAML(lines []string, whole bool) []string {
	out := slices.Clone(lines)
	from, to := 0, len(out)
	if !whole {
		from, to = 1, 0
		for i := 1; i < len(out); i++ {
			if Fence([]byte(out[i])) {
				to = i
				break
			}
		}
	}
	for i := from; i < to; i++ {
		l := strings.ReplaceAll(strings.ReplaceAll(out[i], "\t", "  "), "\u00a0", " ")
		if strings.HasPrefix(strings.TrimSpace(l), "#") {
			continue
		}
		l = AboveRange.ReplaceAllString(l, "$1$2")
		l = tightColon.ReplaceAllString(l, "$1: $2")
		if strings.Contains(l, "{") {
			l = tightPair.ReplaceAllString(l, "$1: $2")
			if flowKey.MatchString(l) {
				l = flowComma.ReplaceAllString(l, "$1.$2$3")
			}
		}
		if strings.Count(l, "\"")%2 == 1 || !strings.Contains(l, ": \"") {
			l = inchMark.ReplaceAllString(l, "$1 in$2")
		}
		out[i] = l
	}
	return out
}

var looseDate = regexp.MustCompile(`^([0-9]{4})[-./]([0-9]{1,2})[-./]([0-9]{1,2})$`)

// Date is a date with its zeros and hyphens; "" for what is no year, month and day.
func Date(s string) string {
	m := looseDate.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return ""
	}
	full := fmt.Sprintf("%s-%02s-%02s", m[1], m[2], m[3])
	if _, err := quantity.ParseDate(full); err != nil {
		return ""
	}
	return full
}

// Into puts the lines in which read differs from written into the bytes of the file.
func Into(data []byte, written, read string) []byte {
	was, is := strings.Split(written, "\n"), strings.Split(read, "\n")
	rest := bytes.TrimPrefix(data, []byte("\ufeff"))
	out := append([]byte(nil), data[:len(data)-len(rest)]...)
	for i := range was {
		out = append(out, is[i]...)
		rest = rest[len(was[i]):]
		n := 0
		switch {
		case bytes.HasPrefix(rest, []byte("\r\n")):
			n = 2
		case len(rest) > 0:
			n = 1
		}
		out, rest = append(out, rest[:n]...), rest[n:]
	}
	return out
}
