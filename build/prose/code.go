package prose

import (
	"bytes"
	"strings"

	"github.com/alecthomas/chroma/v2"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"
)

// maxColoured is the size in bytes beyond which code stays plain: colouring is slow, and nobody
// reads that much in a diary.
const maxColoured = 64 << 10

func (w *writer) fencedCode(out util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	f := n.(*ast.FencedCodeBlock)
	language := unescape(f.Language(source))
	out.WriteString("<pre><code")
	if language != "" {
		attribute(out, " class", "language-"+language)
	}
	out.WriteByte('>')
	w.code(out, lines(f, source), language)
	out.WriteString("</code></pre>\n")
	return ast.WalkSkipChildren, nil
}

func (w *writer) plainCode(out util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		out.WriteString("<pre><code>")
		w.words.RawWrite(out, lines(n, source))
		out.WriteString("</code></pre>\n")
	}
	return ast.WalkSkipChildren, nil
}

// lines gives the text of a block with plain line ends.
func lines(n ast.Node, source []byte) []byte {
	var b bytes.Buffer
	for i := range n.Lines().Len() {
		line := n.Lines().At(i)
		b.Write(line.Value(source))
	}
	return bytes.ReplaceAll(b.Bytes(), []byte("\r\n"), []byte{'\n'})
}

// code prints code, coloured if its language is known. Colour never changes a character: where the
// lexer's pieces do not add up to the code, it is printed plain.
func (w *writer) code(out util.BufWriter, code []byte, language string) {
	lexer := w.languages[strings.ToLower(language)]
	pieces, ok := []chroma.Token(nil), false
	if lexer != nil && len(code) <= maxColoured {
		pieces, ok = cut(lexer, string(code))
	}
	if !ok {
		w.words.RawWrite(out, code)
		return
	}
	for _, p := range pieces {
		class := classOf(p.Type)
		if class != "" {
			out.WriteString(`<span class="`)
			out.WriteString(class)
			out.WriteString(`">`)
		}
		w.words.RawWrite(out, []byte(p.Value))
		if class != "" {
			out.WriteString("</span>")
		}
	}
}

// cut runs a lexer. Some of chroma's lexers panic on code that is no code; that is not worth a page.
func cut(lexer chroma.Lexer, code string) (pieces []chroma.Token, ok bool) {
	defer func() {
		if recover() != nil {
			pieces, ok = nil, false
		}
	}()
	iterator, err := chroma.Coalesce(lexer).Tokenise(nil, code)
	if err != nil {
		return nil, false
	}
	rest := code
	for _, t := range iterator.Tokens() {
		if !strings.HasPrefix(rest, t.Value) {
			return nil, false
		}
		rest = rest[len(t.Value):]
		pieces = append(pieces, t)
	}
	return pieces, rest == ""
}
