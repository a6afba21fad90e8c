package names

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"

	"slipleaf/build/spelling"
)

// candidate is a name within some slips of what was typed.
type candidate struct{ entry, edits int }

// candidates gives the names within limit slips of a compact name, the nearest first. A slip changes at most two of the
// letters that a name has, so most names are passed over without a look.
func (r *Resolver) candidates(typed string, limit int) []candidate {
	has := lettersOf(typed)
	var out []candidate
	for n := max(0, len(typed)-limit); n <= len(typed)+limit && n < len(r.shapes); n++ {
		for _, s := range r.shapes[n] {
			if bits.OnesCount32(s.letters^has) > 2*limit {
				continue
			}
			if d := spelling.Within(typed, r.entries[s.entry].compact, limit); d <= limit {
				out = append(out, candidate{s.entry, d})
			}
		}
	}
	slices.SortFunc(out, func(x, y candidate) int { return cmp.Or(x.edits-y.edits, x.entry-y.entry) })
	return out
}

// offered is how many slips a name may have to be offered at all, by its letters; taken, to be taken without asking.
func offered(n int) int {
	switch {
	case n <= 4:
		return 0
	case n <= 7:
		return 1
	case n <= 12:
		return 2
	}
	return 3
}

func taken(n int) int {
	switch {
	case n < 5:
		return 0
	case n < 12:
		return 1
	}
	return 2
}

// nearest finds the names spelt most like what was typed.
func (r *Resolver) nearest(f folded, words []string) (found, bool) {
	typed := compact(words)
	all := r.candidates(typed, min(offered(len(typed))+1, 3))
	all = slices.DeleteFunc(all, func(c candidate) bool { return c.edits > offered(r.ownLength(typed, c.entry))+1 })
	if len(all) == 0 || all[0].edits > offered(r.ownLength(typed, all[0].entry)) {
		return found{}, false
	}
	best := all[0].edits
	hit := found{how: Misspelling, of: r.entries[all[0].entry].name, form: r.entries[all[0].entry].form, named: r.entries[all[0].entry].form != "", say: true, edits: best}
	var rivals []int
	sure := false
	for _, c := range all {
		e := &r.entries[c.entry]
		for _, p := range e.plants {
			switch {
			case slices.Contains(hit.plants, p) || slices.Contains(rivals, p):
			case c.edits == best:
				hit.plants = append(hit.plants, p)
			case c.edits == best+1:
				rivals = append(rivals, p)
			}
		}
		sure = sure || c.edits == best && !e.several && r.takes(typed, words, c)
	}
	single := best == 1 && len(typed) >= 8
	if len(rivals) > 0 && !(single && !slices.ContainsFunc(rivals, r.isListed)) {
		hit.plants, hit.ask = append(hit.plants, rivals...), true
	}
	hit.ask = hit.ask || !sure
	return hit, true
}

// ownLength is the number of letters that tell a name apart: an ending that many names share is no length.
func (r *Resolver) ownLength(typed string, i int) int {
	name := r.entries[i].compact
	for _, end := range endings {
		if strings.HasSuffix(typed, end) && strings.HasSuffix(name, end) && len(r.entries[i].words) == 1 {
			return len(typed) - len(end)
		}
	}
	return len(typed)
}

var endings = strings.Fields("pflanzen pflanze farne farn moos kraut blatt kelch freund nabel binse simse pest linse plant fern moss grass gras weed wort sword lily")

// takes reports whether a name is near enough to be taken: as a whole, and each of its words by its own length.
func (r *Resolver) takes(typed string, words []string, c candidate) bool {
	e := &r.entries[c.entry]
	limit := taken(r.ownLength(typed, c.entry))
	long := e.binomial() && len(e.compact) >= 16
	if long {
		limit = 3
	}
	if c.edits > limit {
		return false
	}
	if len(words) != len(e.words) {
		return true
	}
	for i, w := range words {
		n := max(len(w), len(e.words[i]))
		own := taken(n)
		if long {
			own = offered(n)
		}
		if n == 4 && c.edits == 1 && len(typed) >= 8 {
			own = 1 // jave fern
		}
		if spelling.Within(w, e.words[i], own) > own {
			return false
		}
	}
	return true
}

// longName finds a name of three words or more with a slip, before its first two are taken for a species with a form.
func (r *Resolver) longName(_ folded, words []string) (found, bool) {
	if len(words) < 3 {
		return found{}, false
	}
	for _, c := range r.candidates(compact(words), 2) {
		e := &r.entries[c.entry]
		if len(e.words) == len(words) && nearWords(words, e.words) {
			return found{plants: e.plants, how: Misspelling, of: e.name, form: e.form, named: e.form != "", say: true, ask: e.several, edits: c.edits}, true
		}
	}
	return found{}, false
}

// nearWords reports whether each word is near enough to be offered for its fellow.
func nearWords(typed, name []string) bool {
	for i, w := range typed {
		if own := offered(max(len(w), len(name[i]))); spelling.Within(w, name[i], own) > own {
			return false
		}
	}
	return true
}
