package journal

import (
	"bytes"
	"strings"

	"slipleaf/build/head"
	"slipleaf/build/listing"
	"slipleaf/build/usual"
)

// What is plainly meant is taken: a file is read in its usual form, with as many lines as it has, and a note on each line
// that was read otherwise than it is written. The usual form is what `proof --fix` writes, so that both mean the same.

// takeAs notes that a value was taken for something else; "" for nothing else.
func (d *decoder) takeAs(n *head.Node, as string) {
	if as != "" && n.Text != as && !n.Block {
		line, column := n.Place()
		d.fixes = append(d.fixes, usual.Fix{Line: line, Column: column, Old: n.Text, As: as})
	}
}

// meant reads a file whose text is not in its usual form: what the fields took otherwise is written so, and where there
// are errors, what is no YAML but plainly meant. The reading of that counts only where it has no more errors, and for a
// guess at YAML fewer.
func (p *part) meant(d *decoder, data []byte) {
	text := data
	if p.Kind != listing.JournalFile && p.Kind != listing.FriendFile {
		text = usual.Fences(data)
	}
	first := *d
	p.once(d, text)
	try := func(next []string, better int) bool {
		joined := []byte(strings.Join(next, "\n"))
		if bytes.Equal(joined, text) {
			return false
		}
		again, other := first, *p
		other.once(&again, joined)
		if unread(again.out)+better > unread(d.out) {
			return false
		}
		keep := p.File
		*p, *d, text = other, again, joined
		p.File = keep
		return true
	}
	for range 3 {
		lines := strings.Split(string(text), "\n")
		// The guess at YAML is of the lines as they were written: of 24,5 C in braces the fields see 24, and take it for 24 C.
		if d.out.Errors() > 0 && try(usual.YAML(lines, p.Kind == listing.JournalFile), 1) {
			continue
		}
		if len(d.fixes) == 0 || !try(usual.Apply(lines, d.fixes), 0) {
			break
		}
	}
	p.usual = text
	if !bytes.Equal(data, text) {
		d.understood(string(data), string(text))
	}
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
	was, is := strings.Split(written, "\n"), strings.Split(read, "\n")
	hidden := hiddenLines(d.file, was)
	for i := range was {
		if i >= len(is) || was[i] == is[i] {
			continue
		}
		message, hint := "this was taken for: "+usual.Shown(is[i]), "slipleaf proof --fix writes it so"
		switch {
		case hidden[i]:
			message = "this line was taken for its usual form"
		case usual.AboveRange.MatchString(was[i]):
			hint = "the figure is at least that: dilute the water and test again; slipleaf proof --fix writes it so"
		}
		d.complain(ruleTaken, i+1, 1+usual.DifferAt(was[i], is[i]), message, hint)
	}
}
