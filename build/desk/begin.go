package desk

import (
	"cmp"
	"html/template"
	"io"
	"net/url"
	"regexp"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/change"
	"slipleaf/build/compose"
	"slipleaf/build/journal"
	"slipleaf/build/listing"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// Begin is the page that begins a journal where there is none.
type Begin struct {
	Head
	Folder string // where it will be
	Faults []template.HTML
	Typed  map[string]string
	US     bool
	German bool
	Plants []firstPlant

	Demonstration bool // it is asked for instead

	words words.Locale
}

// firstPlant is a plant that many growers begin with, to be chosen by saying how many there are.
type firstPlant struct {
	ID, Name, Taxon string
	Measure, Noun   string // by what it is counted
	SVG             template.HTML
	Count           string // as typed
}

// firstPlants are grown nearly everywhere and are on no list of plants that must not be passed on (common practice).
var firstPlants = []string{"anubias-barteri", "leptochilus-pteropus", "cryptocoryne-wendtii", "sagittaria-subulata", "hygrophila-difformis", "rotala-rotundifolia", "bacopa-caroliniana",
	"ceratopteris-thalictroides", "echinodorus-grisebachii", "eleocharis-acicularis", "taxiphyllum-barbieri", "lemna-minor"}

// measures are how plants of a habit are counted that are counted by neither stems nor plantlets.
var measures = map[string]string{"stem": "stems", "moss": "cover", "carpet": "cover"}

// beginFields are what the page asks for besides plants.
var beginFields = []string{"title", "grower", "language", "region", "units", "tank", "length", "width", "height"}

// NewBegin is the page with what was typed; nil for nothing.
func NewBegin(v *words.Words, token, folder string, typed url.Values, faults []template.HTML) Begin {
	l := words.Locale{Words: v}
	b := Begin{Head: Head{Lang: v.Lang, Direction: l.Text("page.direction"), Title: l.Text("desk.begin"), Form: token}, Folder: folder, Faults: faults, Typed: map[string]string{}, Demonstration: len(typed["demonstration"]) > 0, words: l}
	for _, key := range beginFields {
		b.Typed[key] = typed.Get(key)
	}
	b.Typed["region"] = strings.ToUpper(b.Typed["region"])
	b.US, b.German = typed.Get("units") == "us", typed.Get("language") == "de" || typed == nil && strings.HasPrefix(v.Lang, "de")
	names, err := almanac.Open()
	if err != nil {
		return b // the tests open it
	}
	for _, id := range firstPlants {
		s, _ := names.Species(id)
		p := firstPlant{ID: id, Name: words.Capital(s.Spoken(v.Lang).Common), Taxon: s.Taxon, SVG: page.Sprig(s), Count: compose.Line(typed.Get("n." + id))}
		p.Measure = cmp.Or(measures[s.Habit], "plantlets")
		p.Noun = l.Text("desk.begin-" + p.Measure)
		b.Plants = append(b.Plants, p)
	}
	return b
}

// Render writes the page.
func (b Begin) Render(to io.Writer) error {
	t, err := parse(b.words)
	if err != nil {
		return err
	}
	return t.ExecuteTemplate(to, "begin.html", b)
}

// Policy is what the desk's pages may load and where their forms go.
const Policy = policy

// Files is the journal that a filled page begins: its own file and its first tank, whose id is returned, with an entry of
// the plants that stand in it.
func (b Begin) Files(on quantity.Date) (files []change.File, tank string) {
	unit := "cm"
	if b.US {
		unit = "in"
	}
	var j, t strings.Builder
	for _, key := range []string{"title", "grower", "language", "region", "units"} {
		if v := compose.Line(b.Typed[key]); v != "" {
			j.WriteString(key + ": " + compose.Quoted(v) + "\n")
		}
	}
	t.WriteString("---\n")
	if name := compose.Line(b.Typed["tank"]); name != "" {
		t.WriteString("name: " + compose.Quoted(name) + "\n")
	}
	t.WriteString("began: " + on.String() + "\n")
	var inside []string
	for _, key := range []string{"length", "width", "height"} {
		if v := compose.WithUnit(b.Typed[key], unit); v != "" {
			inside = append(inside, key+": "+compose.Quoted(compose.Line(v)))
		}
	}
	if len(inside) > 0 {
		t.WriteString("inside: {" + strings.Join(inside, ", ") + "}\n")
	}
	t.WriteString("---\n")
	tank = cmp.Or(listing.Slug(compose.Line(b.Typed["tank"])), "tank")
	files = []change.File{{Path: "journal.yaml", After: []byte(j.String())}, {Path: "tanks/" + tank + "/tank.md", After: []byte(t.String())}}
	var e compose.Entry
	for _, p := range b.Plants {
		if strings.Trim(p.Count, "0") == "" {
			continue
		}
		planting := compose.Planting{Plant: p.ID}
		planting.Set(p.Measure, compose.WithUnit(p.Count, map[string]string{"cover": "%"}[p.Measure]))
		e.Plantings = append(e.Plantings, planting)
	}
	if len(e.Plantings) > 0 {
		files = append(files, change.File{Path: "tanks/" + tank + "/" + on.String() + ".md", After: []byte(e.Text())})
	}
	return files, tank
}

// Fault is what the page says of a complaint about its files: in front stands what the field is called that it is about.
func (b Begin) Fault(c journal.Complaint, files []change.File) template.HTML {
	said := b.words.Complaint(c)
	for _, f := range files {
		lines := strings.Split(string(f.After), "\n")
		if f.Path != c.File || c.Line < 1 || c.Line > len(lines) {
			continue
		}
		line := lines[c.Line-1]
		for _, p := range b.Plants {
			if strings.Contains(line, "{plant: "+p.ID+",") {
				return words.Escape(p.Name+": ") + said
			}
		}
		if keys := keyBefore.FindAllStringSubmatch(line[:min(len(line), c.Column)], -1); len(keys) > 0 {
			key := strings.Replace(keys[len(keys)-1][1], "name", "tank-name", 1)
			if b.words.Has("desk.begin-" + key) {
				label, _, _ := strings.Cut(b.words.Text("desk.begin-"+key), ",")
				return words.Escape(label+": ") + said
			}
		}
	}
	return said
}

// Failed is what the page says where nothing of what was typed is at fault.
func (b Begin) Failed(text string) []template.HTML { return []template.HTML{b.words.English(text)} }

var keyBefore = regexp.MustCompile(`([a-z]+):`)
