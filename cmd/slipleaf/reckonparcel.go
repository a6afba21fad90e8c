package main

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/topic"
)

// parcel adds to the sum of a parcel what the journal's own parcels came to, and the rules of the border.
func (c reckonCmd) parcel(ctx context.Context, w world, args []topic.Arg) (topic.Answer, error) {
	a, err := almanac.Open()
	if err != nil {
		return topic.Answer{}, fmt.Errorf("almanac: %w", err)
	}
	j, on := journalHere(ctx, w, a, c.In)
	answer, err := topic.Reckon(c.Topic, args)
	if err != nil {
		return answer, err
	}
	asked := map[string]string{} // beside its figures: where from, where to, and which plant
	for _, key := range []string{"from", "to", "plant"} {
		asked[key], _ = answer.Inputs[key].(string)
	}
	if err := fromJournal(&answer, a, j, on, asked); err != nil {
		return answer, err
	}
	return answer, overBorder(&answer, a, j, asked)
}

// fromJournal says how the journal's own parcels came.
func fromJournal(answer *topic.Answer, a *almanac.Almanac, j *journal.Journal, on quantity.Date, asked map[string]string) error {
	say := func(name, format string, args ...any) {
		answer.Results = append(answer.Results, topic.Result{Name: name, Word: fmt.Sprintf(format, args...)})
	}
	var of func(*journal.Parcel) bool
	what := ""
	if typed := asked["plant"]; typed != "" {
		id, called, err := plantMeant(a, j, typed, asked["to"])
		if err != nil {
			return err
		}
		what = " of " + called
		of = func(p *journal.Parcel) bool { l, ok := j.Lot(p.Lot); return ok && l.Plant == id }
	}
	if j == nil {
		say("your-parcels", "none: there is no journal here")
		return nil
	}
	r := ledger.ArrivalsOf(j.Parcels, on, of)
	n := len(r.Days)
	if n == 0 {
		say("your-parcels", "%s%s sent by post; none says its days on the way", counted(r.Sent, "parcel"), what)
		return nil
	}
	say("your-parcels", "%s%s sent by post, of which %d say their days on the way: %d to %d, half of them at most %d; %d lost in the post", counted(r.Sent, "parcel"), what, n, r.Days[0], r.Days[n-1], r.Days[(n-1)/2], r.Lost)
	for _, x := range r.By {
		say(fmt.Sprintf("%d-to-%d-days", x.From, x.To), "%s: %d of %d plants alive when they came; %d established, %d died, %d without a result", counted(x.Parcels, "parcel"), x.Alive, x.Plants, x.Established, x.Died, x.Open)
	}
	return nil
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// plantMeant is the plant of a typed name, by id and as it is called.
func plantMeant(a *almanac.Almanac, j *journal.Journal, typed, to string) (id, called string, err error) {
	if j == nil {
		j = &journal.Journal{}
	}
	m := j.Meant(a, typed, to)
	switch {
	case len(m.Asks) > 0:
		return "", "", wrongUse("which plant is %q? (%s) write %s", typed, m.How, strings.Join(m.Apart(""), "; or "))
	case m.ID == "":
		return "", "", wrongUse("no plant is called %q (%s); give the scientific name", typed, m.How)
	}
	s, _ := a.Species(m.ID)
	s.ID = cmp.Or(s.ID, m.ID)
	return m.ID, s.Called(), nil
}

// overBorder adds the rules for the post from one region to another: the journal's own, where it is not said.
func overBorder(answer *topic.Answer, a *almanac.Almanac, j *journal.Journal, asked map[string]string) error {
	from, to := asked["from"], asked["to"]
	if from == "" && j != nil {
		from = j.Region
	}
	for _, code := range []string{asked["from"], to} {
		if code != "" && !almanac.KnownRegion(code) {
			return wrongUse("%q is no region; write a code such as DE, GB-ENG or US-OH", code)
		}
	}
	for _, rule := range a.Borders(from, to) {
		answer.Cautions = append(answer.Cautions, rule.EN+" ("+rule.Basis+")")
	}
	return nil
}
