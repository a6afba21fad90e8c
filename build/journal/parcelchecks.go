package journal

import (
	"fmt"
	"slices"
	"strings"

	"slipleaf/build/format"
	"slipleaf/build/head"
	"slipleaf/build/quantity"
)

func checkItem(d *decoder, n *head.Node, _ *Item) {
	d.need(n, "lot", "a plant of a parcel")
	d.need(n, "count", "a plant of a parcel")
}

// checkItems looks at several plants of one parcel: they stand in place of lot and count, each lot once, and a report names
// one of them.
func checkItems(d *decoder, n *head.Node, p *Parcel) {
	for _, key := range []string{"lot", "count"} {
		if n.Child(key) != nil {
			d.at(n.Child(key), ruleContradiction, key+" stands under each of items, not beside them", "delete this "+key)
		}
	}
	lots := map[string]bool{}
	for i, item := range p.Items {
		if lots[item.Lot] {
			d.at(&n.Child("items").Kids[i], ruleContradiction, fmt.Sprintf("%s is in the parcel twice", item.Lot), "add the counts up")
		}
		lots[item.Lot] = true
	}
	for i, r := range p.Reports {
		if r.Lot != "" && !lots[r.Lot] {
			d.at(&n.Child("reports").Kids[i], ruleContradiction, fmt.Sprintf("%s is not in this parcel", r.Lot), "a report names one of items, or none for all")
		}
		if r.Lot == "" && r.Alive != nil && len(p.Items) > 1 {
			d.at(n.Child("reports").Kids[i].Child("alive"), ruleContradiction, "alive counts one plant, and this report is for all of them", "name the lot, or leave alive out")
		}
	}
}

// LostInPost is the outcome of a parcel that never came. It says nothing of the plant.
const LostInPost = format.LostInPost

// Outcomes lists what a recipient can report, in the order in which it comes.
func Outcomes() []string { return slices.Clone(format.Outcomes[:]) }

func checkReport(d *decoder, n *head.Node, r *Report) {
	if d.need(n, "date", "a report") && d.need(n, "outcome", "a report") && r.Cause != "" && r.Outcome != "" && r.Outcome != "lost" {
		d.at(n.Child("cause"), ruleContradiction, "cause is only for outcome: lost, but the outcome is "+r.Outcome, "")
	}
}

// checkParcel looks at what one parcel's keys say together.
func checkParcel(d *decoder, n *head.Node, p *Parcel) {
	if units := n.Child("units"); units != nil {
		p.UnitsSaid = units.Text == "us" || units.Text == "metric"
	}
	if items := n.Child("items"); items != nil {
		checkItems(d, n, p)
	} else if n.Child("plant") != nil && n.Child("lot") == nil {
		checkWaiting(d, n)
		return
	} else if !d.need(n, "lot", "a parcel") || !d.need(n, "count", "a parcel") {
		return
	}
	if n.Child("asked") == nil && n.Child("reserved") == nil && n.Child("sent") == nil {
		d.at(n, ruleMissingKey, "a parcel needs sent, reserved or asked", "")
	}
	if !p.Cancelled.IsZero() && !p.Sent.IsZero() {
		d.at(n.Child("cancelled"), ruleContradiction, "a parcel can't be both sent and cancelled", "keep one of the two")
	}
	if !p.Cancelled.IsZero() && p.Cancelled.Before(p.Reserved) {
		d.at(n.Child("cancelled"), ruleDateOrder, fmt.Sprintf("cancelled on %s, before it was reserved on %s", p.Cancelled, p.Reserved), "")
	}
	if !p.Sent.IsZero() && p.Sent.Before(p.Asked) {
		d.at(n.Child("sent"), ruleDateOrder, fmt.Sprintf("sent on %s, before it was asked for on %s", p.Sent, p.Asked), "")
	}
	if list := n.Child("reports"); list != nil && list.Shape == head.Sequence {
		for i := range p.Reports {
			checkReportOf(d, &list.Kids[i], &p.Reports[i], p)
		}
	}
}

// checkWaiting looks at a record of somebody who waits for a plant: until a lot is theirs, nothing is reserved or sent.
func checkWaiting(d *decoder, n *head.Node) {
	d.need(n, "asked", "somebody who waits for a plant")
	for _, key := range []string{"reserved", "sent"} {
		if n.Child(key) != nil {
			d.at(n.Child(key), ruleMissingKey, "what is "+key+" comes out of a lot, and none is given", "add lot: and count:")
		}
	}
}

func checkReportOf(d *decoder, n *head.Node, r *Report, p *Parcel) {
	if date := n.Child("date"); date != nil && !r.Date.IsZero() {
		switch {
		case p.Sent.IsZero():
			d.at(date, ruleDateOrder, "this parcel has a report but no sent date", "add sent: with the day it went out")
		case r.Date.Before(p.Sent):
			d.at(date, ruleDateOrder, fmt.Sprintf("reported on %s, before it was sent on %s", r.Date, p.Sent), "")
		}
	}
	// Plants that were passed on or divided may outnumber those sent; until then no more can live than came.
	sent := p.Count
	for _, item := range p.Items {
		if item.Lot == r.Lot {
			sent = item.Count
		}
	}
	if r.Alive != nil && sent > 0 && *r.Alive > sent && r.Outcome != "passed-on" && r.Outcome != "trimmed" {
		d.at(n.Child("alive"), ruleTooManyAlive, fmt.Sprintf("%d alive of %d sent", *r.Alive, sent), "")
	}
}

// codeLetters are the letters of codes: no i, l, o or u, which are misread or make words.
const codeLetters = "0123456789abcdefghjkmnpqrstvwxyz"

// code reads a parcel's code: 20 to 64 of [codeLetters].
func (d *decoder) code(n *head.Node) string {
	s, ok := d.scalar(n, "a code")
	if !ok {
		return ""
	}
	for i, r := range s {
		if !strings.ContainsRune(codeLetters, r) {
			line, column := n.Within(i)
			d.complain(ruleBadCode, line, column, fmt.Sprintf("a code can't contain %q: only 0-9 and a-z without i, l, o and u", r), "slipleaf send makes the code; don't type one")
			return ""
		}
	}
	if len(s) < 20 || len(s) > 64 {
		d.at(n, ruleBadCode, fmt.Sprintf("the code has %d characters; it needs 20 to 64, or it could be guessed", len(s)), "slipleaf send makes the code; don't type one")
		return ""
	}
	return s
}

func (d *decoder) units(n *head.Node) quantity.System {
	if d.choice(n, "metric", "us") == "us" {
		return quantity.US
	}
	return quantity.Metric
}
