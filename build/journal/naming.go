package journal

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/fingerprint"
	"slipleaf/build/names"
	"slipleaf/build/spelling"
)

// naming turns the plants of entries and tanks that are written by an everyday name into ids. What belongs to the reader
// is copied before it is changed.
func (l *linker) naming() {
	for i, p := range l.journal.Plants {
		if _, known := l.names.Species(p.ID); !known && p.Taxon == "" {
			l.journal.Plants[i] = l.namedPlant(p)
		}
	}
	l.journal.own = keysOf(l.journal.Plants)
	for _, t := range l.journal.Tanks {
		if in := l.now.tanks[t.ID]; in != nil && !in.byID {
			in.byID = true
			for i, e := range t.Entries {
				t.Entries[i] = l.namedEntry(e)
				in.byID = in.byID && t.Entries[i] == e
			}
		}
		t.TrimWhen = l.namedTrimWhen(t)
	}
	if len(l.journal.plants) > len(l.journal.Plants) { // what one tank calls a cultivar is an id in all others
		for _, in := range l.now.tanks {
			in.byID = false
		}
	}
}

// namedPlant is a plant whose file has its everyday name, with the scientific one; the plant itself where it is not known,
// or may be several.
func (l *linker) namedPlant(p *Plant) *Plant {
	m := Meaning{Answer: l.journal.resolver(l.names, nil).Resolve(p.ID)}
	m.ID = m.Plant.ID
	switch {
	case len(m.Asks) > 0:
		l.place(ruleWhichPlant, p.Source, 1, 1, fmt.Sprintf("which plant is %q? (%s)", p.ID, m.How), "add its taxon: the scientific name of "+strings.Join(m.Apart(""), "; or "))
		l.asked[p.ID] = true
		return p
	case !m.Known():
		return p
	}
	l.taken(p.Source, 1, 1, p.ID, m)
	mine := *p
	mine.Taxon = m.Taxon()
	l.journal.plants[p.ID] = &mine
	return &mine
}

// namedEntry is the entry with ids for its plants; the entry itself where it has no other names.
func (l *linker) namedEntry(e *Entry) *Entry {
	byID := true
	for plant := range e.Named() {
		byID = byID && !l.unnamed(plant)
	}
	if byID {
		return e
	}
	mine := *e
	mine.Counts, mine.Plantings, mine.Trims = slices.Clone(e.Counts), slices.Clone(e.Plantings), slices.Clone(e.Trims)
	mine.Losses, mine.Lots = slices.Clone(e.Losses), slices.Clone(e.Lots)
	sum := fingerprint.New()
	sum.Write(e.HeadSum[:])
	for at, plant := range mine.plants() {
		if l.unnamed(*plant) {
			line, column := l.at(e.Source, at.plant())
			*plant = l.idOf(e.Source, line, column, *plant)
			fmt.Fprintln(sum, at.plant(), *plant)
		}
	}
	mine.HeadSum = sum.Value() // what the head means may change with the files under plants/
	return &mine
}

func (l *linker) namedTrimWhen(t *Tank) map[string]TrimWhen {
	ids := slices.Sorted(maps.Keys(t.TrimWhen))
	if !slices.ContainsFunc(ids, l.unnamed) {
		return t.TrimWhen
	}
	out := map[string]TrimWhen{}
	for _, id := range ids {
		w := t.TrimWhen[id]
		if l.unnamed(id) {
			line, column := l.places.AtKey(t.Source, "trim-when."+id)
			id = l.idOf(t.Source, line, column, id)
		}
		out[id] = w
	}
	return out
}

// unnamed reports whether a plant is written by something else than its id.
func (l *linker) unnamed(plant string) bool { return plant != "" && !l.known(plant) }

// Meaning is what a name of a plant is taken for in a journal.
type Meaning struct {
	ID string // of the plant; "" where the name means none, or several
	names.Answer
}

// Meant finds the plant that somebody means: one of the journal's own by its id, its common or its scientific name, else
// one of the almanac's by any of its names. A name that several plants share, or that may mean a plant which a list of the
// journal's region or of one of the others regulates, is asked about.
func (j *Journal) Meant(a *almanac.Almanac, typed string, others ...string) Meaning {
	own := j.own
	if own == nil {
		own = keysOf(j.Plants)
	}
	if id, ok := own[names.Key(typed)]; ok {
		return Meaning{ID: id}
	}
	m := Meaning{Answer: j.resolver(a, others).Resolve(typed)}
	if m.ID = m.Plant.ID; m.ID != "" && m.Cultivar {
		m.ID = strings.Join(append([]string{m.ID}, names.Words(m.Form)...), "-")
	}
	return m
}

// keysOf are the ids of plants by the keys of their names; of a name that several have, the first's.
func keysOf(plants []*Plant) map[string]string {
	out := map[string]string{}
	for _, p := range plants {
		for _, name := range []string{p.Common, p.Taxon, p.ID} {
			if key := names.Key(name); key != "" && out[key] == "" {
				out[key] = p.ID
			}
		}
	}
	return out
}

// resolver knows the names of the almanac, and guards what lists of the regions name: of all, where the journal's is not
// known.
func (j *Journal) resolver(a *almanac.Almanac, others []string) *names.Resolver {
	if j.Region == "" {
		return names.Of(a)
	}
	regions := slices.DeleteFunc(append([]string{j.Region}, others...), func(code string) bool { return !almanac.KnownRegion(code) })
	return names.Of(a).With(regions...)
}

// idOf is the id of a plant as somebody wrote it, here and in other regions. What is not resolved stays as it is.
func (l *linker) idOf(s Source, line, column int, typed string, regions ...string) string {
	key := typed + "\n" + strings.Join(regions, "\n")
	m, ok := l.meanings[key]
	if !ok && len(l.meanings) < mostMeanings {
		m = l.journal.Meant(l.names, typed, regions...)
		l.meanings[key] = m
	}
	switch {
	case len(m.Asks) > 0:
		l.place(ruleWhichPlant, s, line, column, fmt.Sprintf("which plant is %q? (%s)", spelling.Clip(typed), m.How),
			"write "+strings.Join(m.Apart(""), "; or ")+"; for a plant of your own, add a file in plants/")
		l.asked[typed] = true
	case m.ID == "":
	default:
		if m.Cultivar {
			l.cultivar(m)
		}
		l.taken(s, line, column, typed, m)
		return m.ID
	}
	return typed
}

// taken says once what a name was taken for that is not exactly and surely the plant's.
func (l *linker) taken(s Source, line, column int, typed string, m Meaning) {
	if !m.Say || l.said[typed] {
		return
	}
	l.said[typed] = true
	how := m.How
	if m.Of != "" && how == names.Misspelling {
		how += " of " + m.Of
	}
	l.place(ruleTakenFor, s, line, column, fmt.Sprintf("%q is taken for %s (%s)", spelling.Clip(typed), m.Taxon(), how), "write "+m.ID+" to be exact")
}

// cultivar makes a plant of a cultivar that has no file: it keeps its name and has its species' profile.
func (l *linker) cultivar(m Meaning) {
	if _, ok := l.journal.plants[m.ID]; !ok {
		l.journal.plants[m.ID] = &Plant{ID: m.ID, Taxon: m.Taxon()}
		delete(l.plantOK, m.ID)
	}
}

// Apart names the plants that a name may mean, each with what tells it from the others in a language.
func (m Meaning) Apart(lang string) []string {
	var out []string
	for _, p := range m.Asks {
		text := p.Taxon
		if p.ID != "" {
			text = p.ID
		}
		if mark := p.Mark.In(lang); mark != "" {
			text += " (" + mark + ")"
		}
		out = append(out, text)
	}
	return out
}
