package journal

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"slipleaf/build/fingerprint"
	"slipleaf/build/names"
	"slipleaf/build/spelling"
)

// naming turns the plants of entries and tanks that are written by an everyday name into ids. What belongs to the reader
// is copied before it is changed.
func (l *linker) naming() {
	for _, t := range l.journal.Tanks {
		for i, e := range t.Entries {
			t.Entries[i] = l.namedEntry(e)
		}
		t.TrimWhen = l.namedTrimWhen(t)
	}
}

// namesOf lists where an entry names plants, with the paths of the fields.
func namesOf(e *Entry) map[string]*string {
	out := map[string]*string{}
	for i := range e.Counts {
		out[fmt.Sprintf("counts[%d].plant", i)] = &e.Counts[i].Plant
	}
	for i := range e.Plantings {
		out[fmt.Sprintf("plantings[%d].plant", i)] = &e.Plantings[i].Plant
	}
	for i := range e.Trims {
		out[fmt.Sprintf("trims[%d].plant", i)] = &e.Trims[i].Plant
	}
	for i := range e.Losses {
		out[fmt.Sprintf("losses[%d].plant", i)] = &e.Losses[i].Plant
	}
	for i := range e.Lots {
		out[fmt.Sprintf("lots[%d].plant", i)] = &e.Lots[i].Plant
	}
	return out
}

// namedEntry is the entry with ids for its plants; the entry itself where it has no other names.
func (l *linker) namedEntry(e *Entry) *Entry {
	all := true
	for plant := range e.Named() {
		all = all && !l.unnamed(plant)
	}
	if all {
		return e
	}
	mine := *e
	mine.Counts, mine.Plantings, mine.Trims = slices.Clone(e.Counts), slices.Clone(e.Plantings), slices.Clone(e.Trims)
	mine.Losses, mine.Lots = slices.Clone(e.Losses), slices.Clone(e.Lots)
	fields := namesOf(&mine)
	sum := fingerprint.New()
	sum.Write(e.HeadSum[:])
	for _, path := range slices.Sorted(maps.Keys(fields)) {
		if at := fields[path]; l.unnamed(*at) {
			line, column := e.At(path)
			*at = l.idOf(e.Source, line, column, *at)
			fmt.Fprintln(sum, path, *at)
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
			line, column := t.AtKey("trim-when." + id)
			id = l.idOf(t.Source, line, column, id)
		}
		out[id] = w
	}
	return out
}

// unnamed tells whether a plant is written by something else than its id.
func (l *linker) unnamed(plant string) bool { return plant != "" && !l.known(plant) }

// idOf is the id of a plant as somebody wrote it. What is not resolved stays as it is.
func (l *linker) idOf(s Source, line, column int, typed string) string {
	for _, p := range l.journal.Plants {
		if key := names.Key(typed); key != "" && (key == names.Key(p.Common) || key == names.Key(p.Taxon) || key == names.Key(p.ID)) {
			return p.ID
		}
	}
	answer := l.resolve(typed)
	id := answer.Plant.ID
	switch {
	case len(answer.Asks) > 0:
		l.place(ruleWhichPlant, s, line, column, fmt.Sprintf("which plant is %q? (%s)", spelling.Clip(typed), answer.How), apart(answer.Asks))
		l.asked[typed] = true
		return typed
	case id == "":
		return typed
	case answer.Cultivar:
		id = l.cultivar(answer)
	}
	r, how := ruleNamed, answer.How
	if answer.Say {
		r = ruleTakenFor
		if answer.Of != "" && answer.How == names.Misspelling {
			how += " of " + answer.Of
		}
	}
	sure := answer.How == names.AcceptedName && !answer.Say // the scientific name itself
	if !sure && !l.said[typed] {
		l.said[typed] = true
		l.place(r, s, line, column, fmt.Sprintf("%q is taken for %s (%s)", spelling.Clip(typed), answer.Taxon(), how), "write "+id+" to be exact")
	}
	return id
}

// resolve asks the almanac, guarding what lists of the journal's region name.
func (l *linker) resolve(typed string) names.Answer {
	if l.resolver == nil {
		l.resolver = names.Of(l.names)
		if l.journal.Region != "" {
			l.resolver = l.resolver.With(l.journal.Region)
		}
	}
	return l.resolver.Resolve(typed)
}

// cultivar makes a plant of a cultivar that has no file: it keeps its name and has its species' profile.
func (l *linker) cultivar(a names.Answer) string {
	id := a.Plant.ID
	for _, w := range names.Words(a.Form) {
		id += "-" + w
	}
	if _, ok := l.journal.plants[id]; !ok {
		l.journal.plants[id] = &Plant{ID: id, Taxon: a.Taxon()}
		delete(l.plantOK, id)
	}
	return id
}

// apart says what tells plants apart.
func apart(plants []names.Plant) string {
	var out []string
	for _, p := range plants {
		text := p.Taxon
		if p.ID != "" {
			text = p.ID
		}
		if p.Mark.EN != "" {
			text += " (" + p.Mark.EN + ")"
		}
		out = append(out, text)
	}
	return "write " + strings.Join(out, "; or ") + "; for a plant of your own, add a file in plants/"
}
