package prose

import (
	"bytes"
	"strconv"

	east "github.com/yuin/goldmark/extension/ast"
)

// table names a table for those who cannot see it, marks its head's scope and the alignment of its
// cells, and tells of cells that GFM drops ("The remainder of the table's rows may vary in the
// number of cells … If greater, the excess is ignored", GFM 0.29, section 4.10).
func (j *job) table(t *east.Table, label string) {
	j.tables++
	name := label + " " + strconv.Itoa(j.tables)
	if j.latest != "" {
		name += ": " + j.latest
	}
	t.SetAttributeString("aria-label", []byte(name))
	for row := t.FirstChild(); row != nil; row = row.NextSibling() {
		_, head := row.(*east.TableHeader)
		for c := row.FirstChild(); c != nil; c = c.NextSibling() {
			dressCell(c.(*east.TableCell), head)
		}
		if head {
			continue
		}
		if n, beyond := j.cells(row.Pos(), len(t.Alignments)); n > len(t.Alignments) {
			j.warnf(at(beyond), RuleTableCells, `add a column to the head, or write \| for a stroke within a cell`,
				"the row has %d cells but the table %d columns; what is beyond is not shown", n, len(t.Alignments))
		}
	}
}

func dressCell(c *east.TableCell, head bool) {
	if head {
		c.SetAttributeString("scope", []byte("col"))
	}
	switch c.Alignment {
	case east.AlignLeft:
		c.SetAttributeString("class", []byte("to-left"))
	case east.AlignCenter:
		c.SetAttributeString("class", []byte("to-middle"))
	case east.AlignRight:
		c.SetAttributeString("class", []byte("to-right"))
	}
}

// cells counts the cells of the row that starts at offset, by goldmark's rule: a stroke begins the
// next cell unless a back slash is before it, and one at either end of the line does not count.
// beyond is where the first cell after limit begins.
func (j *job) cells(offset, limit int) (n, beyond int) {
	line := j.source[min(max(offset, 0), len(j.source)):]
	if end := bytes.IndexByte(line, '\n'); end >= 0 {
		line = line[:end]
	}
	trimmed := bytes.TrimLeft(line, " \t")
	start := offset + len(line) - len(trimmed)
	trimmed = bytes.TrimRight(trimmed, " \t\r")
	if bytes.HasPrefix(trimmed, []byte{'|'}) {
		trimmed, start = trimmed[1:], start+1
	}
	trimmed = bytes.TrimSuffix(trimmed, []byte{'|'})
	n, beyond = 1, start
	for i, c := range trimmed {
		if c == '|' && (i == 0 || trimmed[i-1] != '\\') {
			if n == limit {
				beyond = start + i + 1
			}
			n++
		}
	}
	return n, beyond
}
