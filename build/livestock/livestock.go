// Package livestock finds an animal in a diary's words: what it does to plants, what it is called in either language, and
// its outline.
package livestock

import (
	_ "embed" // the table of animals
	"encoding/csv"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Animal is a kind of livestock. See [Of].
type Animal struct {
	Kind     Kind
	Count    int     // 0 or more
	LengthCm float64 // 0.5–30

	Eats, Digs   bool // what it does to soft plants, and to all that are planted
	Invertebrate bool // shrimp, snails and others that copper kills

	written         string
	en, de          string         // what a sheet calls several of them, where it has to
	english, german *regexp.Regexp // what a diary may call it
}

// Kind is the outline that an animal is drawn with.
type Kind int

// The kinds.
const (
	Shoal  Kind = iota // slender fish in mid-water; under it: not drawn
	Bottom             // fish that lie on the bottom
	Tall               // high-backed fish
	Shrimp
	Snail
)

// table has a row for each animal: its names in either language, separated by bars and without the ending of the plural;
// what a sheet calls several of them; its outline and length; whether it eats soft plants, digs, and dies of copper. A name may
// be the end of a longer word, as in Zwerggarnelen, and never its beginning. The first row that is found in the words counts, so
// that small ones whose names hold that of a large one come first. From memory, common knowledge of the trade.
//
//go:embed animals.csv
var table string

var animals = sync.OnceValue(func() []Animal {
	rows, _ := csv.NewReader(strings.NewReader(table)).ReadAll() // a test reads it too
	var out []Animal
	for _, r := range rows[1:] {
		a := Animal{Kind: Kind(slices.Index(outlineNames, r[4])), en: r[2], de: r[3], english: ending(r[0], "e?s"), german: ending(r[1], "en?|n|s|er")}
		a.LengthCm, _ = strconv.ParseFloat(r[5], 64)
		a.Eats, a.Digs, a.Invertebrate = r[6] != "", r[7] != "", r[8] != ""
		out = append(out, a)
	}
	return out
})

var outlineNames = []string{"shoal", "bottom", "tall", "shrimp", "snail"}

func ending(names, plural string) *regexp.Regexp {
	return regexp.MustCompile(`(?i)(?:` + names + `)(?:` + plural + `)?(?:[^\pL]|$)`)
}

// Of finds the animal in a diary's words ("dwarf shrimp"); ok is false where none is known.
func Of(words string, count int) (a Animal, ok bool) {
	for _, a := range animals() {
		if a.english.MatchString(words) || a.german.MatchString(words) {
			a.written, a.Count = words, count
			return a, true
		}
	}
	return a, false
}

// Drawn reports whether there is one to draw, and an outline of it.
func (a Animal) Drawn() bool { return a.Count > 0 && a.Kind >= Shoal && a.Kind <= Snail }

// Called is the animal in a language of BCP 47: as it was written where that is in this language, else by its name there, which those have that
// do something to plants.
func (a Animal) Called(lang string) string {
	here, name := a.english, a.en
	if lang == "de" || strings.HasPrefix(lang, "de-") {
		here, name = a.german, a.de
	}
	if here.MatchString(a.written) {
		return a.written
	}
	return name
}

// outlines look to the right and are 24 units long; their classes are the theme's.
var outlines = [...]string{
	Shoal:  `<path class="d-fish" d="M11 0c-2-3-6-4.4-11-3.4-4 .8-6 2.2-8.4 2.8l-4-3c.5 2 .4 5.2 0 7.4l4-3c2.4.6 4.4 2.2 8.4 2.6 5 .6 9-.6 11-3.4z"/><path class="d-band" d="M8-.4c-4-.8-11-.6-16.6.5 5.6.9 12.6.9 16.6-.5z"/><circle class="d-eye" cx="8.2" cy="-.9" r="1"/>`,
	Bottom: `<path class="d-fish" d="M12 2.6c-2-4-6-6.2-10-5.8l-2.5-3-1.5 3.4c-3 .6-5.5 1.8-7.5 2.8l-3.5-2.2 1 4-1.5 3 4-1.2c6 1 16 2 21.5-1z"/><path class="d-limb" d="M11.5 2.8l2 1.8M10.5 3.2l.8 2M-1 3.4l-2 2.2"/><circle class="d-eye" cx="8" cy="-.6" r="1"/>`,
	Tall:   `<path class="d-fish" d="M11 0c-2-4-6-8-10-8.5L-4-11l-1 5-4 4-4-3 1 5-1 5 4-3 4 4 1 5 5-2.5c4-.5 8-4.5 10-8.5z"/><path class="d-limb" d="M4-7c-1.5 4-1.5 10 0 14M-3-6c-1 4-1 8 0 12"/><circle class="d-eye" cx="7.5" cy="-1.5" r="1.1"/>`,
	Shrimp: `<path class="d-shrimp" d="M9-2.5C6-4.8 1-5-3-3.6-7.5-2-9.5 1-10 4.5l-3 1.7 3.8.5C-7.6 3.2-5 1.3-1.5.8 2.5 1.2 6.5.6 9-2.5z"/><path class="d-limb" d="M9-2.5c3-1.2 5.5-1.2 8.5 1M9-2.5c3-.2 5 .8 7 3.5M4 1l.8 3.5M2 1v3.6M0 1l-.9 3.4M-3 1.4l-.6 2.2"/>`,
	Snail:  `<path class="d-limb d-foot" d="M-12 6c5-2 14-3 19-2l2-5 1.5 5.5c1 1.5 0 2.5-2 2.5h-18z"/><path class="d-shrimp" d="M6 4C8-3 3-9-3-8-9-7-11 0-7 4c3 2 9 2 13 0z"/><path class="d-limb" d="M3 2c2-4-1-8-5-7s-4 6-1 7 5-2 3-4-3 0-2 1"/>`,
}

// Outline is a drawn animal as elements of SVG, 24 units long and looking to the right.
func (k Kind) Outline() string { return outlines[k] }

// Crawls reports whether it keeps to the ground.
func (k Kind) Crawls() bool { return k != Shoal && k != Tall }
