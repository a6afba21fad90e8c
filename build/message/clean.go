package message

import (
	"cmp"
	"maps"
	"slices"
	"strings"
)

var (
	blockBegins  = pattern(`(?i)slipleaf: my tank`)
	blockEnds    = pattern(`(?i)slipleaf: end`)
	answered     = pattern(`(?i)^(on|am)\b.{0,80}\b(wrote|schrieb)\b.*:$|^-{2,}\s*(original message|ursprüngliche nachricht)`)
	decimalComma = pattern(`(\d),(\d{1,2})(\D|$)`)
	nearly       = pattern(`(?i)(\d+(?:\.\d+)?)[- ]?ish\b`)
	spelled      = pattern(`(?i)\b(\d{1,2}) (?:point|komma) (\d)\b`)
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
		out = append(out, nearly().ReplaceAllString(half().ReplaceAllString(spelled().ReplaceAllString(inFigures(line), "$1.$2"), "$1$2.5"), "about $1"))
	}
	return out
}

var inWords = map[string]string{"two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10", "eleven": "11",
	"twelve": "12", "fifteen": "15", "eighteen": "18", "twenty": "20", "thirty": "30", "forty": "40", "fifty": "50", "sixty": "60", "seventy": "70", "eighty": "80", "ninety": "90", "a couple": "2", "a dozen": "12", "ein dutzend": "12", "half a dozen": "6",
	"ein halbes dutzend": "6", "zwo": "2", "zwoa": "2", "vierzig": "40", "fünfzig": "50", "sechzig": "60", "siebzig": "70", "achtzig": "80", "neunzig": "90",
	"zwei": "2", "drei": "3", "vier": "4", "fünf": "5", "sechs": "6", "sieben": "7", "acht": "8", "neun": "9", "zehn": "10", "elf": "11", "zwölf": "12", "zwanzig": "20", "dreißig": "30"}

var (
	tens    = pattern(`(?i)\b(twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)[- ](one|two|three|four|five|six|seven|eight|nine)\b`)
	zehner  = pattern(`(?i)\b(ein|zwei|drei|vier|fünf|sechs|sieben|acht|neun)und(zwanzig|dreißig|vierzig|fünfzig|sechzig|siebzig|achtzig|neunzig)\b`)
	wordly  = pattern(`(?i)\b(` + strings.Join(slices.SortedFunc(maps.Keys(inWords), func(a, b string) int { return len(b) - len(a) }), "|") + `)\b`) // the longest first
	oneFoot = pattern(`(?i)\ba (foot|inch)\b`)
)

// inFigures writes numbers in words as figures.
func inFigures(s string) string {
	figures := func(ten, one string) string { return inWords[ten][:1] + cmp.Or(inWords[one], "1") }
	s = tens().ReplaceAllStringFunc(s, func(m string) string {
		ten, one, _ := strings.Cut(strings.ReplaceAll(strings.ToLower(m), "-", " "), " ")
		return figures(ten, one)
	})
	s = zehner().ReplaceAllStringFunc(s, func(m string) string {
		one, ten, _ := strings.Cut(strings.ToLower(m), "und")
		return figures(ten, one)
	})
	s = oneFoot().ReplaceAllString(s, "1 $1")
	return wordly().ReplaceAllStringFunc(s, func(m string) string { return inWords[strings.ToLower(m)] })
}
