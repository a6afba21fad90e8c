package desk

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/journal"
	"slipleaf/build/message"
	"slipleaf/build/page"
	"slipleaf/build/papers"
	"slipleaf/build/words"
)

// peoplePage is where somebody asks for plants, and where what they have is kept track of.
type peoplePage struct {
	Head
	Who, Message, About string
	Lots                []offerRow
	WaitFor, WaitCount  string
	Notes               []string // what of the message was guessed, or not taken
	Law, Anyway         bool     // the grower has looked the law up; posts in a month without post
	Plants              []outlook
	Answer              string          // what to write to them
	Done, Faults        []template.HTML // what was done, and what was not
	Now, Before         []personRow
	Outcomes            []choice
}

// offerRow is a lot that plants can be taken of, and how many are asked for.
type offerRow struct{ Lot, Plant, Left, Count string }

// outlook is what the sheet would say of a plant in their tank.
type outlook struct {
	papers.Outlook
	Lot   string `json:"lot"`
	Count int    `json:"count"`
	Left  int    `json:"left"`
	Sheet string `json:"sheet"`
	Label string `json:"label"`
	Plant string `json:"-"`
}

// personRow is a record of somebody: what they have, or wait for.
type personRow struct {
	Record, For, What, State string
	Open, Sent, Waits        bool
	Several                  []choice // the lots of a parcel of several, for a report of one
	Sheet                    string
	Owes, InReturn           string
}

// settled is for how many days a parcel that was sent is listed first: our choice.
const settled = 180

// people shows the page, and does what a form of it asks for. What is done is done by the commands, which judge it first.
func (d *Desk) people(w http.ResponseWriter, r *http.Request, b *page.Site) {
	m := d.peoplePage(b, r.URL.Query().Get("record"))
	status := http.StatusOK
	if r.Method == http.MethodPost {
		newer := d.Rebuilt()
		m.fill(b, r.PostForm)
		wrote, err := m.act(r.Context(), d, r.PostForm)
		switch {
		case err != nil:
			status = http.StatusUnprocessableEntity
			m.Faults = append(m.Faults, why(b.Locale(), err)...)
		case wrote:
			d.settle(r.Context(), newer)
			fresh := d.peoplePage(d.Site(), "")
			fresh.Plants, fresh.Answer, fresh.Done = m.Plants, m.Answer, m.Done
			m = fresh
		}
	}
	for i := range m.Plants {
		if lot, ok := b.All.Journal.Lot(m.Plants[i].Lot); ok {
			m.Plants[i].Plant = words.PlantName(b.Species(lot.Plant))
		}
	}
	d.show(w, b, status, "people.html", m)
}

// peoplePage is the page as nobody has filled it in. What is long settled has no form, but for the record that is open.
func (d *Desk) peoplePage(b *page.Site, opened string) peoplePage {
	v := b.Locale()
	m := peoplePage{Head: d.head(b, v.Text("desk.people"))}
	for _, l := range b.All.Ledger.Offered() {
		if l.Left > 0 || l.Expected {
			left := v.Text("desk.left", "n", l.Left)
			if l.Expected {
				left = v.Text("desk.coming")
			}
			m.Lots = append(m.Lots, offerRow{Lot: l.ID, Plant: words.Capital(words.PlantName(b.Species(l.Plant))), Left: left})
		}
	}
	m.Outcomes = outcomes(v)
	for _, p := range slices.Backward(b.All.Journal.Parcels) {
		if !p.First() {
			continue
		}
		row := personOf(b, v, p)
		if row.Record == opened || row.Open || row.Waits || row.Sent && b.All.On.Since(p.Sent) <= settled {
			m.Now = append(m.Now, row)
		} else {
			m.Before = append(m.Before, row)
		}
	}
	return m
}

// outcomes are those that a report may have.
func outcomes(v words.Locale) (out []choice) {
	for _, key := range journal.Outcomes() {
		out = append(out, choice{Value: key, Text: v.Text("outcome." + key), Chosen: key == "growing"})
	}
	return out
}

func personOf(b *page.Site, v words.Locale, p *journal.Parcel) personRow {
	row := personRow{Record: p.Path, For: keptName(p), Waits: p.Waits(b.All.On), Sent: !p.Sent.IsZero(), Open: p.Sent.IsZero() && p.Cancelled.IsZero(), Owes: p.Owes(), InReturn: p.InReturn}
	var what []string
	if p.Plant != "" {
		what = append(what, words.PlantName(b.Species(p.Plant)))
		row.State = v.Text("desk.state-asked") + " " + v.DayMonth(p.Asked)
	}
	for _, one := range p.Plants() {
		if one.Lot == "" {
			continue
		}
		name := one.Lot
		if lot, ok := b.All.Journal.Lot(one.Lot); ok {
			name = words.PlantName(b.Species(lot.Plant)) + " (" + one.Lot + ")"
		}
		what = append(what, fmt.Sprintf("%d %s", one.Count, name))
		row.Several = append(row.Several, choice{Value: one.Lot, Text: name})
	}
	if len(row.Several) < 2 {
		row.Several = nil
	}
	row.What = strings.Join(what, ", ")
	for _, at := range states(p) {
		row.State = v.Text("desk.state-"+at.word) + " " + v.DayMonth(at.on)
	}
	if p.Code != "" && row.Sent {
		row.Sheet = page.SheetAddr(p.Code)
	}
	return row
}

// fill puts what was typed into the form of somebody who asks.
func (m *peoplePage) fill(b *page.Site, f url.Values) {
	m.Who, m.Message, m.About = strings.TrimSpace(f.Get("who")), f.Get("message"), strings.TrimSpace(f.Get("about"))
	m.WaitFor, m.WaitCount, m.Law = strings.TrimSpace(f.Get("wait-for")), strings.TrimSpace(f.Get("wait-count")), f.Get("law") != ""
	m.Anyway = f.Get("anyway") != ""
	for i := range m.Lots {
		m.Lots[i].Count = strings.TrimSpace(f.Get("lot." + m.Lots[i].Lot))
	}
	if strings.TrimSpace(m.Message) != "" && (m.About == "" || f.Get("do") == "read") {
		m.understood(b)
	}
}

// understood is what a message says of a tank, as lines to be corrected; what was guessed, what was not taken and what is
// missing is listed beside them. Plants that it asks for stand at their lots.
func (m *peoplePage) understood(b *page.Site) {
	v := b.Locale()
	read, err := message.Read(m.Message)
	if err != nil {
		m.Faults = append(m.Faults, v.English(err.Error()))
		return
	}
	read.For(b.Journal.Language)
	all := strings.Split(strings.TrimSpace(read.Block.String()), "\n")
	m.About = strings.Join(all[1:len(all)-1], "\n")
	if m.Who == "" {
		m.Who = read.Block.Name
	}
	wants, doubts := read.Wants(message.Offers(b.All.Ledger.Offered(), b.Almanac, b.Species))
	for i := range m.Lots {
		for _, w := range wants {
			if strings.EqualFold(m.Lots[i].Lot, w.Lot) && m.Lots[i].Count == "" && w.Count > 0 {
				m.Lots[i].Count = strconv.Itoa(w.Count)
			}
		}
	}
	for _, g := range read.Guessed {
		m.Notes = append(m.Notes, v.Text("desk.guessed", "key", g.Key, "value", g.Is, "from", g.From))
	}
	for _, d := range slices.Concat(doubts, read.Doubts) {
		why := slices.DeleteFunc([]string{words.SumText(v, "not-taken-"+string(d.Why), message.Whys[d.Why]), strings.Join(d.Of, ", "), d.From}, func(x string) bool { return x == "" })
		m.Notes = append(m.Notes, v.Text("desk.doubted", "key", d.Key, "why", strings.Join(why, ": ")))
	}
	if len(read.Missing) > 0 {
		m.Notes = append(m.Notes, v.Text("desk.missing", "keys", strings.Join(read.Missing, ", ")))
	}
}

// act does what the button says. wrote tells that something was written.
func (m *peoplePage) act(ctx context.Context, d *Desk, f url.Values) (wrote bool, err error) {
	do := f.Get("do")
	switch {
	case do == "read":
		return false, nil
	case m.Who == "" && slices.Contains([]string{"reserve", "send", "wait"}, do):
		return false, &Refusal{Said: words.Said{Key: "desk.who-missing"}}
	}
	switch do {
	case "look", "reserve", "send":
		return m.give(ctx, d, do)
	case "wait":
		plant := m.WaitFor
		if m.WaitCount != "" {
			plant += ":" + m.WaitCount
		}
		_, done, err := d.Writer.Command(ctx, []string{"wait", "--from", "-", "--yes", "--", m.Who, plant}, m.block())
		m.Done = answers(d.Site().Locale(), done)
		return true, err
	default:
		return m.keepTrack(ctx, d, do, f)
	}
}

// block is the corrected reading in the lines that the commands take.
func (m *peoplePage) block() string {
	b := block.Block{}.String()
	return strings.Replace(b, "\n", "\n"+m.About+"\n", 1)
}

// banned is the key of what is said where a plant may not be given to somebody.
const banned = "said.banned"

// give looks how the chosen plants would do, or gives them.
func (m *peoplePage) give(ctx context.Context, d *Desk, do string) (wrote bool, err error) {
	args := []string{do, "--json", "--from", "-"}
	if do == "look" {
		args = []string{"reserve", "--json", "--dry-run", "--from", "-"}
	}
	if m.Law || do == "look" {
		args = append(args, "--law-checked")
	}
	if m.Anyway {
		args = append(args, "--anyway")
	}
	args = append(args, "--yes", "--", m.Who)
	for _, l := range m.Lots {
		if l.Count != "" && l.Count != "0" {
			args = append(args, l.Lot+":"+l.Count)
		}
	}
	printed, _, err := d.Writer.Command(ctx, args, m.block())
	var r *Refusal
	if errors.As(err, &r) && r.Said.Key == banned && do != "look" { // the looks say which lists
		_, lerr := m.give(ctx, d, "look")
		return false, errors.Join(err, lerr)
	}
	if err != nil {
		return false, err
	}
	return do != "look", m.take(printed)
}

// take reads what reserve and send print.
func (m *peoplePage) take(said string) error {
	var out struct {
		Parcels []outlook `json:"parcels"`
		Message string    `json:"message"`
	}
	err := json.Unmarshal([]byte(said), &out)
	m.Plants, m.Answer = out.Parcels, out.Message
	return err
}

// keepTrack is what becomes of a record: it goes out, is cancelled, reported on, or forgotten.
func (m *peoplePage) keepTrack(ctx context.Context, d *Desk, do string, f url.Values) (wrote bool, err error) {
	record := f.Get("record")
	var args []string
	switch do {
	case "sent":
		args = []string{"send", "--json"}
		how, anyway := strings.CutSuffix(f.Get("how"), "-anyway")
		if anyway {
			args = append(args, "--anyway")
		}
		args = append(args, "--how", how, "--", record)
	case "next":
		args = []string{"reserve", "--json", "--", record, f.Get("lot") + ":" + f.Get("count")}
	case "cancel":
		args = []string{"cancel", "--", record}
	case "owes":
		args = []string{"postage", "--", record, f.Get("postage")}
	case "settled":
		args = []string{"postage", "--settled", "--", record}
	case "report":
		args = reportArgs(record, f)
	case "forget":
		if f.Get("sure") == "" {
			return false, &Refusal{Said: words.Said{Key: "desk.forget-sure"}}
		}
		args = []string{"forget", "--yes", "--", record}
	default:
		return false, fmt.Errorf("%q is nothing that can be done here", do)
	}
	printed, done, err := d.Writer.Command(ctx, args, "")
	if err != nil {
		return false, err
	}
	if slices.Contains(args, "--json") {
		return true, m.take(printed)
	}
	m.Done = answers(d.Site().Locale(), done)
	return true, nil
}

func reportArgs(record string, f url.Values) []string {
	args := []string{"report"}
	if alive := strings.TrimSpace(f.Get("alive")); alive != "" {
		args = append(args, "--alive="+alive)
	}
	if lot := f.Get("lot"); lot != "" {
		args = append(args, "--lot="+lot)
	}
	return append(args, "--", record, f.Get("outcome"))
}
