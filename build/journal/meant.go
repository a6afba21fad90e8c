package journal

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"slipleaf/build/head"
	"slipleaf/build/quantity"
)

// What is plainly meant is taken: a file is read in its usual form, with as many lines as it has, and a note on each line
// that was read otherwise than it is written. The usual form is what `proof --fix` writes, so that both mean the same.

// fix is a text of a file at a place and what it was taken for.
type fix struct {
	line, column int
	old, as      string
}

// takeAs notes that a value was taken for something else; "" for nothing else.
func (d *decoder) takeAs(n *head.Node, as string) {
	if as != "" && n.Text != as && !n.Block {
		line, column := n.Place()
		d.fixes = append(d.fixes, fix{line, column, n.Text, as})
	}
}

// applied are the lines with the fixes made, from the last to the first, so that columns hold.
func applied(lines []string, fixes []fix) []string {
	out := append([]string(nil), lines...)
	for i := len(fixes) - 1; i >= 0; i-- {
		f := fixes[i]
		if f.line < 1 || f.line > len(out) {
			continue
		}
		l := []rune(out[f.line-1])
		at := f.column - 1
		if at < 0 || at > len(l) {
			continue
		}
		before, rest := string(l[:at]), string(l[at:])
		for _, q := range []string{"", "\"", "'"} {
			if after, ok := strings.CutPrefix(rest, q+f.old+q); ok {
				out[f.line-1] = before + f.as + after
				break
			}
		}
	}
	return out
}

// meant reads a file whose text is not in its usual form: what the fields took otherwise is written so, and where there
// are errors, what is no YAML but plainly meant. The reading of that counts only where it has no more errors, and for a
// guess at YAML fewer.
func (p *part) meant(d *decoder, data []byte) {
	text := straightFences(p.kind, data)
	first := *d
	p.once(d, text)
	for range 3 {
		guessed := d.out.Errors() > 0
		if !guessed && len(d.fixes) == 0 {
			break
		}
		lines := strings.Split(string(text), "\n")
		next := applied(lines, d.fixes)
		if guessed {
			next = asYAML(p.kind, next)
		}
		joined := []byte(strings.Join(next, "\n"))
		if string(joined) == string(text) {
			break
		}
		again, other := first, *p
		other.once(&again, joined)
		before, after := unread(d.out), unread(again.out)
		if after > before || guessed && len(d.fixes) == 0 && after >= before {
			break
		}
		keep := p.found
		*p, *d, text = other, again, joined
		p.found = keep
	}
	p.usual = text
	d.understood(string(data), string(text))
}

// unread weighs what could not be read: a fault of YAML hides all that follows.
func unread(cs Complaints) int {
	n := 0
	for _, c := range cs {
		switch {
		case c.Rule == rules[ruleYAML].Name || c.Rule == rules[ruleYAMLFeature].Name:
			n += 2 * maxComplaints
		case c.Severity == Error:
			n++
		}
	}
	return n
}

// understood notes the lines that were read otherwise than they are written.
func (d *decoder) understood(written, read string) {
	if written == read {
		return
	}
	was, is := strings.Split(written, "\n"), strings.Split(read, "\n")
	hidden := hiddenLines(d.file, was)
	for i := range was {
		if i >= len(is) || was[i] == is[i] {
			continue
		}
		message, hint := "this was taken for: "+shortened(strings.TrimSpace(comment.ReplaceAllString(is[i], ""))), "slipleaf proof --fix writes it so"
		switch {
		case hidden[i]:
			message = "this line was taken for its usual form"
		case aboveRange.MatchString(was[i]):
			hint = "the figure is at least that: dilute the water and test again; slipleaf proof --fix writes it so"
		}
		d.complain(ruleTaken, i+1, 1+differAt(was[i], is[i]), message, hint)
	}
}

var comment = regexp.MustCompile(`[ \t]+#[^"']*$`)

// shortened is a line for a message, without what could steer a terminal.
func shortened(s string) string {
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

// differAt is how many characters two lines share at their beginning.
func differAt(a, b string) int {
	x, y := []rune(a), []rune(b)
	n := 0
	for n < len(x) && n < len(y) && x[n] == y[n] {
		n++
	}
	return n
}

// smartFence is the line around a head after a program has made its hyphens into dashes.
var smartFence = regexp.MustCompile(`^[-–—]{2,4}[ \t]*$`)

// straightFences makes the two lines around a head of hyphens again.
func straightFences(k kind, data []byte) []byte {
	if k == journalFile || k == friendFile || !bytes.Contains(data, []byte("–")) && !bytes.Contains(data, []byte("—")) {
		return data
	}
	lines := strings.Split(string(data), "\n")
	open := dashes(lines[0])
	for i := 1; open && i < len(lines); i++ {
		if dashes(lines[i]) {
			if !isFence([]byte(lines[i])) {
				lines[i] = "---"
			}
			if !isFence([]byte(lines[0])) {
				lines[0] = "---"
			}
			return []byte(strings.Join(lines, "\n"))
		}
	}
	return data
}

func dashes(line string) bool {
	return isFence([]byte(line)) || smartFence.MatchString(line) && strings.ContainsAny(line, "–—")
}

var (
	aboveRange = regexp.MustCompile(`(:[ \x{a0}]*)>[ \x{a0}]*([0-9][0-9.,]*[ \x{a0}]*[^,}\]#\s]+)`)
	tightColon = regexp.MustCompile(`^([ ]*(?:- )?[A-Za-z][A-Za-z-]*):([^\s:/].*)$`)
	tightPair  = regexp.MustCompile(`([{,][ ]*[A-Za-z][A-Za-z-]*):([^\s:/"'])`)
	inchMark   = regexp.MustCompile(`([0-9])[ ]?(?:"|″|”|'')([ ]*(?:[,}\]]|$|#))`)
	flowComma  = regexp.MustCompile(`([0-9]),([0-9]{1,2})([^0-9,]|, )`)
	flowKey    = regexp.MustCompile(`:[ ]*[<>]?[0-9]+,[0-9]`)
)

// asYAML writes lines of a head as the YAML that is plainly meant: tabs and no-break spaces as spaces, a space after a
// colon, a figure above a test's range, inches, a decimal comma in braces.
func asYAML(k kind, lines []string) []string {
	out := append([]string(nil), lines...)
	from, to := 0, len(out)
	if k != journalFile {
		from, to = 1, 0
		for i := 1; i < len(out); i++ {
			if isFence([]byte(out[i])) {
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
		l = aboveRange.ReplaceAllString(l, "$1$2")
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

// fullDate is a date with its zeros and hyphens; "" for what is no year, month and day.
func fullDate(s string) string {
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
