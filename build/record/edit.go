package record

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/usual"
)

var (
	reportsKey = regexp.MustCompile(`^(?i:reports)[ \t]*:[ \t]*(.*?)[ \t]*$`)
	itemIndent = regexp.MustCompile(`^([ \t]*)-[ \t]`)
	topKey     = regexp.MustCompile(`^[^ \t#\r\n-]`)
)

// Edit is a change of the text of a record that keeps every byte which it is not about. ok is false for a way of writing that
// it does not know.
type Edit func(data []byte) (out []byte, ok bool)

// Edited is the text with changes made in turn.
func Edited(data []byte, edits ...Edit) (out []byte, ok bool) {
	for _, edit := range edits {
		if data, ok = edit(data); !ok {
			return nil, false
		}
	}
	return data, true
}

// WithReport adds a report to a record.
func WithReport(line string) Edit {
	return func(data []byte) ([]byte, bool) {
		lines := bytes.SplitAfter(data, []byte("\n"))
		end := headEnd(lines)
		if end < 0 {
			return nil, false
		}
		ending := endingOf(lines)
		for i := 1; i < end; i++ {
			m := reportsKey.FindSubmatch(bytes.TrimRight(lines[i], "\r\n"))
			switch {
			case m == nil:
			case len(m[1]) == 0 || m[1][0] == '#':
				return inBlock(lines, i, end, line, ending)
			case m[1][0] == '[':
				return inFlow(lines, i, end, line)
			default:
				return nil, false
			}
		}
		return insert(lines, end, "reports:"+ending+"  - "+line+ending), true
	}
}

// headEnd is the index of the line that closes the head; -1 for none.
func headEnd(lines [][]byte) int {
	if len(lines) == 0 || string(bytes.TrimRight(bytes.TrimPrefix(lines[0], []byte("\ufeff")), " \t\r\n")) != "---" {
		return -1
	}
	for i := 1; i < len(lines); i++ {
		if string(bytes.TrimRight(lines[i], " \t\r\n")) == "---" {
			return i
		}
	}
	return -1
}

// inBlock adds an item behind the last line of the list that begins under line at, in the way that its items are indented.
func inBlock(lines [][]byte, at, end int, line, ending string) ([]byte, bool) {
	indent, last := "", at
	for i := at + 1; i < end && !topKey.Match(lines[i]); i++ {
		m := itemIndent.FindSubmatch(lines[i])
		text := bytes.TrimSpace(lines[i])
		if m != nil && last == at {
			indent = string(m[1])
		}
		if len(text) > 0 && text[0] != '#' {
			last = i
		}
	}
	if last == at {
		return nil, false // a key without a value: the reader refuses it too
	}
	return insert(lines, last+1, indent+"- "+line+ending), true
}

// inFlow adds an item before the bracket that closes a list in flow style.
func inFlow(lines [][]byte, at, end int, line string) ([]byte, bool) {
	depth, quote, empty := 0, byte(0), true
	for i := at; i < end; i++ {
		from := 0
		if i == at {
			from = bytes.IndexByte(lines[i], '[')
		}
		for k := from; k < len(lines[i]); k++ {
			ch := lines[i][k]
			switch {
			case quote == '"' && ch == '\\':
				k++
			case quote != 0:
				if ch == quote {
					quote = 0
				}
			case ch == '#' && k > 0 && (lines[i][k-1] == ' ' || lines[i][k-1] == '\t'):
				k = len(lines[i])
			case ch == '"' || ch == '\'':
				quote, empty = ch, false
			case ch == '[' || ch == '{':
				empty = empty && depth == 0
				depth++
			case ch == ']' || ch == '}':
				depth--
				if depth == 0 {
					if !empty {
						line = ", " + line
					}
					return splice(lines, i, k, line), true
				}
			case ch != ' ' && ch != '\t' && ch != '\r' && ch != '\n':
				empty = false
			}
		}
	}
	return nil, false
}

// insert puts text before line at.
func insert(lines [][]byte, at int, text string) []byte { return splice(lines, at, 0, text) }

// splice puts text before byte k of line i.
func splice(lines [][]byte, i, k int, text string) []byte {
	var b bytes.Buffer
	for n, l := range lines {
		if n == i {
			b.Write(l[:k])
			b.WriteString(text)
			l = l[k:]
		}
		b.Write(l)
	}
	return b.Bytes()
}

// WithKey sets a key at the top of a record's head to a plain value of one line. A key that is not there comes behind the
// line of another one, else at the end of the head.
func WithKey(key, value, behind string) Edit {
	return func(data []byte) ([]byte, bool) {
		lines := bytes.SplitAfter(data, []byte("\n"))
		end := headEnd(lines)
		if end < 0 {
			return nil, false
		}
		ending, at := endingOf(lines), end
		for i := 1; i < end; i++ {
			switch keyOf(lines[i]) {
			case key:
				m := plainValue.FindSubmatch(lines[i])
				if m == nil {
					return nil, false
				}
				lines[i] = append(append(append([]byte{}, m[1]...), value...), m[2]...)
				return bytes.Join(lines, nil), true
			case behind:
				at = i + 1
			}
		}
		return insert(lines, at, key+": "+value+ending), true
	}
}

// plainValue is a line with a key and a plain value, parted before and behind the value.
var plainValue = regexp.MustCompile(`^([A-Za-z_-]+[ \t]*:[ \t]+)[^ \t\r\n#"'\[{&*!|>]+((?:[ \t]+#[^\r\n]*|[ \t]*)\r?\n?)$`)

// HasKey reports whether the head of a record has a key at its top.
func HasKey(data []byte, key string) bool {
	lines := bytes.SplitAfter(data, []byte("\n"))
	for i := 1; i < headEnd(lines); i++ {
		if keyOf(lines[i]) == key {
			return true
		}
	}
	return false
}

// withLines adds whole lines at the end of the head.
func withLines(data []byte, text string) ([]byte, bool) {
	lines := bytes.SplitAfter(data, []byte("\n"))
	end := headEnd(lines)
	if end < 0 {
		return nil, false
	}
	return insert(lines, end, strings.ReplaceAll(text, "\n", endingOf(lines))), true
}

// keyOf is the key that a line begins with, as the format spells it; "" for none.
func keyOf(line []byte) string {
	name, _, ok := strings.Cut(string(line), ":")
	if !ok {
		return ""
	}
	return usual.Key(strings.TrimRight(name, " \t"))
}

// keysOf names the key at the top of the head that each line belongs to; "" outside of the head.
func keysOf(lines [][]byte) []string {
	out, end, key := make([]string, len(lines)), headEnd(lines), ""
	for i := 1; i < end; i++ {
		if l := lines[i]; topKey.Match(l) && !bytes.ContainsAny(l[:1], "}]") {
			key = strings.Trim(keyOf(l), "\"'")
		}
		out[i] = key
	}
	return out
}

// Replace puts text in place of the lines of some keys, where the first of them is. Comments at the margin stay.
func Replace(text string, keys ...string) Edit {
	return func(data []byte) ([]byte, bool) {
		lines := bytes.SplitAfter(data, []byte("\n"))
		var out []byte
		put := false
		for i, key := range keysOf(lines) {
			within := slices.Contains(keys, key) && key != ""
			if within && !put {
				out, put = append(out, strings.ReplaceAll(text, "\n", endingOf(lines))...), true
			}
			if !within || lines[i][0] == '#' {
				out = append(out, lines[i]...)
			}
		}
		return out, put
	}
}

// Unremarked refuses a record in which the lines of a key hold a remark that replacing them would lose. A text in lines of its
// own that looks like one counts too.
func Unremarked(key string) Edit {
	return func(data []byte) ([]byte, bool) {
		lines := bytes.SplitAfter(data, []byte("\n"))
		for i, k := range keysOf(lines) {
			if k == key && lines[i][0] != '#' && remark.Match(inQuotes.ReplaceAll(lines[i], []byte("x"))) {
				return nil, false
			}
		}
		return data, true
	}
}

var (
	inQuotes = regexp.MustCompile(`"(?:\\.|[^"\\])*"|'[^']*'`)
	remark   = regexp.MustCompile(`[ \t]#`)
)

// Without is a record without the lines of a key: from there to the next one.
func Without(data []byte, key string) []byte {
	lines := bytes.SplitAfter(data, []byte("\n"))
	var out []byte
	for i, k := range keysOf(lines) {
		if k != key {
			out = append(out, lines[i]...)
		}
	}
	return out
}

// WithAll sets keys to their lines, where they are or else at the end of the head.
func WithAll(keys ...Key) Edit {
	return func(data []byte) ([]byte, bool) {
		for _, k := range keys {
			var ok bool
			if HasKey(data, k.Name) {
				data, ok = Replace(k.Text, k.Name)(data)
			} else {
				data, ok = withLines(data, k.Text)
			}
			if !ok {
				return nil, false
			}
		}
		return data, true
	}
}

// WithPlants puts other plants into a record. In one that stays of the same lot only the count changes; else the lines of its
// lots and counts are written anew.
func WithPlants(was, items []journal.Item) Edit {
	return func(data []byte) ([]byte, bool) {
		switch {
		case slices.Equal(was, items):
			return data, true
		case len(was) == 1 && len(items) == 1 && was[0].Lot == items[0].Lot && !HasKey(data, "items"):
			return WithKey("count", strconv.Itoa(items[0].Count), "lot")(data)
		}
		return Replace(PlantsText(items), "lot", "count", "items")(data)
	}
}

func endingOf(lines [][]byte) string {
	if bytes.HasSuffix(lines[0], []byte("\r\n")) {
		return "\r\n"
	}
	return "\n"
}
