package message

import (
	"cmp"
	_ "embed" // the names of places
	"maps"
	"slices"
	"strings"
	"sync"

	"slipleaf/build/almanac"
)

// placeNames are names of states, provinces and countries that people use beside those of the almanac, with their codes of
// ISO 3166; without a code, names of countries that are something else as often: a state, a first name, a bird.
//
//go:embed places.csv
var placeNames string

// places are the names of regions in small letters, with their codes.
var places = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for _, code := range almanac.Countries() {
		for _, language := range []string{"en", "de"} {
			out[strings.ToLower(almanac.CountryName(code, language))] = code
		}
	}
	for line := range strings.Lines(placeNames) {
		name, code, _ := strings.Cut(strings.TrimSpace(line), ",")
		if out[name] = code; code == "" {
			delete(out, name)
		}
	}
	return out
})

var (
	placed    = pattern(`(?i)\b(?:in|from|to|near|aus|nach|live in|located in|location|country|land|region|wohne in|shipping to)\b:?\s*(?:(?:the|der|die|den)\s+)?`)
	bare      = pattern(`(?i)^(?:country|land|region)`)
	uppercase = pattern(`^\p{Lu}`)
	names     = pattern(`^(\p{Lu}[\p{L}.]+(?:-[A-Z]{2,3}\b)?(?: \p{Lu}[\p{L}.]+){0,2})`)
)

// place reads a country or a state behind a word such as in; of a town alone nothing is known.
func place(c clause, add func(key, value string, guess bool)) {
	for _, at := range placed().FindAllStringIndex(c.text, -1) {
		rest := c.text[at[1]:]
		m := names().FindString(rest)
		for ; m != ""; m = beforeLast(m) {
			code, ok := places()[strings.ToLower(strings.TrimRight(m, "."))]
			if !ok && bare().MatchString(c.text[at[0]:at[1]]) && almanac.KnownRegion(m) { // a code alone may be any word in capitals
				code, ok = m, true
			}
			if ok {
				at := strings.ToLower(c.text[at[0]:at[1]])
				from := strings.HasPrefix(at, "from") || strings.HasPrefix(at, "aus") // where they come from is not where they live
				if add("region", code, from); !from {
					return
				}
				break
			}
		}
	}
	if whole := strings.TrimSpace(c.text); uppercase().MatchString(whole) { // "Portland, Oregon"
		if code, ok := places()[strings.ToLower(whole)]; ok {
			add("region", code, true)
		}
	}
}

var byLetter = pattern(`\b(A|B|CH|D|DK|F|FL|I|L|NL)-\d{4,5} \p{Lu}`)

// layouts are those of post codes at the end of a line of an address, by country; under "US" the state stands before it.
var layouts = []struct {
	region string
	layout lazy
}{
	{"GB", pattern(`\b([A-Z]{1,2})\d[A-Z\d]? ?\d[ABD-HJLNP-UW-Z]{2}$`)},
	{"US", pattern(`\b([A-Z]{2})\.? \d{5}(?:-\d{4})?$`)},
	{"CA", pattern(`\b([A-Z])\d[A-Z] ?\d[A-Z]\d$`)},
	{"IE", pattern(`\b([A-Z])\d[\dW] ?[A-Z][A-Z\d]{3}$`)},
	{"AU", pattern(`\b(NSW|VIC|QLD|TAS|ACT|SA|WA|NT),? \d{4}$`)},
	{"DE", pattern(`(?:^|\s)(\d{5}) \p{Lu}\p{L}{2,}(?: \p{L}+)?$`)},
	{"", byLetter},
}

// byVehicle are the countries whose letters on vehicles, which people write before post codes, are not their codes.
var byVehicle = map[string]string{"A": "AT", "B": "BE", "D": "DE", "F": "FR", "FL": "LI", "I": "IT", "L": "LU"}

// postcodes reads the country out of an address, as a guess that gives way to what is said.
func postcodes(lines []string) (out []candidate) {
	german := written(strings.Join(lines, "\n")) == "de"
	for _, line := range lines {
		for part := range strings.SplitSeq(line, ",") {
			part = strings.TrimRight(strings.TrimSpace(part), ".")
			for _, x := range layouts {
				m := x.layout().FindStringSubmatch(part)
				if m == nil || x.region == "DE" && !german { // France and others write it alike
					continue
				}
				region := x.region
				switch {
				case region == "":
					region = cmp.Or(byVehicle[m[1]], m[1])
				case region == "US" && !slices.Contains(slices.Collect(maps.Values(places())), "US-"+m[1]):
					continue
				case region == "US":
					region += "-" + m[1]
				case region == "GB" && slices.Contains([]string{"GY", "IM", "JE"}, m[1]):
					region = m[1]
				}
				out = append(out, candidate{key: "region", value: region, from: shortened(part), guess: true})
			}
		}
	}
	return out
}

// beforeLast is a name without its last word.
func beforeLast(s string) string {
	i := strings.LastIndexByte(s, ' ')
	if i < 0 {
		return ""
	}
	return s[:i]
}
