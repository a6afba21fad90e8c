package page

import (
	"encoding/json"
	"fmt"
	"strings"

	"slipleaf/build/fingerprint"
	"slipleaf/build/tankform"
	"slipleaf/build/theme"
)

// TanksideAddr is the page that writes entries away from home. A site has it where journal.yaml says tankside; nothing
// links to it.
const TanksideAddr = "/tankside/"

// TanksidePage is the model of the page that writes entries without a network.
type TanksidePage struct {
	theme.Frame
	Measures []string // that a new plant may be counted by
	Data     TanksideData
}

// TanksideData is what its script reads: public figures alone.
type TanksideData struct {
	Days    []string          `json:"days"`    // names of the weekdays, Sunday first
	Months  []string          `json:"months"`  // names of the months
	Decimal string            `json:"decimal"` // mark of figures that are read
	Tanks   []TanksideTank    `json:"tanks"`
	Lots    []string          `json:"lots"`    // the names that are taken of those that lots of these weeks would get
	Words   map[string]string `json:"words"`   // of the script
	NewFile string            `json:"newFile"` // the repository's page for a new file, with {path} and {text}; "" for none
}

// TanksideTank is a tank's form.
type TanksideTank struct {
	ID       string                 `json:"id"`
	Name     string                 `json:"name"`
	Plants   []tankform.FormPlant   `json:"plants"`
	Readings []tankform.FormReading `json:"readings"`
	Entries  []string               `json:"entries"` // the days of the last weeks that have one
}

// tanksideWords are those that the script says.
var tanksideWords = []string{"desk.stem-length", "desk.pieces", "desk.piece-length", "desk.taken-out", "desk.identity-certain", "desk.identity-likely", "desk.identity-unsure", "desk.less", "desk.more",
	"desk.same", "desk.gone", "desk.cut", "desk.offer", "desk.lot", "desk.lot-count", "desk.lot-ready", "desk.lot-identity", "desk.was", "date.weekday", "desk.draft-restored", "desk.nothing-said",
	"tankside.shared", "tankside.copied", "tankside.kept-as-file", "tankside.opened", "tankside.by-hand", "tankside.too-long", "tankside.works-offline"}

// tanksideOutputs are the page, its script and style, and the worker that keeps them for later; none where the journal
// does not ask for them.
func (b *Site) tanksideOutputs(add adder, fixed func(theme.File)) {
	if b.Journal.Tankside == nil {
		return
	}
	fixed(b.Theme.Tankside)
	fixed(b.Theme.TanksideStyle)
	add(TanksideAddr, (*Site).Tankside)
	add(TanksideAddr+"worker.js", (*Site).TanksideWorker)
}

// Tankside makes the page.
func (b *Site) Tankside() ([]byte, error) {
	v := b.Locale()
	m := TanksidePage{Frame: b.frame("tankside", TanksideAddr, v.Text("tankside.title")+" · "+b.Journal.Title, ""), Measures: []string{"stems", "plantlets", "leaves"}}
	m.Unlisted = true
	m.Styles, m.Script = b.href(TanksideAddr, "/"+b.Theme.TanksideStyle.Path), b.href(TanksideAddr, "/"+b.Theme.Tankside.Path)
	m.Data = TanksideData{Days: v.List("date.weekdays"), Months: v.List("date.months"), Decimal: v.Figure("."), Tanks: []TanksideTank{}, Lots: []string{}, Words: map[string]string{}, NewFile: b.Journal.Tankside.NewFile}
	heads := b.facts.Heads()
	for _, t := range heads.Tanks {
		if !t.Ended.IsZero() && !t.Ended.After(b.facts.Day()) {
			continue
		}
		entries := b.facts.EntriesIn(t.ID)
		tank := TanksideTank{ID: t.ID, Name: t.Name, Plants: tankform.Plants(v, b.Species, heads, t, entries, b.facts.Day()), Readings: tankform.Readings(v, t.WaterOn(b.facts.Day())), Entries: []string{}}
		for _, e := range entries {
			if e.Date.After(b.facts.Day().Add(-28)) {
				tank.Entries = append(tank.Entries, e.Date.String())
			}
		}
		m.Data.Tanks = append(m.Data.Tanks, tank)
	}
	soon := map[string]bool{} // a free name ends in its month and day
	for n := -28; n < 90; n++ {
		on := b.facts.Day().Add(n)
		soon[fmt.Sprintf("%02d%02d", on.Month, on.Day)] = true
	}
	for _, l := range heads.Lots() {
		if _, end, _ := strings.Cut(l.ID, "-"); soon[end[:min(4, len(end))]] {
			m.Data.Lots = append(m.Data.Lots, l.ID)
		}
	}
	for _, key := range tanksideWords {
		_, short, _ := strings.Cut(key, ".")
		m.Data.Words[short] = v.Raw(key)
	}
	return b.Theme.Render("tankside", m)
}

// TanksideWorker is the script that keeps the page in the browser; it changes with the page, so that a browser fetches the
// newer one.
func (b *Site) TanksideWorker() ([]byte, error) {
	page, err := b.Tankside()
	if err != nil {
		return nil, err
	}
	files := []string{"./", b.href(TanksideAddr, "/"+b.Theme.TanksideStyle.Path), b.href(TanksideAddr, "/"+b.Theme.Tankside.Path)}
	list, err := json.Marshal(files)
	if err != nil {
		return nil, err
	}
	sum := fingerprint.Of(append(page, b.Theme.TanksideWorker...))
	begin := fmt.Sprintf("const kept = \"tankside-%x\", files = %s;\n", sum[:8], list)
	return append([]byte(begin), b.Theme.TanksideWorker...), nil
}
