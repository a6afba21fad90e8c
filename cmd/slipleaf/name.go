package main

import (
	"context"
	"fmt"
	"io"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/names"
	"slipleaf/build/quantity"
)

type nameCmd struct {
	Names  []string `arg:"" name:"name" help:"Names as you would say them, each in quotes: 'java fern' 'HC Cuba'."`
	Region []string `help:"Where it is grown or goes, as a code such as DE or US-OH; several with commas (default: the region of the journal here, else everywhere)."`
	JSON   bool     `name:"json" help:"Print the answers as JSON."`
}

// taken is what a name is taken for, as JSON.
type taken struct {
	Typed string   `json:"typed"`
	Taxon *string  `json:"taxon"`
	Asks  []string `json:"asks"`
	How   string   `json:"how"`
}

// Run says which plant each name is taken for, and why.
func (c nameCmd) Run(ctx context.Context, w world) error {
	for _, code := range c.Region {
		if !almanac.KnownRegion(code) {
			return wrongUse("%q is no region; write a code such as DE, GB-ENG or US-OH", code)
		}
	}
	a, err := almanac.Open()
	if err != nil {
		return fmt.Errorf("almanac: %w", err)
	}
	if len(c.Region) == 0 {
		if j, _ := journalHere(ctx, w, a, ""); j != nil && j.Region != "" {
			c.Region = []string{j.Region}
		}
	}
	r := names.Of(a).With(c.Region...)
	var all []taken
	for _, text := range c.Names {
		answer := r.Resolve(text)
		if !c.JSON {
			if err := tell(w.Out, answer); err != nil {
				return err
			}
			continue
		}
		t := taken{Typed: text, Asks: []string{}, How: answer.How}
		if answer.Known() {
			t.Taxon = &answer.Plant.Taxon
		}
		for _, p := range answer.Asks {
			t.Asks = append(t.Asks, p.Taxon)
		}
		all = append(all, t)
	}
	if !c.JSON {
		return nil
	}
	if len(all) == 1 {
		return w.printJSON(all[0])
	}
	return w.printJSON(all)
}

// journalHere is the journal in a folder, or in this one, and its day; nil where there is none.
func journalHere(ctx context.Context, w world, a *almanac.Almanac, in string) (*journal.Journal, quantity.Date) {
	o, err := w.open(in, "")
	if err != nil {
		return nil, quantity.Date{}
	}
	defer o.close()
	j, _, err := journal.Read(ctx, o.fsys, a, journal.Options{Zone: knownZone})
	if err != nil {
		return nil, quantity.Date{}
	}
	return j, o.on
}

// tell prints an answer in words.
func tell(w io.Writer, a names.Answer) error {
	var err error
	switch {
	case a.Known():
		of := ""
		if a.Of != "" && a.How == names.Misspelling {
			of = " of " + a.Of
		}
		_, err = fmt.Fprintf(w, "%s: %s (%s%s)\n", a.Typed, a.Taxon(), a.How, of)
	case len(a.Asks) == 0:
		_, err = fmt.Fprintf(w, "%s: %s; give the scientific name\n", a.Typed, a.How)
	default:
		fmt.Fprintf(w, "%s: which one? (%s)\n", a.Typed, a.How)
		for _, p := range a.Asks {
			mark := ""
			if p.Mark.EN != "" {
				mark = ": " + p.Mark.EN
			}
			fmt.Fprintf(w, "  %s%s\n", p.Taxon, mark)
		}
		_, err = fmt.Fprintln(w, "  or none of these")
	}
	return err
}
