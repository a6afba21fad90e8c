package chart

import (
	"strings"
	"unicode"
)

// Text is set at one size in every chart.
const (
	fontSize = 14.0
	ascent   = 12.5 // above the base line, with accents
	descent  = 4.0  // below it
	lineStep = 18.0
)

// textWidth is an upper guess at the width of s at fontSize in a humanist sans, or in the wider sans that a system may
// put in its place.
func textWidth(s string) float64 {
	var em float64
	for _, r := range s {
		em += runeWidth(r)
	}
	return em * fontSize
}

// boldWidth allows for the semi-bold cut.
func boldWidth(s string) float64 { return textWidth(s) * 1.1 }

// runeWidth is in em. Latin letters: the greatest advance among common sans faces, rounded up (common practice);
// other scripts by their kind.
func runeWidth(r rune) float64 {
	switch {
	case strings.ContainsRune(joins, r):
		return 0
	case r < 0x250 || r >= 0x2010 && r < 0x2300:
		return latinWidth(r)
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case r < 0x1100: // Greek, Cyrillic, Hebrew, Arabic, the scripts of South Asia
		return 0.95
	default: // full width, pictures
		return 1.4
	}
}

func latinWidth(r rune) float64 {
	switch r {
	case 'i', 'j', 'l', '\'', '|', '’', '‘', ',', '.', ':', ';', '!':
		return 0.34
	case ' ', 'f', 't', 'r', '(', ')', '[', ']', '{', '}', 'I', '-', '·', '/', '\\', '`', '"', '“', '”', '„', '°', 'ı', 'ª', 'º':
		return 0.5
	case 'm', 'M', 'W', '@', '%', '‰', '—', '…', 'œ', 'Œ', 'æ', 'Æ', '¼', '½', '¾':
		return 1.03
	case 'w', 'C', 'D', 'G', 'H', 'N', 'O', 'Q', 'U', '+', '=', '<', '>', '≥', '≤', '±', '~', '×', '≈', '#', '^':
		return 0.86
	case '–', '−', '*':
		return 0.65
	}
	switch {
	case r >= '0' && r <= '9' || r >= 'a' && r <= 'z':
		return 0.65
	case r >= 'A' && r <= 'Z':
		return 0.74
	case r < 0x250: // letters with accents, signs
		return 0.88
	}
	return 1.05 // arrows, signs
}

// joins are the marks that are not seen and yet do something: the joiner of pictures, and the two that shut a name from
// right to left off from what is beside it.
const joins = "\u200d\u2068\u2069"

// oneLine makes white space single and drops what cannot be shown.
func oneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) && !strings.ContainsRune(joins, r) || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	return strings.Join(strings.Fields(s), " ")
}

// fitTo shortens s with an ellipsis until it is no wider than width; "" if nothing fits.
func fitTo(s string, width float64) string {
	s = oneLine(s)
	if textWidth(s) <= width {
		return s
	}
	left := width - textWidth("…")
	for i, r := range s {
		if left -= runeWidth(r) * fontSize; left < 0 {
			if s = strings.TrimRight(s[:i], " ,;–-"); s == "" {
				return ""
			}
			return s + "…"
		}
	}
	return s
}
