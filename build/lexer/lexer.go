// Package lexer has the languages that are coloured on pages and on terminals: what a journal, its site and small programs
// around it are written in. They are chroma's own files; all of its three hundred would make the program a sixth larger.
package lexer

import (
	"embed"
	"io/fs"
	"strings"

	"github.com/alecthomas/chroma/v2"
)

//go:embed lexers/*.xml
var files embed.FS

// Languages finds the lexer of a language by its name or alias in lower case. Guessing by file patterns, which chroma also
// offers, would colour a language called "growth.txt".
type Languages map[string]chroma.Lexer

// New reads the languages.
func New() Languages {
	registry, known := chroma.NewLexerRegistry(), Languages{}
	names, err := fs.Glob(files, "lexers/*.xml")
	if err != nil {
		panic(err) // the pattern is ours
	}
	for _, name := range names {
		lexer := registry.Register(chroma.MustNewXMLLexer(files, name))
		config := lexer.Config()
		for _, n := range append([]string{config.Name}, config.Aliases...) {
			if n = strings.ToLower(n); known[n] == nil {
				known[n] = lexer
			}
		}
	}
	return known
}
