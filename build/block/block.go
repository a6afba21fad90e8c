// Package block reads and writes the few plain lines in which a recipient describes a tank: the request
// email contains them blank, the "will it suit" form fills them in, and send reads them back out of the
// message. They survive what mail does to text: quoting, other line endings, non-breaking spaces. It is pure.
//
//	=== slipleaf: my tank ===
//	lot: HZ-0603
//	temperature: 24 C
//	gh: 8 dGH
//	co2: no
//	=== slipleaf: end ===
//
// A line is KEY: VALUE, in any order; what is empty was not filled in, "?" says that it is not known, and what is in
// brackets is an example. Units are written as in a journal and never guessed. A line that is not understood is noted
// and left out.
package block

import (
	"errors"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
)

// Block is what the lines say. Absent readings were not filled in.
type Block struct {
	Lot       string
	Count     int // 0: not said
	Units     quantity.System
	UnitsSaid bool
	Region    string // as written, in capitals; the journal's reader checks it
	Language  string // of the care sheet, BCP 47 in small letters; "" for the journal's
	How       string // post | by-hand | ""
	Name      string // private: it goes into the private part of a record and nowhere else
	Water     journal.Parameters
	Tank      *journal.Recipient // nil: nothing was said of it
}

// Note is what was wrong with a line, which was left out.
type Note struct {
	Line int // of the text that was read, from 1
	Text string
}

// The limits of what is read: more is no message from a person.
const (
	MaxBytes = 64 << 10 // of the text
	MaxLine  = 300      // bytes of what is behind a key
	MaxLines = 200      // of a block
)

// The errors of [Parse].
var (
	ErrTooLong = errors.New("the text has more than 64 KiB; give the message alone")
	ErrNoBlock = errors.New(`no tank details found; they begin with the line "` + begin + `"`)
)

var errLine = errors.New("the line is too long")

// The lines around a block. They are known by their words: mail programs change the signs.
const (
	begin = "=== slipleaf: my tank ==="
	end   = "=== slipleaf: end ==="
)

// Parse finds the block in a message and reads it. Of several, as when an answer quotes the empty one, it takes the one
// that says most, and the first of equals. Notes tell what was left out, by line.
func Parse(text string) (Block, []Note, error) {
	if len(text) > MaxBytes {
		return Block{}, nil, ErrTooLong
	}
	lines := cleaned(text)
	best, found, most := reader{}, false, -1
	for i := 0; i < len(lines); i++ {
		if words(lines[i]) != words(begin) {
			continue
		}
		r := reader{}
		j := i + 1
		for ; j < len(lines) && words(lines[j]) != words(end) && words(lines[j]) != words(begin); j++ {
			r.line(j+1, lines[j])
		}
		if j == len(lines) {
			r.note(j, `the block has no last line "`+end+`"; it was read to the end of the text`)
		}
		if r.said > most {
			best, found, most = r, true, r.said
		}
		i = j - 1
	}
	if !found {
		return Block{}, nil, ErrNoBlock
	}
	return best.block, best.notes, nil
}

// Lines reads lines of a block without those around it, as a command line gives them: parts are kept apart by line
// ends, semicolons or commas, and a part without a key belongs to the one before it.
func Lines(text string) (Block, []Note, error) {
	if len(text) > MaxBytes {
		return Block{}, nil, ErrTooLong
	}
	r := reader{}
	for i, l := range parts(text) {
		r.line(i+1, l)
	}
	return r.block, r.notes, nil
}

// parts splits at line ends, semicolons and commas before a key.
func parts(text string) []string {
	var out []string
	for _, l := range cleaned(text) {
		for part := range strings.FieldsFuncSeq(l, func(r rune) bool { return r == ',' || r == ';' }) {
			_, _, keyed := cut(part)
			if !keyed && len(out) > 0 {
				out[len(out)-1] += "," + part
				continue
			}
			out = append(out, part)
		}
	}
	return out
}

// cleaned splits a message into lines without the marks of quoting and with plain spaces.
func cleaned(text string) []string {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		l = strings.Map(plain, l)
		for {
			l = strings.TrimSpace(l)
			rest, quoted := strings.CutPrefix(l, ">")
			if !quoted {
				break
			}
			l = rest
		}
		lines[i] = l
	}
	return lines
}

// plain makes every space a plain one and drops what cannot be seen.
func plain(r rune) rune {
	switch r {
	case '\t', '\u00a0', '\u2007', '\u2009', '\u202f', '\u3000':
		return ' '
	case '\u200b', '\u200c', '\u200d', '\u2060', '\ufeff', '\u00ad':
		return -1
	case '\uff1a':
		return ':'
	}
	if r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' {
		return -1
	}
	return r
}

// words keeps the letters of a line, in small ones, so that a rule drawn otherwise is still the same line.
func words(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r < 'a' || r > 'z' }), " ")
}

// cut splits a line into key and value at the first colon or sign of equality.
func cut(l string) (key, value string, ok bool) {
	i := strings.IndexAny(l, ":=")
	if i < 0 {
		return "", "", false
	}
	key = strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(l[:i]), "-", " ")), " ")
	return key, strings.TrimSpace(l[i+1:]), key != ""
}

// reader gathers the lines of one block.
type reader struct {
	block Block
	notes []Note
	seen  map[string]bool
	said  int // lines that said something
	lines int
}

func (r *reader) note(line int, text string) {
	if len(r.notes) < MaxLines {
		r.notes = append(r.notes, Note{line, text})
	}
}

// line reads one line.
func (r *reader) line(at int, l string) {
	if r.lines++; l == "" || r.lines > MaxLines {
		if r.lines == MaxLines+1 {
			r.note(at, "the block goes on for too long; the rest was left out")
		}
		return
	}
	key, value, ok := cut(l)
	f := fieldOf(key)
	switch {
	case !ok:
		r.note(at, "not KEY: VALUE, left out: "+spelling.Clip(l))
		return
	case f == nil:
		r.note(at, "unknown key, left out: "+spelling.Clip(key))
		return
	}
	if value = filled(value); value == "" {
		return
	}
	if len(value) > MaxLine {
		r.note(at, errLine.Error()+", left out: "+spelling.Clip(l))
		return
	}
	if r.seen[key] {
		r.note(at, key+" is given twice; the first is used")
		return
	}
	if err := f.read(&r.block, value); err != nil {
		r.note(at, key+": "+err.Error())
		return
	}
	if r.seen == nil {
		r.seen = map[string]bool{}
	}
	r.seen[key] = true
	r.said++
}

// filled is what somebody wrote: without the example in brackets; "" for a dash or dots.
func filled(value string) string {
	if i := strings.LastIndexByte(value, '('); i >= 0 && strings.HasSuffix(value, ")") {
		value = strings.TrimSpace(value[:i])
	}
	return said(value)
}

// said is "" for a dash or dots, and "?" for words that say as much.
func said(value string) string {
	switch strings.Trim(value, " .-_…–—") {
	case "":
		return ""
	case "?", "unknown", "not known", "don't know", "do not know", "no idea":
		return "?"
	}
	return value
}
