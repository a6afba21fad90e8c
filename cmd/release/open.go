package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
)

// opening is how somebody who never opened a terminal starts the program, in English and in German. The program is not
// signed, which both Windows and macOS ask about: what to compare first is said before how to go on.
func opening(s system) []string {
	steps := map[string][]string{
		"windows": {
			"Right-click the downloaded file, choose Extract All, and open the new folder.",
			"Double-click slipleaf.exe. Windows does not know the program and may stop it: compare the checksum of the download first (below), then choose More info, Run anyway.",
			"Your browser opens with the desk; the first time with a page that begins your journal, or opens the demonstration. Keep the small black window open while you work; closing it ends the program.",
			"",
			"Mit der rechten Maustaste auf die Datei klicken, „Alle extrahieren“ wählen und den neuen Ordner öffnen.",
			"slipleaf.exe doppelt anklicken. Windows kennt das Programm nicht und hält es vielleicht an: erst die Prüfsumme vergleichen (unten), dann „Weitere Informationen“, „Trotzdem ausführen“.",
			"Im Browser öffnet sich der Arbeitstisch, beim ersten Mal mit einer Seite, die das Tagebuch beginnt oder ein Beispiel öffnet. Das kleine schwarze Fenster bleibt offen, solange Sie arbeiten; wird es geschlossen, endet das Programm.",
			"",
			"Checksum, Prüfsumme: certutil -hashfile FILE SHA256",
		},
		"darwin": {
			"Double-click the downloaded file to unpack it.",
			"Double-click slipleaf. macOS does not know the program and stops it: compare the checksum of the download first (below), then open System Settings, Privacy & Security, and choose Open Anyway.",
			"Your browser opens with the desk; the first time with a page that begins your journal, or opens the demonstration. Keep the terminal window open while you work; closing it ends the program.",
			"",
			"Die Datei doppelt anklicken; sie wird entpackt.",
			"slipleaf doppelt anklicken. macOS kennt das Programm nicht und hält es an: erst die Prüfsumme vergleichen (unten), dann in den Systemeinstellungen unter „Datenschutz & Sicherheit“ auf „Dennoch öffnen“ klicken.",
			"Im Browser öffnet sich der Arbeitstisch, beim ersten Mal mit einer Seite, die das Tagebuch beginnt oder ein Beispiel öffnet. Das Terminalfenster bleibt offen, solange Sie arbeiten; wird es geschlossen, endet das Programm.",
			"",
			"Checksum, Prüfsumme: shasum -a 256 FILE",
		},
		"linux": {
			"Unpack it: tar xzf FILE",
			"Start slipleaf in the new folder by a double click or as ./slipleaf.",
			"Your browser opens with the desk, the first time with a page that begins your journal, or opens the demonstration; without a browser, the address is printed. Ctrl-C ends the program.",
			"",
			"Entpacken: tar xzf DATEI",
			"slipleaf im neuen Ordner mit einem Doppelklick oder als ./slipleaf starten.",
			"Im Browser öffnet sich der Arbeitstisch, beim ersten Mal mit einer Seite, die das Tagebuch beginnt oder ein Beispiel öffnet; gibt es keinen Browser, steht die Adresse im Terminal. Strg-C beendet das Programm.",
			"",
			"Checksum, Prüfsumme: sha256sum FILE",
		},
	}
	return steps[s.os]
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
		steps := opening(m.system)
		rows = append(rows, row{m.name, m.file, fmt.Sprintf("%.1f MB", float64(len(m.data))/1e6), m.sum(), steps[0:3], steps[4:7], steps[8]})
	}
	var b bytes.Buffer
	if err := template.Must(template.New("").Parse(pageHTML)).Execute(&b, map[string]any{"Version": version, "Rows": rows}); err != nil {
		panic(err) // the template is ours, and a buffer takes everything
	}
	return b.Bytes()
}
