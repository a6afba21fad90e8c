package desk

import (
	"bytes"
	"context"
	"fmt"
	"html/template"
	"image"
	"image/jpeg"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"slipleaf/build/almanac"
	"slipleaf/build/change"
	"slipleaf/build/compose"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/picture"
	"slipleaf/build/quantity"
	"slipleaf/build/tankform"
	"slipleaf/build/words"
	"slipleaf/themes"
)

func TestNumber(t *testing.T) {
	for in, want := range map[string]string{
		"24.6": "24.6", "24,60": "24.6", " 7,0 ": "7", "<5": "<5", "<0,50": "<0.5", ",5": "0.5", "<.5": "<0.5", "": "", "12": "12", "1.000": "1", "1,2,3": "1,2,3", "6 dGH": "6 dGH", "unknown": "unknown", "-1": "-1", "1e5": "1e5",
	} {
		if got := compose.Number(in); got != want {
			t.Errorf("compose.Number(%q) is %q, want %q", in, got, want)
		}
	}
	for _, c := range []struct{ in, unit, want string }{
		{"24,5", "C", "24.5 C"}, {"<5", "mg/L", "<5 mg/L"}, {"6.8", "", "6.8"}, {"76 F", "C", "76 F"}, {"", "C", ""}, {"5..6", "C", "5..6"}, {"x", "C", "x"},
	} {
		if got := compose.WithUnit(c.in, c.unit); got != c.want {
			t.Errorf("compose.WithUnit(%q, %q) is %q, want %q", c.in, c.unit, got, c.want)
		}
	}
}

// A complaint about a place of the composed text is beside the field that made it.
func TestFieldAt(t *testing.T) {
	text := "---\ntitle: \"x\"\nparameters: {temperature: 24 C, ph: 71}\ncounts:\n  - {plant: anubias-barteri, leaves: 9}\ntrims:\n  - {plant: anubias-barteri, removed: 3 leaves}\nplantings:\n  - {plant: \"any fern\", stems: 2}\nwater-change: {share: 300 %, with: \"tap\"}\nlots:\n  - {lot: AB-1, plant: anubias-barteri, count: 0}\nphotos:\n  - {file: \"a.jpg\", alt: \"\"}\n---\n"
	for _, c := range []struct {
		line, column int
		want         string
	}{
		{3, 40, "p.ph"}, {3, 28, "p.temperature"}, {5, 30, "anubias-barteri.count"}, {7, 30, "anubias-barteri.trim"}, {9, 10, "add"}, {10, 24, "share"}, {12, 40, "anubias-barteri.trim"}, {14, 8, "photo"}, {2, 3, ""}, {0, 0, ""}, {99, 1, ""}, {3, 9999, "p.ph"},
	} {
		if got := fieldAt(text, c.line, c.column); got != c.want {
			t.Errorf("%d:%d is of %q, want %q", c.line, c.column, got, c.want)
		}
	}
}

// A page that begins a journal makes one that the reader has no complaint of, whatever the tank is called and whichever
// plants are chosen; they stand in the tank then.
func TestWhatABeginMakesIsRead(t *testing.T) {
	names, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	on, _ := quantity.ParseDate("2026-03-08")
	rapid.Check(t, func(t *rapid.T) {
		lang := rapid.SampledFrom([]string{"en", "de"}).Draw(t, "language")
		typed := url.Values{"title": {"Bench"}, "grower": {"Wren"}, "language": {lang}, "units": {rapid.SampledFrom([]string{"metric", "us"}).Draw(t, "units")}, "region": {"DE"}}
		typed.Set("tank", rapid.OneOf(rapid.SampledFrom([]string{"Con", "nul", "com1", "Tank. ", "Über \"uns\": #1", "水草"}), rapid.StringMatching(`[A-Za-zäöü0-9 .:'-]{0,60}[A-Za-z]`)).Draw(t, "tank"))
		v, err := words.Load(themes.Bench(), lang)
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]string{}
		for _, id := range firstPlants {
			if n := rapid.IntRange(0, 100).Draw(t, id); n > 50 {
				unit := ""
				if species, _ := names.Species(id); measures[species.Habit] == "cover" { // the page shows it behind the field
					unit = rapid.SampledFrom([]string{"", "%", " %"}).Draw(t, "typed unit")
				}
				typed.Set("n."+id, strconv.Itoa(n)+unit)
				want[id] = strconv.Itoa(n)
			}
		}
		files, tank := NewBegin(v, "", "", typed, nil).Files(on)
		j, cs, err := journal.Read(t.Context(), change.With(fstest.MapFS{}, files), names, journal.Options{On: on})
		if err != nil || len(cs) > 0 {
			t.Fatal(err, cs)
		}
		in, ok := j.Tank(tank)
		if !ok {
			t.Fatalf("no tank %s", tank)
		}
		for _, s := range journal.Standing(in.Entries, on) {
			got := ""
			switch {
			case s.Stems != nil:
				got = strconv.Itoa(*s.Stems)
			case s.Plantlets != nil:
				got = strconv.Itoa(*s.Plantlets)
			case s.Cover.Known():
				got = strings.TrimSuffix(s.Cover.String(), " %")
			}
			if got != want[s.Plant] {
				t.Fatalf("%s: %q, not %q", s.Plant, got, want[s.Plant])
			}
			delete(want, s.Plant)
		}
		if len(want) > 0 {
			t.Fatalf("not planted: %v", want)
		}
	})
}

// A count that is typed with its unit, which stands beside the field too, is the same count.
func TestAUnitMayBeTyped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]string{"%", "g"}).Draw(t, "unit")
		row := plantRow{FormPlant: tankform.FormPlant{ID: "x", Measure: map[string]string{"%": "cover", "g": "mass"}[unit], Unit: unit, Last: "5"}}
		n := strconv.Itoa(rapid.IntRange(6, 90).Draw(t, "n"))
		row.Count = n
		want, _ := row.counted()
		row.Count = n + rapid.SampledFrom([]string{" ", ""}).Draw(t, "space") + unit
		got, ok := row.counted()
		for _, c := range []*compose.Count{&want, &got} {
			c.Cover, c.Mass = strings.ReplaceAll(c.Cover, " ", ""), strings.ReplaceAll(c.Mass, " ", "")
		}
		if !ok || got != want || got.Cover+got.Mass != n+unit {
			t.Errorf("%+v, not %+v", got, want)
		}
	})
}

// A complaint about what a page that begins a journal makes names the field or the plant.
func TestFaultsNameTheirField(t *testing.T) {
	names, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	v, err := words.Load(themes.Bench(), "de")
	if err != nil {
		t.Fatal(err)
	}
	on, _ := quantity.ParseDate("2026-03-08")
	for _, c := range []struct{ key, value, want string }{
		{"region", "xx", "Land: "}, {"title", "", "Hier fehlt eine Angabe"}, {"length", "x", "Länge: "}, {"width", "-1", "Breite: "}, {"n.anubias-barteri", "-3", "Barters Speerblatt: "}, {"n.taxiphyllum-barbieri", "130", "Javamoos: "},
	} {
		typed := url.Values{"title": {"B"}, "grower": {"W"}, "language": {"de"}, "units": {"metric"}, "region": {"de"}, "tank": {"T"}}
		typed.Set(c.key, c.value)
		b := NewBegin(v, "", "", typed, nil)
		files, _ := b.Files(on)
		_, cs, err := journal.Read(t.Context(), change.With(fstest.MapFS{}, files), names, journal.Options{On: on})
		if err != nil || len(cs) != 1 {
			t.Errorf("%s: %v, %v", c.key, err, cs)
			continue
		}
		if got := b.Fault(cs[0], files); !strings.HasPrefix(string(got), c.want) {
			t.Errorf("%s: %q does not begin with %q", c.key, got, c.want)
		}
	}
}

// The plants that are offered first have a name in both languages, a drawing of their own, and no list has them anywhere.
func TestFirstPlants(t *testing.T) {
	names, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	regions := almanac.Countries()
	for _, part := range []string{"CA", "FL", "TX", "WA", "HI", "MN"} {
		regions = append(regions, "US-"+part)
	}
	drawn, called := map[template.HTML]bool{}, map[string]bool{}
	for _, lang := range []string{"en", "de"} {
		v, err := words.Load(themes.Bench(), lang)
		if err != nil {
			t.Fatal(err)
		}
		plants := NewBegin(v, "", "", nil, nil).Plants
		if len(plants) != 12 {
			t.Errorf("%d plants", len(plants))
		}
		for _, p := range plants {
			if p.Name == "" || p.SVG == "" || called[lang+p.Name] {
				t.Errorf("%s: %+v", lang, p)
			}
			if s, _ := names.Species(p.ID); s.Spoken(lang).CommonIn != lang && lang != "en" {
				t.Errorf("%s has no name in %s", p.ID, lang)
			}
			drawn[p.SVG], called[lang+p.Name] = true, true
			for _, region := range regions {
				if lang == "en" && len(names.Notices(p.Taxon, region)) > 0 {
					t.Errorf("%s is on a list in %s", p.Taxon, region)
				}
			}
		}
	}
	if len(drawn) != 12 {
		t.Errorf("%d drawings", len(drawn))
	}
}

// An entry goes into the day's last file where a form made that and it can say both; what somebody wrote by hand, in
// whatever way, stays as it is, and another look at the same gets a file of its own.
func TestTarget(t *testing.T) {
	const day = "2026-03-08"
	on, _ := quantity.ParseDate(day)
	made := compose.Entry{Title: "Trough", Parameters: []compose.Reading{{Key: "ph", Value: "6.8"}}}
	add := compose.Entry{Title: "Trough", Words: "All well."}
	again := compose.Entry{Title: "Trough", Parameters: []compose.Reading{{Key: "ph", Value: "6.9"}}}
	byHand := "---\ntitle: Trough # by hand\nparameters: {ph: 6.8}\n---\n"
	for _, c := range []struct {
		name   string
		files  map[string]string
		add    compose.Entry
		to     string
		joined bool
	}{
		{"nothing yet", nil, add, day, false},
		{"a form's entry", map[string]string{day: made.Text()}, add, day, true},
		{"the same reading again", map[string]string{day: made.Text()}, again, day + "-2", false},
		{"by hand", map[string]string{day: byHand}, add, day + "-2", false},
		{"by hand, then a form's", map[string]string{day: byHand, day + "-2": made.Text()}, add, day + "-2", true},
		{"a form's, changed by a blank", map[string]string{day: made.Text() + "\n"}, add, day + "-2", false},
	} {
		files := fstest.MapFS{
			"journal.yaml":         {Data: []byte("title: A bench\ngrower: K.\n")},
			"tanks/trough/tank.md": {Data: []byte("---\nname: The trough\nbegan: 2026-01-05\n---\n")},
		}
		for name, text := range c.files {
			files["tanks/trough/"+name+".md"] = &fstest.MapFile{Data: []byte(text)}
		}
		names, err := almanac.Open()
		if err != nil {
			t.Fatal(err)
		}
		j, cs, err := journal.Read(context.Background(), files, names, journal.Options{On: on})
		if err != nil || cs.Errors() > 0 {
			t.Fatal(c.name, err, cs)
		}
		tank, _ := j.Tank("trough")
		f, err := target(files, tank, on, c.add)
		if err != nil || f.Path != "tanks/trough/"+c.to+".md" || (f.Before != nil) != c.joined {
			t.Errorf("%s: it goes to %s, joined %v, %v", c.name, f.Path, f.Before != nil, err)
		}
		if c.joined && (!bytes.Contains(f.After, []byte("ph: 6.8")) || !bytes.Contains(f.After, []byte("All well."))) {
			t.Errorf("%s: not all is there:\n%s", c.name, f.After)
		}
	}
}

// Labels for a meeting are as many as were asked for, thirty to a sheet, and name nobody.
func TestLabelsForAMeeting(t *testing.T) {
	b := site(t, "en", quantity.Date{Year: 2026, Month: 11, Day: 25})
	d := New(func() *page.Site { return b }, nil, mute{})
	for asked, want := range map[string][2]int{"lot.HZ-1101=30": {1, 30}, "lot.HZ-1101=30&lot.AB-1115=1": {2, 31}, "lot.HZ-1101=301": {0, 0}, "lot.HZ-1101=-1&lot.NONE=3": {0, 0}, "": {0, 0}, "lot.HZ-1101=99999999999999999999": {0, 0}, "lot.HZ-1101=2000000000&lot.AB-1115=300": {0, 0}} {
		w := httptest.NewRecorder()
		d.ServeHTTP(w, httptest.NewRequest(http.MethodGet, Addr+"labels/?paper=letter&"+asked, nil))
		body := w.Body.String()
		if got := [2]int{strings.Count(body, `class="sheet30 letter"`), strings.Count(body, `class="tag"`)}; got != want || want[0] > 0 && strings.Contains(body, "Example Person") || strings.Contains(body, "Choose 1 to 300") == (want[0] > 0) {
			t.Errorf("%s: %d sheets of %d labels: %.300s", asked, got[0], got[1], body)
		}
	}
}

// The tray keeps the newest photos, each once.
func TestTray(t *testing.T) {
	var tr tray
	for i := range inTray + 3 {
		tr.put(&photo{id: fmt.Sprint(i)})
		tr.put(&photo{id: fmt.Sprint(i)})
	}
	if len(tr.photos) != inTray || tr.get("0") != nil || tr.get(fmt.Sprint(inTray+2)) == nil || tr.get("") != nil {
		t.Errorf("%d photos", len(tr.photos))
	}
}

// A photo of 48 megapixels from a camera that was held upright is taken in: turned, no wider than is kept, without what the
// camera wrote beside it, within the memory that photos may take.
func TestALargePhoto(t *testing.T) {
	if testing.Short() {
		t.Skip("48 megapixels")
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewYCbCr(image.Rect(0, 0, 8000, 6000), image.YCbCrSubsampleRatio420), nil); err != nil {
		t.Fatal(err)
	}
	// Exif 2.3: one entry of the first directory, orientation 6: the camera's right is the picture's top; then words in
	// place of a position
	exif := "Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00CANARY-POSITION"
	data := append([]byte("\xff\xd8\xff\xe1\x00"+string(rune(len(exif)+2))+exif), b.Bytes()[2:]...)
	info, err := picture.Plan("", data)
	if err != nil || info.Cost > picture.MaxCost {
		t.Fatal(info.Cost, err)
	}
	p, err := newPhoto(context.Background(), data)
	if err != nil {
		t.Fatal(err)
	}
	c, err := jpeg.DecodeConfig(bytes.NewReader(p.data))
	if err != nil || c.Width != photoWidth || c.Height <= c.Width {
		t.Errorf("%d × %d, %v: want it upright, %d wide", c.Width, c.Height, err, photoWidth)
	}
	if bytes.Contains(p.data, []byte("CANARY")) || bytes.Contains(p.data, []byte("Exif")) {
		t.Error("what the camera wrote is still in it")
	}
}

// Every key whose help a form shows is in the table of the format, in both languages.
func TestHelpLines(t *testing.T) {
	for _, lang := range []string{"en", "de", "en-US"} {
		for mapping, keys := range map[string][]string{"count": {"stems", "length"}, "trim": {"cuttings", "removed"}, "lot": {"lot", "count", "ready", "identity"}, "planting": {"plant"}, "photo": {"alt"}, "water-change": {"share"}, "journal": {"title", "grower", "region", "language", "units"}, "tank": {"name"}, "inside": {"length", "width", "height"}, "parameters": nil} {
			lines := helpLines(lang, mapping, keys)
			if len(lines) < max(len(keys), 1) {
				t.Errorf("%s: %d lines of help for %v of %s", lang, len(lines), keys, mapping)
			}
			for _, l := range lines {
				if l.Text == "" {
					t.Errorf("%s: no help for %s of %s", lang, l.Key, mapping)
				}
			}
		}
	}
	if helpLines("de", "count", []string{"stems"})[0] == helpLines("en", "count", []string{"stems"})[0] {
		t.Error("German help is English")
	}
}
