package main

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"strings"
)

// open tells how somebody who never opened a terminal starts the program, in English and in German, and how the download is
// checked. The program is not signed, which both Windows and macOS ask about: what to compare first is said before how to
// go on.
//
//go:embed open
var open embed.FS

// opening is what it says of a system.
func opening(s system) []byte {
	text, err := open.ReadFile("open/" + s.os + ".txt")
	if err != nil {
		panic(err) // there is a file for each of systems
	}
	return text
}

//go:embed page.html
var pageHTML string

// page links the archives with their sizes, checksums and how to open each.
func page(all []made, version string) []byte {
	type row struct {
		Name, File, Size, Sum string
		English, German       []string
		Check                 string
	}
	var rows []row
	for _, m := range all {
		steps := strings.Split(string(opening(m.system)), "\n")
		rows = append(rows, row{m.name, m.file, fmt.Sprintf("%.1f MB", float64(len(m.data))/1e6), m.sum(), steps[0:3], steps[4:7], steps[8]})
	}
	var b bytes.Buffer
	if err := template.Must(template.New("").Parse(pageHTML)).Execute(&b, map[string]any{"Version": version, "Rows": rows}); err != nil {
		panic(err) // the template is ours, and a buffer takes everything
	}
	return b.Bytes()
}
