package names

import (
	"bytes"
	"slices"
	"strings"

	"slipleaf/build/spelling"
)

// How a name was understood.
const (
	AcceptedName = "accepted name"
	OlderName    = "older name"
	EverydayName = "everyday name"
	Abbreviation = "abbreviation"
	Epithet      = "epithet or form alone"
	Form         = "form of a species"
	Beginning    = "beginning of a name"
	Misspelling  = "misspelling"
	Sound        = "sounds alike"
	Several      = "name of several plants"
	GenusAlone   = "genus alone"
	Uncertain    = "the writer is not certain"
	Guarded      = "may be a plant that a list regulates"
	Hybrid       = "hybrid formula"
	Unknown      = "not known"
)

// Answer is what a name is taken for: a plant, or plants to choose from, or neither.
type Answer struct {
	Typed string
	Plant Plant  // zero unless the name was resolved
	Form  string // the cultivar or trade form that the name adds to the species, as it is usually written
	// Cultivar: the form is a known name or stood in quotes, and is part of the plant's name.
	Cultivar bool
	Asks     []Plant // the plants to choose from, the likeliest first; at most six
	How      string
	Of       string // the known name that it was taken for, where it is another spelling
	Say      bool   // resolved, but not by an exact and sure name: say so
}

// Taxon is the scientific name of the plant that was found, with its cultivar.
func (a Answer) Taxon() string {
	if a.Cultivar {
		return a.Plant.Taxon + " '" + a.Form + "'"
	}
	return a.Plant.Taxon
}

// Known reports whether the name was resolved.
func (a Answer) Known() bool { return a.Plant.Taxon != "" }

const maxAsks = 6

// found is what a step found.
type found struct {
	plants []int
	how    string
	of     string
	form   string
	named  bool // the form is a known name
	say    bool // it is no exact and sure name
	ask    bool // ask, though it is one plant
	exact  bool // an exact scientific name
	edits  int
}

// Resolve finds the plant that a name means. It takes the first of: the exact name, its words in another order, its
// singular; a long name with a slip; a genus that is abbreviated; a species with a form; the beginning of a name; the
// nearest spelling; what sounds alike.
func (r *Resolver) Resolve(text string) Answer {
	f := fold(text)
	whole := append(slices.Clone(f.words), fold(f.form).words...)
	out := Answer{Typed: text, How: Unknown}
	if len(whole) == 0 {
		return out
	}
	hit, ok := r.lookUp(whole)
	if !ok && f.hybrid {
		out.How = Hybrid
		return out
	}
	if !ok {
		hit, ok = r.search(f, whole)
	}
	if !ok {
		return out
	}
	return r.answer(out, f, hit)
}

// search tries the steps behind the exact name; where none finds anything, and the name ends in a kind of plant, those
// without it, and asks.
func (r *Resolver) search(f folded, whole []string) (found, bool) {
	for _, step := range []func(folded, []string) (found, bool){r.singular, r.longName, r.abbreviated, r.epithet, r.withForm, r.prefix, r.nearest, r.genus, r.knownPart, r.soundsLike} {
		if hit, ok := step(f, whole); ok {
			return hit, true
		}
	}
	last := len(whole) - 1
	if last < 1 || whole[0] == "aquarium" || !slices.Contains(kinds, whole[last]) {
		return found{}, false
	}
	hit, ok := r.search(f, whole[:last]) // windelov fern
	hit.ask, hit.exact = true, false
	return hit, ok
}

// kinds are words that a name may have at its end without being another.
var kinds = []string{"plant", "fern", "moss", "grass", "pflanze", "farn", "moos", "gras"}

// answer makes the answer of what was found: a plant, or a question.
func (r *Resolver) answer(out Answer, f folded, hit found) Answer {
	out.How, out.Of, out.Form = hit.how, hit.of, hit.form
	out.Cultivar = hit.named || f.form != ""
	if !hit.named && f.form != "" {
		out.Form = f.form
	}
	switch {
	case f.doubt:
		out.How, hit.ask = Uncertain, true
	case len(hit.plants) > 1:
		hit.ask = true
	}
	if !hit.exact || f.doubt || len(hit.plants) > 1 {
		near := r.within(hit, f)
		if !hit.ask && slices.ContainsFunc(near, r.isListed) {
			out.How, hit.ask = Guarded, true
		}
		if hit.ask {
			hit.plants = near
		}
	}
	if hit.ask {
		for _, p := range hit.plants[:min(len(hit.plants), maxAsks)] {
			out.Asks = append(out.Asks, r.plants[p])
		}
		return out
	}
	p := hit.plants[0]
	out.Plant, out.Say = r.plants[p], hit.say || r.isListed(p)
	return out
}

// within gives the plants that the name may mean, and of plants within one more slip those that are listed.
func (r *Resolver) within(hit found, f folded) []int {
	out := slices.Clone(hit.plants)
	typed := compact(f.words)
	if len(typed) < 5 || hit.how == Sound {
		return out
	}
	for _, c := range r.candidates(typed, min(hit.edits+1, 3)) {
		for _, p := range r.entries[c.entry].plants {
			if !slices.Contains(out, p) && r.isListed(p) {
				out = append(out, p)
			}
		}
	}
	return out
}

// lookUp finds an exact name, with its words in any order.
func (r *Resolver) lookUp(words []string) (found, bool) {
	if hit, ok := r.meaning(r.exact[compact(words)]); ok {
		return hit, true
	}
	if len(words) < 2 {
		return found{}, false
	}
	return r.meaning(r.sorted[sorted(words)])
}

// meaning weighs the entries of one spelling: a name of several plants first, then accepted, then older names; what
// names different plants otherwise is asked.
func (r *Resolver) meaning(entries []int) (found, bool) {
	if len(entries) == 0 {
		return found{}, false
	}
	best := &r.entries[entries[0]]
	var all []int
	for _, i := range entries {
		e := &r.entries[i]
		if e.several && !best.several || e.several == best.several && e.kind < best.kind {
			best = e
		}
		all = union(all, e.plants)
	}
	hit := found{plants: best.plants, how: hows[best.kind], of: best.name, form: best.form, named: best.form != "", say: best.usual || len(all) > 1,
		exact: best.kind <= older && !best.several}
	if best.several {
		hit.how = Several
		if len(best.words) == 1 && len(r.genera[best.words[0]]) > 0 {
			hit.how = GenusAlone
		}
	} else if best.kind > older && len(all) > 1 {
		hit.plants, hit.how = all, Several
	}
	return hit, true
}

var hows = [...]string{accepted: AcceptedName, older: OlderName, everyday: EverydayName, abbreviation: Abbreviation, form: Form, misapplied: OlderName}

// singular takes the plural off the last word.
func (r *Resolver) singular(_ folded, words []string) (found, bool) {
	last := words[len(words)-1]
	for _, end := range [][2]string{{"ies", "y"}, {"es", ""}, {"s", ""}, {"en", ""}, {"er", ""}, {"n", ""}, {"e", ""}} {
		stem, ok := strings.CutSuffix(last, end[0])
		if !ok || len(stem) < 3 {
			continue
		}
		if hit, ok := r.lookUp(append(slices.Clone(words[:len(words)-1]), stem+end[1])); ok && !hit.exact {
			return hit, true
		}
	}
	return found{}, false
}

// abbreviated finds a species by the first letters or the nickname of its genus, and its epithet. After several letters of
// a genus that are no nickname the epithet must be exact.
func (r *Resolver) abbreviated(_ folded, words []string) (found, bool) {
	if len(words) < 2 {
		return found{}, false
	}
	best, plants := 3, []int(nil)
	genus, isNick := nicknames[words[0]]
	switch long := len(words[0]) > 1; {
	case !isNick && long && (len(words[0]) < 4 || len(r.genera[words[0]]) > 0):
		return found{}, false
	case !isNick && long:
		best = 0
		fallthrough
	case !isNick:
		genus = words[0]
	}
	var of string
	for i := range r.entries {
		e := &r.entries[i]
		if !e.binomial() || !strings.HasPrefix(e.words[0], genus) {
			continue
		}
		d := spelling.Within(words[1], e.words[1], epithetSlips(e.words[1]))
		if d > epithetSlips(e.words[1]) || d > best {
			continue
		}
		if d < best {
			best, plants = d, nil
		}
		for _, p := range e.plants {
			if !slices.Contains(plants, p) {
				plants, of = append(plants, p), e.name
			}
		}
	}
	if len(plants) == 0 {
		return found{}, false
	}
	return found{plants: plants, how: Abbreviation, of: of, form: strings.Join(words[2:], " "), say: true, edits: best}, true
}

// nicknames are how growers shorten genera.
var nicknames = map[string]string{"crypt": "cryptocoryne", "val": "vallisneria", "vallis": "vallisneria", "hygro": "hygrophila",
	"buce": "bucephalandra", "apono": "aponogeton", "myrio": "myriophyllum", "sag": "sagittaria"}

func epithetSlips(epithet string) int {
	switch {
	case len(epithet) >= 9:
		return 2
	case len(epithet) >= 5:
		return 1
	}
	return 0
}

// epithet finds a species by its epithet alone, and asks for one by the name of a form alone.
func (r *Resolver) epithet(_ folded, words []string) (found, bool) {
	typed := compact(words)
	if len(typed) < 3 || allColours(words) {
		return found{}, false
	}
	hit, forms := found{how: Epithet, say: true}, found{how: Epithet, ask: true}
	for _, i := range r.parts[typed] {
		switch e := &r.entries[i]; {
		case e.binomial() && len(words) == 1 && e.words[1] == typed:
			hit.plants, hit.of = union(hit.plants, e.plants), e.name
		case e.form != "":
			forms.plants, forms.of = union(forms.plants, e.plants), e.name
		}
	}
	if len(hit.plants) == 0 {
		hit = forms
	}
	return hit, len(hit.plants) > 0
}

// knownPart finds plants by the first words of a name, which are a name by themselves, and asks.
func (r *Resolver) knownPart(_ folded, words []string) (found, bool) {
	for n := len(words) - 1; n > 0; n-- {
		if hit, ok := r.lookUp(words[:n]); ok {
			hit.how, hit.ask, hit.exact, hit.form = Form, true, false, strings.Join(words[n:], " ")
			return hit, true
		}
	}
	return found{}, false
}

// withForm finds a species whose name is followed by a form, or has a colour beside it.
func (r *Resolver) withForm(f folded, words []string) (found, bool) {
	for n := len(words) - 1; n > 0; n-- {
		hit, ok := r.lookUp(words[:n])
		if ok && r.bearsForm(hit, words[:n], words[n:], f) {
			if hit.form == "" && f.form == "" {
				hit.form = strings.Join(words[n:], " ")
			}
			quoted := hit.exact && f.form != "" && n == len(f.words)
			hit.how, hit.say, hit.exact = Form, hit.say || !quoted, hit.exact && len(hit.plants) == 1
			return hit, true
		}
	}
	for n := 1; n < len(words); n++ {
		if hit, ok := r.lookUp(words[n:]); ok && allColours(words[:n]) {
			hit.form, hit.how, hit.say = strings.Join(words[:n], " "), Form, true
			return hit, true
		}
	}
	return found{}, false
}

// bearsForm reports whether rest is a form of the plant found: after a species' scientific name anything is; after an
// everyday name what is in quotes or is a colour or a size.
func (r *Resolver) bearsForm(hit found, name, rest []string, f folded) bool {
	genusAsOne := len(hit.plants) == 1 && strings.HasSuffix(r.plants[hit.plants[0]].Taxon, " spp.")
	if hit.exact && len(name) > 1 || genusAsOne {
		return true
	}
	return f.form != "" && len(name) == len(f.words) || allColours(rest)
}

// colours are words that settle nothing about the species.
var colours = strings.Fields("red green brown pink purple bronze gold golden white blue orange yellow black silver dark light " +
	"mini narrow broad wide long short round leaf leaves variegated compact plant plants type form rot rote roter rotes grun " +
	"grune gruner grunes gruen gruene gruener gruenes braun braune brauner schmal breit")

func allColours(words []string) bool {
	return !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(colours, w) })
}

// prefix finds names that go on after what was typed.
func (r *Resolver) prefix(_ folded, words []string) (found, bool) {
	typed := compact(words)
	if len(typed) < 4 || allColours(words) {
		return found{}, false
	}
	var plants []int
	longest, of := 0, ""
	for i := range r.entries {
		e := &r.entries[i]
		byWord := len(e.words) > len(words) && slices.Equal(e.words[:len(words)], words)
		if !byWord && (len(typed) < 5 || !strings.HasPrefix(e.compact, typed)) {
			continue
		}
		plants = union(plants, e.plants)
		if len(e.compact) > longest {
			longest, of = len(e.compact), e.name
		}
	}
	if len(plants) == 0 || len(plants) == 1 && 2*len(typed) <= longest {
		return found{}, false
	}
	return found{plants: plants, how: Beginning, of: of, say: true, ask: 4*len(typed) < 3*longest}, true
}

// genus finds a genus with a word that is no species known here: ask, never the only species known.
func (r *Resolver) genus(f folded, words []string) (found, bool) {
	plants := r.genera[words[0]]
	if hit, ok := r.lookUp(words[:1]); ok && len(plants) > 0 { // the likeliest first
		plants = union(slices.Clip(hit.plants), plants)
	}
	if len(plants) == 0 && words[0] != "aquarium" { // no slip of Aquarius
		for g, p := range r.genera {
			if d := spelling.Within(words[0], g, 1); len(g) >= 8 && d <= 1 {
				plants = append(plants, p...)
			}
		}
		slices.Sort(plants)
		plants = slices.Compact(plants)
	}
	if len(plants) == 0 {
		return found{}, false
	}
	if len(plants) == 1 && strings.HasSuffix(r.plants[plants[0]].Taxon, " spp.") { // the almanac treats the genus as one
		return found{plants: plants, how: Form, form: strings.Join(words[1:], " "), say: true}, true
	}
	return found{plants: plants, how: GenusAlone, ask: true}, true
}

// union appends to a what it has not of b.
func union(a, b []int) []int {
	for _, p := range b {
		if !slices.Contains(a, p) {
			a = append(a, p)
		}
	}
	return a
}

// soundsLike finds names of ten letters or more that sound like what was typed. It always asks.
func (r *Resolver) soundsLike(_ folded, words []string) (found, bool) {
	typed := compact(words)
	if len(typed) < 10 {
		return found{}, false
	}
	key := sound(typed)
	hit := found{how: Sound, ask: true}
	for i := range r.entries {
		e := &r.entries[i]
		if len(e.compact) < 10 || spelling.Within(key, e.sound, 1) > 1 || !half(typed, e.compact) {
			continue
		}
		hit.plants = union(hit.plants, e.plants)
	}
	return hit, len(hit.plants) > 0
}

// sound is the key of consonants: c, k, q and g alike, d and t, b and p, v, w and f; no vowels, no h, nothing twice.
func sound(s string) string {
	var b bytes.Buffer
	var last byte
	for i := range len(s) {
		c := s[i]
		switch c {
		case 'a', 'e', 'i', 'o', 'u', 'y', 'h', 'j':
			continue
		case 'k', 'q', 'g':
			c = 'c'
		case 'd':
			c = 't'
		case 'b':
			c = 'p'
		case 'w', 'f':
			c = 'v'
		case 'z':
			c = 's'
		}
		if c != last {
			b.WriteByte(c)
		}
		last = c
	}
	return b.String()
}

// half reports whether 58 % of the letters of the longer text stand in the same order in both.
func half(a, b string) bool {
	row := make([]int, len(b)+1) // the longest common subsequence
	for i := range len(a) {
		diag := 0
		for j := range len(b) {
			up := row[j+1]
			if a[i] == b[j] {
				row[j+1] = diag + 1
			} else {
				row[j+1] = max(row[j], up)
			}
			diag = up
		}
	}
	return 100*row[len(b)] >= 58*max(len(a), len(b))
}
