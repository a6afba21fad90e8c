package message

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"slipleaf/build/spelling"
)

var (
	blockBegins = pattern(`(?i)slipleaf: my tank`)
	blockEnds   = pattern(`(?i)slipleaf: end`)
	// olderMail is all from the head of an older message on that is not marked line by line, as mail programs write it.
	olderMail = pattern(`(?is)(?:^|\n)[\s_*]*(?:-{2,}\s*(?:original message|ursprüngliche nachricht).*|` + wrote + `\s*\n\s*[^>\s].*|(?:from|von)\*?:\s[^\n]*\n\s*` + mailHead + `.*)$`)
	passedOn  = pattern(`(?i)(?:^\s*|-*\s*(?:forwarded message|weitergeleitete nachricht)[^\n]*\n)(?:` + mailHead + `[^\n]*\n){2,}`)
	answered  = pattern(`(?im)^\s*` + wrote)
)

const (
	mailHead = `\*?(?:from|von|sent|gesendet|date|datum|to|an|cc|subject|betreff)\*?:\s`
	wrote    = `(?:on|am)\b[^\n]{0,60}\d[^\n]{0,100}(?:\n[^\n]{0,60})?\b(?:wrote|schrieb\b[^\n]{0,60}):`
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

// rewrites make one way of writing of several, in this order.
var rewrites = []struct {
	from lazy
	to   string
}{
	{pattern(`(\d),(\d{1,2})(\D|$)`), "$1.$2$3"},
	{pattern(`(?i)\b(\d{1,2}) (?:point|komma) (\d)\b`), "$1.$2"},
	{pattern(`(?i)\b(\d+) and a half\b|\b(\d+)½`), "$1$2.5"},
	{pattern(`(?i)(\d+(?:\.\d+)?)[- ]?ish\b`), "about $1"},
	{pattern(`(?i)\b(?:a|ein(?:en|em)?) (foot|inch|met(?:er|re))\b`), "1 $1"},
	{pattern(`(?i)\b(\d)(?: met(?:er|re) |m)(\d\d)\b`), "$1.$2 m"},
	// a range has a dash: what stands beside "and" without "between" is another figure
	{pattern(`(?i)\b(?:between|zwischen) ` + number + `\s*[^\s\d]{0,3} (?:and|und) (\d)`), "$1-$2"},
	// of a change only the end is true
	{pattern(`(?i)\b(?:from|von) \d+(?:\.\d+)?\s*[^\s\d]{0,10} (?:(?:up |down )to|auf) (\d)`), "$1"},
	{pattern(`(?i)\b(went|gone|came|raised|lowered|dropped|rose|fell|changed|reduced|increased|brought|turned|cut)\b([^.]{0,40})\bfrom \d+(?:\.\d+)?\s*[^\s\d]{0,10} to (\d)`), "$1$2$3"},
	{pattern(`(?i)\b(?:c02|co[ -]2|co₂|carbon dioxide|kohlendioxid|kohlensäure)(\W|$)`), "CO2$1"},
	// the waterworks' word for alkalinity names a pH that is none of the water's
	{pattern(`(?i)\bsäurekapazität(?: (?:bis )?ph ?4\.3| \(.{0,20}?\))?|\bks ?4\.3`), "KH"},
	{pattern(`(?i)\b(\d+)["'\s]*l\s*x\s*(\d+)["'\s]*[wb]\s*x\s*(\d+)["'\s]*h\b|\bl[\s:=]*(\d+)(?:\s*(?:cm|in))?[\s,;x/]+[wb][\s:=]*(\d+)(?:\s*(?:cm|in))?[\s,;x/]+[hdt][\s:=]*(\d+)`), "$1$4 x $2$5 x $3$6"},
	{pattern(`(?i)\bco2\b([^.!?]{0,20})\?+ +((?:läuft|ja|yes|nein|nö|nope?|none|hab i(?:ch)? [^.!?]*nich?t?|i don't)\b)`), "$1? CO2: $2"},
	{pattern(`(?i)\bparts per million\b`), "ppm"},
	{pattern(`(?i)\bmi[ck]rosiemens\b`), "µS"},
	// words that are written together
	{pattern(`(?i)([\p{L}\d)])\.(\p{L}{3}|ph)`), "$1. $2"},
	{pattern(`(?i)(\dx)([a-z]{2,3}-\d{4})`), "$1 $2"},
	{pattern(`(?i)(\d)w(t[58])`), "$1 W $2"},
	{pattern(`(?i)\b(temp|ph|gh|kh)(\d)`), "$1 $2"},
	{pattern(`(?i)(^|[\s,;])t ?[=:] ?(\d)`), "${1}temp $2"},
}

// cleaned are the lines that the writer of a message wrote: what is quoted of another is gone, spaces are plain, a decimal
// comma is a point, and numbers in words are figures.
func cleaned(text string) []string {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " | ", "’", "'", "º", "°", "˚", "°", "℃", "°C", "℉", "°F", "μ", "µ", "–", "-", "—", " - ", "²", "2",
		"❌", " no", "🚫", " no", "✅", " yes").Replace(text)
	var out []string
	own := -1 // the column of a table that is about the tank itself
	for _, line := range unwrapped(ownLines(text)) {
		line, own = row(line, own)
		line = feetAndInches().ReplaceAllStringFunc(inFigures(longWord().ReplaceAllStringFunc(line, respelled)), func(m string) string {
			at := feetAndInches().FindStringSubmatch(m)
			feet, _ := strconv.Atoi(at[1])
			inches, _ := strconv.Atoi(at[2])
			return strconv.Itoa(12*feet+inches) + " in" + at[3]
		})
		for _, r := range rewrites {
			line = r.from().ReplaceAllString(line, r.to)
		}
		out = append(out, line)
	}
	return out
}

// ownLines are the lines of a message without what is quoted of another: lines that are marked so, and all behind the head
// of an older message, unless it is passed on.
func ownLines(text string) (out []string) {
	text = passedOn().ReplaceAllString(text, "\n")
	if at := olderMail().FindStringIndex(text); at != nil && strings.Trim(text[:at[0]], " \n-_") != "" {
		text = text[:at[0]]
	}
	for line := range strings.SplitSeq(answered().ReplaceAllString(text, "\n"), "\n") {
		if line = strings.TrimSpace(line); !strings.HasPrefix(line, ">") {
			out = append(out, line)
		}
	}
	return out
}

// unwrapped joins lines that a mail program broke at a width: where the first word of the next had no room.
func unwrapped(lines []string) (out []string) {
	width := 0
	for _, l := range lines {
		width = max(width, utf8.RuneCountInString(l))
	}
	last := "" // line of the message
	for _, l := range lines {
		word, _, _ := strings.Cut(l, " ")
		if last != "" && l != "" && width >= 60 && width <= 80 && utf8.RuneCountInString(last+" "+word) > width {
			out[len(out)-1] += " " + l
		} else {
			out = append(out, l)
		}
		last = l
	}
	return out
}

// row is a row of a table as "key: value": of several columns that which the header calls the tank's, if any.
func row(line string, own int) (string, int) {
	switch cells := strings.Split(strings.Trim(line, "| "), "|"); {
	case len(cells) == 1:
		return line, -1
	case len(cells) == 2:
		return cells[0] + ": " + cells[1], -1
	case slices.ContainsFunc(cells[1:], tanksOwn().MatchString):
		return line, 1 + slices.IndexFunc(cells[1:], tanksOwn().MatchString)
	case own > 0 && own < len(cells):
		return cells[0] + ": " + cells[own], own
	}
	return line, own
}

var (
	tanksOwn      = pattern(`(?i)^\s*(?:(?:my |mein )?(?:tank|aquarium|becken)\w*|mine|bei mir)\s*$`)
	feetAndInches = pattern(`(?i)\b(\d)(?: ?(?:ft|foot|feet) |')(\d|1[01])\b(?: ?(?:in(?:ch(?:es)?)?\b|"|''))?(\s|[,.;]|$)`)
	longWord      = pattern(`\p{L}{6,}`)
)

// long are the words without which a figure is not understood, long enough that a slip in one shows.
var long = strings.Fields("temperature temperatur wassertemperatur degrees celsius fahrenheit gallons hardness gesamthärte karbonathärte alkalinity conductivity leitwert beleuchtung stunden watt lumens aquarium inches")

// respelled is a long word without a slip, or two where it is very long.
func respelled(word string) string {
	low := strings.ToLower(word)
	for _, w := range long {
		if slips := len(w) / 6; !slices.Contains(long, low) && len(w) > 5 && spelling.Within(low, w, slips) <= slips {
			return w
		}
	}
	return word
}

var inWords = map[string]string{"two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10", "eleven": "11",
	"twelve": "12", "thirteen": "13", "fourteen": "14", "fifteen": "15", "sixteen": "16", "seventeen": "17", "eighteen": "18", "nineteen": "19", "twenty": "20", "thirty": "30", "forty": "40", "fifty": "50", "sixty": "60", "seventy": "70", "eighty": "80", "ninety": "90", "a couple": "2", "a dozen": "12", "ein dutzend": "12", "half a dozen": "6",
	"ein halbes dutzend": "6", "zwo": "2", "zwöi": "2", "twa": "2", "zwoa": "2", "vierzig": "40", "fünfzig": "50", "sechzig": "60", "siebzig": "70", "achtzig": "80", "neunzig": "90",
	"zwei": "2", "drei": "3", "vier": "4", "fünf": "5", "sechs": "6", "sieben": "7", "acht": "8", "neun": "9", "zehn": "10", "elf": "11", "zwölf": "12", "dreizehn": "13", "vierzehn": "14", "fünfzehn": "15", "sechzehn": "16", "siebzehn": "17", "achtzehn": "18", "neunzehn": "19", "zwanzig": "20", "dreißig": "30"}

var (
	tens   = pattern(`(?i)\b(twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)[- ](one|two|three|four|five|six|seven|eight|nine)\b|\b(ein|zwei|drei|vier|fünf|sechs|sieben|acht|neun)und(zwanzig|dreißig|vierzig|fünfzig|sechzig|siebzig|achtzig|neunzig)\b`)
	wordly = pattern(`(?i)\b(` + strings.Join(slices.SortedFunc(maps.Keys(inWords), func(a, b string) int { return len(b) - len(a) }), "|") + `)\b`) // the longest first
)

// inFigures writes numbers in words as figures.
func inFigures(s string) string {
	s = tens().ReplaceAllStringFunc(s, func(m string) string {
		of := tens().FindStringSubmatch(strings.ToLower(m))
		return inWords[of[1]+of[4]][:1] + cmp.Or(inWords[of[2]+of[3]], "1")
	})
	return wordly().ReplaceAllStringFunc(s, func(m string) string { return inWords[strings.ToLower(m)] })
}
