package message

import (
	"cmp"
	"strings"
)

var (
	blockBegins  = pattern(`(?i)slipleaf: my tank`)
	blockEnds    = pattern(`(?i)slipleaf: end`)
	answered     = pattern(`(?i)^(on|am)\b.{0,80}\b(wrote|schrieb)\b.*:$|^-{2,}\s*(original message|ursprüngliche nachricht)`)
	decimalComma = pattern(`(\d),(\d{1,2})(\D|$)`)
	nearly       = pattern(`(?i)(\d+(?:\.\d+)?)[- ]?ish\b`)
	half         = pattern(`(?i)\b(\d+) and a half\b|\b(\d+)½`)
)

// withoutBlock is a message without the plain lines in it.
func withoutBlock(text string) string {
	var out []string
	within := false
	for line := range strings.Lines(text) {
		switch {
		case blockBegins().MatchString(line):
			within = true
		case blockEnds().MatchString(line):
			within = false
		case !within:
			out = append(out, line)
		}
	}
	return strings.Join(out, "")
}

// cleaned are the lines that the writer of a message wrote: what is quoted of another is gone, spaces are plain, a decimal
// comma is a point, and numbers in words are figures.
func cleaned(text string) []string {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ", "’", "'", "º", "°", "˚", "°", "℃", "°C", "℉", "°F", "μ", "µ", "–", "-", "—", " - ", "²", "2").Replace(text)
	var out []string
	for line := range strings.SplitSeq(text, "\n") {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, ">") || answered().MatchString(line) {
			continue
		}
		line = decimalComma().ReplaceAllString(line, "$1.$2$3")
		out = append(out, nearly().ReplaceAllString(half().ReplaceAllString(inFigures(line), "$1$2.5"), "about $1"))
	}
	return out
}

var inWords = map[string]string{"two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10", "eleven": "11",
	"twelve": "12", "fifteen": "15", "eighteen": "18", "twenty": "20", "thirty": "30", "dozen": "12",
	"zwei": "2", "drei": "3", "vier": "4", "fünf": "5", "sechs": "6", "sieben": "7", "acht": "8", "neun": "9", "zehn": "10", "elf": "11", "zwölf": "12", "zwanzig": "20", "dreißig": "30"}

var (
	twenties  = pattern(`(?i)\btwenty[- ](one|two|three|four|five|six|seven|eight|nine)\b`)
	zwanziger = pattern(`(?i)\b(ein|zwei|drei|vier|fünf|sechs|sieben|acht|neun)undzwanzig\b`)
	wordly    = pattern(`(?i)\b(two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|eighteen|twenty|thirty|zwei|drei|vier|fünf|sechs|sieben|acht|neun|zehn|elf|zwölf|zwanzig|dreißig)\b`)
	dozens    = pattern(`(?i)\bhalf a dozen\b|\bein halbes dutzend\b`)
	oneFoot   = pattern(`(?i)\ba (foot|inch)\b`)
)

// inFigures writes numbers in words as figures.
func inFigures(s string) string {
	s = dozens().ReplaceAllString(s, "6")
	s = twenties().ReplaceAllStringFunc(s, func(m string) string {
		return "2" + cmp.Or(inWords[strings.ToLower(m[len("twenty-"):])], "1")
	})
	s = zwanziger().ReplaceAllStringFunc(s, func(m string) string {
		return "2" + cmp.Or(inWords[strings.ToLower(strings.TrimSuffix(strings.ToLower(m), "undzwanzig"))], "1")
	})
	s = oneFoot().ReplaceAllString(s, "1 $1")
	return wordly().ReplaceAllStringFunc(s, func(m string) string { return inWords[strings.ToLower(m)] })
}
