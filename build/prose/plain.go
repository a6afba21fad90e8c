package prose

import (
	"bufio"
	"bytes"
	stdhtml "html"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/renderer/html"
)

// plain gives the words within n without any markup; alt says whether a photo's description counts.
// The result is good until the next call.
func (j *job) plain(n node, alt bool) []byte {
	j.buffer.Reset()
	j.appendPlain(n, alt)
	return bytes.TrimSpace(j.buffer.Bytes())
}

func (j *job) appendPlain(n node, alt bool) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *ast.Text:
			j.appendText(c)
		case *ast.String:
			j.buffer.Write(c.Value)
		case *ast.AutoLink:
			j.buffer.Write(c.Label(j.source))
		case *ast.RawHTML:
			for i := range c.Segments.Len() {
				segment := c.Segments.At(i)
				j.buffer.Write(segment.Value(j.source))
			}
		case *picture:
			if alt {
				j.buffer.WriteString(c.alt)
			}
		case *ast.Image:
			if alt {
				j.appendPlain(c, alt)
			}
		default:
			j.appendPlain(c, alt)
		}
	}
}

func (j *job) appendText(t *ast.Text) {
	value := t.Segment.Value(j.source)
	if t.IsRaw() {
		j.buffer.Write(bytes.ReplaceAll(value, []byte{'\n'}, []byte{' '}))
	} else if bytes.ContainsAny(value, marked) {
		j.buffer.WriteString(unescape(value))
	} else {
		j.buffer.Write(value)
	}
	if t.SoftLineBreak() || t.HardLineBreak() {
		j.buffer.WriteByte(' ')
	}
}

// marked holds the characters that make a text more than its characters.
const marked = "\\&"

// unescape resolves backslashes and entities as CommonMark does, in one pass. goldmark writes what
// it resolves as HTML, where only four characters are escaped; undoing that is exact.
func unescape(value []byte) string {
	if !bytes.ContainsAny(value, marked) {
		return string(value)
	}
	var b bytes.Buffer
	w := bufio.NewWriterSize(&b, 2*len(value)+16)
	html.DefaultWriter.Write(w, value)
	w.Flush() // a buffer takes everything
	return stdhtml.UnescapeString(b.String())
}

// oneLine turns each run of white space into one space.
func oneLine(b []byte) []byte { return bytes.Join(bytes.Fields(b), []byte{' '}) }
