package page_test

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/themes"
)

// demoBook is the demonstration's journal as pages see it.
var demoBook = sync.OnceValues(func() (*page.Site, error) {
	return bookOf(os.DirFS("../../content"), quantity.Date{Year: 2026, Month: 11, Day: 25})
})

func bookOf(files fs.FS, on quantity.Date) (*page.Site, error) {
	a, err := almanac.Open()
	if err != nil {
		return nil, err
	}
	j, complaints, err := journal.Read(context.Background(), files, a, journal.Options{On: on})
	if err != nil {
		return nil, err
	}
	if n := complaints.Errors(); n > 0 {
		return nil, fmt.Errorf("the journal has %d errors: %v", n, complaints)
	}
	look, err := lookIn(cmp.Or(j.Language, "en"))
	if err != nil {
		return nil, err
	}
	return page.NewSite(j, a, look, on, page.Options{}), nil
}

var looks sync.Map // by language

// lookIn is the default look in a language, parsed once for all books.
func lookIn(lang string) (*theme.Theme, error) {
	if look, ok := looks.Load(lang); ok {
		return look.(*theme.Theme), nil
	}
	look, err := theme.Load(themes.Bench(), lang, "")
	if err == nil {
		looks.Store(lang, look)
	}
	return look, err
}

// file makes the file of a site at an address.
func file(t *testing.T, b *page.Site, addr string) string {
	t.Helper()
	for _, o := range b.Outputs() {
		if o.Addr == addr {
			text, err := o.Make()
			if err != nil {
				t.Fatal(err)
			}
			return string(text)
		}
	}
	t.Fatalf("nothing is made at %s", addr)
	return ""
}

var (
	pictures = regexp.MustCompile(`(?s)<svg.*?</svg>`)
	markup   = regexp.MustCompile(`<[^>]*>`)
	blanks   = regexp.MustCompile(`[\s\x{a0}]+`)
)

// wordsOf is a page as it is read: without drawings, markup and line breaks.
func wordsOf(htmlText string) string {
	s := markup.ReplaceAllString(pictures.ReplaceAllString(htmlText, " "), " ")
	return blanks.ReplaceAllString(strings.NewReplacer("&#34;", `"`, "&#39;", "'", "&lt;", "<").Replace(s), " ")
}

func wants(t *testing.T, where, text string, all ...string) {
	t.Helper()
	for _, want := range all {
		if !strings.Contains(text, want) {
			t.Errorf("%s does not say %q", where, want)
		}
	}
}

// small is a journal with one tank of clear figures: a plant that doubles every ten days without error, cut once, and one
// that was counted twice.
func small(more string) fs.FS {
	files := fstest.MapFS{
		"journal.yaml": {Data: []byte("title: A bench\ngrower: Ash\nlanguage: en\nunits: metric\nregion: GB\ntimezone: Europe/London\nrequests: mailto:a@bench.example\ntrim-when: {stem-length: 40 cm}\n")},
		"tanks/bath/tank.md": {Data: []byte("---\nname: The bath\nbegan: 2026-01-01\ninside: {length: 60 cm, width: 40 cm, height: 30 cm}\nwater-depth: 20 cm\n" +
			"substrate: [{material: soil, depth: 5 cm, nutrients: rich}]\nlight: [{output: 2000 lm, kind: white led, length: 50 cm, above-water: 8 cm, hours: 8}]\nco2: {injected: false}\n" + more + "---\n")},
	}
	for i, length := range []string{"10", "14.142", "20", "28.284", "40", "28.284", "40"} {
		day := quantity.Date{Year: 2026, Month: 3, Day: 1}.Add(5 * i)
		head := "counts:\n  - {plant: rotala-rotundifolia, stems: 20, length: " + length + " cm, area: 6 dm2, where: {along: 5..25 cm, row: back}}\n"
		if i < 2 {
			head += fmt.Sprintf("  - {plant: vallisneria-spiralis, plantlets: %d}\n", 3+i)
		}
		if i == 4 {
			head += "trims: [{plant: rotala-rotundifolia, cuttings: 20, length: 20 cm}]\n"
		}
		files["tanks/bath/"+day.String()+".md"] = &fstest.MapFile{Data: []byte("---\nparameters: {temperature: 24.50 C, kh: 25 dKH}\n" + head + "---\nA day.\n")}
	}
	return files
}

func smallBook(t *testing.T, more string) *page.Site {
	t.Helper()
	b, err := bookOf(small(more), quantity.Date{Year: 2026, Month: 4, Day: 1})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestEntryTellsWhatDiedOfALot(t *testing.T) {
	files := small("").(fstest.MapFS)
	files["tanks/bath/2026-03-30.md"] = &fstest.MapFile{Data: []byte("---\nlots: [{lot: RR-1, plant: rotala-rotundifolia, form: cuttings, count: 8}]\n---\n")}
	files["tanks/bath/2026-04-01.md"] = &fstest.MapFile{Data: []byte("---\nlosses: [{lot: RR-1, count: 3, cause: melt}]\n---\n")}
	b, err := bookOf(files, quantity.Date{Year: 2026, Month: 4, Day: 1})
	if err != nil {
		t.Fatal(err)
	}
	wants(t, "the entry", wordsOf(file(t, b, "/tanks/bath/2026-04-01/")), "Rotala rotundifolia", "3 of RR-1 lost (melt)")
	wants(t, "the list for machines", file(t, b, "/offers.json"), `"left": 5`)
}

// Where plants came from is said by a word of the list or by one of the journal's tanks; a person whom the diary names is not.
func TestAnEntryNamesNobodyAsWhereItsPlantsAreFrom(t *testing.T) {
	files := small("").(fstest.MapFS)
	files["tanks/bath/2026-04-01.md"] = &fstest.MapFile{Data: []byte("---\nplantings:\n  - {plant: anubias-barteri, leaves: 3, from: Quill Sample}\n  - {plant: bacopa-monnieri, stems: 3, from: Swap}\n  - {plant: sagittaria-subulata, plantlets: 2, from: the bath}\n---\n")}
	b, err := bookOf(files, quantity.Date{Year: 2026, Month: 4, Day: 1})
	if err != nil {
		t.Fatal(err)
	}
	text := wordsOf(file(t, b, "/tanks/bath/2026-04-01/"))
	wants(t, "the entry", text, "planted: 3 leaves", "planted: 3 stems (swap)", "planted: 2 plantlets (the bath)")
	for _, o := range b.Outputs() {
		if made, err := o.Make(); err != nil || strings.Contains(string(made), "Quill") {
			t.Errorf("%s names a person, %v", o.Addr, err)
		}
	}
}

func TestPlantPageTellsGrowthInWords(t *testing.T) {
	b := smallBook(t, "")
	text := wordsOf(file(t, b, "/plants/rotala-rotundifolia/"))
	wants(t, "the plant's page", text,
		"How it grows in the bath", "It doubles in about 10 days; likely", "from 7 counts", "That fits one trim.",
		"It should reach trimming size (800 cm) by today (80%).", "Doubles in 10 days", "trimmed: 20 cuttings, 400 cm", "pieces",
		"Next trim in the bath by today (80%).", "growth.csv", "growth.json", "How this is worked out, in the bath", "The regression, as a check.", "Relative growth rate: Hunt 1982",
		"7 counts in 2 growth periods, 1 March 2026 to 31 March 2026", "This is information, not legal advice", "since March 2026", "Drawn from habit and leaf shape")
	text = wordsOf(file(t, b, "/plants/vallisneria-spiralis/"))
	wants(t, "a plant with few counts", text, "Too few counts for a growth rate: 2 days so far. It needs counts on four days over at least 14 days")
	if strings.Contains(text, "It doubles") {
		t.Error("two counts tell a doubling time")
	}
}

// In a journal of US units chart, table, words and working show inches, and yields stand on square feet.
func TestGrowthInTheJournalsUnits(t *testing.T) {
	files := small("").(fstest.MapFS)
	files["journal.yaml"] = &fstest.MapFile{Data: []byte(strings.Replace(string(files["journal.yaml"].Data), "units: metric", "units: us", 1))}
	b, err := bookOf(files, quantity.Date{Year: 2026, Month: 4, Day: 1})
	if err != nil {
		t.Fatal(err)
	}
	page := file(t, b, "/plants/rotala-rotundifolia/")
	part := page[strings.Index(page, `id="h-grows-bath"`):strings.Index(page, `id="h-here"`)]
	wants(t, "how it grows", wordsOf(part), "Inches of stem in the bath.", "It should reach trimming size (315 in)", "trimmed: 20 cuttings, 157 in", "pieces a week per ft²", "It is trimmed at 315 in, the grower")
	wants(t, "the chart", part, " in</text>", ">trim at 315 in</text>", `<td class="num">315</td>`, "inches of stem</title>")
	for _, metric := range []string{" cm", "\u00a0cm", "dm²", "entimetre"} {
		if strings.Contains(wordsOf(part), metric) || strings.Contains(part, metric) {
			t.Errorf("how it grows still says %q", metric)
		}
	}
}

// "in" is another word in German, on pages, in charts and below drawings.
func TestInchesAreZollInGerman(t *testing.T) {
	files := small("").(fstest.MapFS)
	head := strings.Replace(string(files["journal.yaml"].Data), "units: metric", "units: us", 1)
	files["journal.yaml"] = &fstest.MapFile{Data: []byte(strings.Replace(head, "language: en", "language: de", 1))}
	b, err := bookOf(files, quantity.Date{Year: 2026, Month: 4, Day: 1})
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, addr := range []string{"/", "/tanks/", "/tanks/bath/", "/plants/rotala-rotundifolia/"} {
		page := file(t, b, addr)
		if m := regexp.MustCompile(`[0-9½].in[²<.,; )].{0,20}`).FindString(page); m != "" {
			t.Errorf("%s says %q", addr, m)
		}
		seen += strings.Count(page, "\u00a0Zoll") + strings.Count(page, " Zoll<")
	}
	if seen < 8 {
		t.Errorf("only %d figures are in inches", seen)
	}
}

// A first count has no chart: the page says what there is and what it takes to tell more, and claims no cuts.
func TestAFirstCountIsASentence(t *testing.T) {
	files := small("").(fstest.MapFS)
	files["tanks/bath/2026-03-31.md"] = &fstest.MapFile{Data: []byte("---\ncounts: [{plant: anubias-barteri, leaves: 9}]\n---\n")}
	b, err := bookOf(files, quantity.Date{Year: 2026, Month: 4, Day: 1})
	if err != nil {
		t.Fatal(err)
	}
	text := file(t, b, "/plants/anubias-barteri/")
	wants(t, "the page", wordsOf(text), "How it grows in the bath Counted once, on 31 March 2026: 9 leaves. The chart begins with the next count. Too few counts for a growth rate")
	for _, not := range []string{`class="chart`, "A growth period runs", "Trimming intervals"} {
		if strings.Contains(text, not) {
			t.Errorf("the page of a first count has %q", not)
		}
	}
}

func TestPlantPageHoldsTolerancesAgainstTheTank(t *testing.T) {
	text := file(t, smallBook(t, ""), "/plants/rotala-rotundifolia/")
	row := regexp.MustCompile(`(?s)<tr><th scope="row">KH</th>.*?</tr>`).FindString(text)
	wants(t, "the row of KH", wordsOf(row), "25 dKH", "out of range")
	wants(t, "the row of KH", row, `class="inset range"`)
	wants(t, "the page", wordsOf(text), "Where light was not measured it is estimated from the lights", "The bath was last tested on 31 March 2026")
}

func TestTankPage(t *testing.T) {
	text := wordsOf(file(t, smallBook(t, ""), "/tanks/bath/"))
	wants(t, "the tank's page", text,
		"The bath as counted up to 31 March 2026, to scale: 60 cm long, 20 cm of water over 5 cm of substrate.",
		"Of the 2 plants, heights are recorded for 1 and positions for 1",
		"6 dm² 25%", "72 L", "about 52.2–53.4 L", "kg on each square metre", "ask a structural engineer", "Under the surface", "mol/m² a day", "A light model is accurate to about 40%",
		"Temperature has been 24.5 °C in each reading.", "20 cuttings, 20 cm long", "Due")
	if strings.Contains(text, "24.50") {
		t.Error("a temperature has more decimals than it was measured to")
	}
}

func TestHomeDrawsTheFirstTank(t *testing.T) {
	text := file(t, smallBook(t, ""), "/")
	wants(t, "the first page", text, `class="d-tank`, `href="tanks/bath/"`, `href="plants/rotala-rotundifolia/"`)
	if lead, tank := strings.Index(text, `class="lead"`), strings.Index(text, `class="d-tank`); lead < 0 || tank < lead {
		t.Error("the drawing does not stand after the lead")
	}
}

func TestPlantThatWasTakenOutStandsNoMore(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	text := file(t, b, "/tanks/trough/")
	rows := regexp.MustCompile(`(?s)<h2 id="h-grows">.*?</section>`).FindString(text)
	wants(t, "what grows in the trough", rows, "heteranthera-zosterifolia")
	if strings.Contains(rows, "rotala-rotundifolia") {
		t.Error("the rotala was taken out in September and is still listed")
	}
	wants(t, "the page of the rotala", wordsOf(file(t, b, "/plants/rotala-rotundifolia/")), "How it grew in the trough")
}

func TestLevellingOffIsTold(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	wants(t, "the plant that fills its space", wordsOf(file(t, b, "/plants/helanthium-tenellum/")), "While small it doubled in about", "the space fills up at about", "Akaike")
}

// A chart's finding is read aloud once: the picture has a name, the caption beside it says the rest; and frames of a page are
// told apart by their names.
func TestChartsSayTheirFindingOnce(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	figure := regexp.MustCompile(`(?s)<figure class="charted">(.*?)</figure>`)
	title, caption := regexp.MustCompile(`<title id="[^"]*">([^<]*)</title>`), regexp.MustCompile(`(?s)<figcaption>(.*?)</figcaption>`)
	frame := regexp.MustCompile(`role="region" tabindex="0" aria-label="([^"]*)"`)
	ids := regexp.MustCompile(` id="([^"]*)"`)
	charts := 0
	for _, id := range b.PlantIDs() {
		text := file(t, b, page.PlantAddr(id))
		for _, m := range figure.FindAllStringSubmatch(text, -1) {
			said := caption.FindAllStringSubmatch(m[1], -1)
			if len(said) != 1 || strings.Contains(m[1], "<desc") || strings.Contains(m[1], "aria-describedby") {
				t.Fatalf("%s: a chart has %d captions, or says its finding itself too: %.300s", id, len(said), m[1])
			}
			for _, name := range title.FindAllStringSubmatch(m[1], -1) {
				charts++
				if strings.Contains(said[0][1], name[1]) {
					t.Errorf("%s: the caption says the chart's name again: %q", id, name[1])
				}
			}
		}
		for what, re := range map[string]*regexp.Regexp{"frame": frame, "id": ids} {
			seen := map[string]bool{}
			for _, m := range re.FindAllStringSubmatch(text, -1) {
				if seen[m[1]] {
					t.Errorf("%s has the %s %q twice", id, what, m[1])
				}
				seen[m[1]] = true
			}
		}
	}
	if charts < 40 {
		t.Errorf("only %d charts were looked at", charts)
	}
}

func TestGrowthFigureInProse(t *testing.T) {
	files := small("").(fstest.MapFS)
	files["pages/notes.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Notes\norder: 1\n---\n\n```growth rotala-rotundifolia bath\n```\n")}
	b, err := bookOf(files, quantity.Date{Year: 2026, Month: 4, Day: 1})
	if err != nil {
		t.Fatal(err)
	}
	wants(t, "the page with the figure", file(t, b, "/notes/"), `id="g-bath-rotala-rotundifolia-1`, "It doubles in about 10 days", `href="../plants/rotala-rotundifolia/growth.csv"`)
}

func TestTankPageTellsWhenNoWaterSuitsAll(t *testing.T) {
	files := small("").(fstest.MapFS)
	files["plants/rotala-rotundifolia.md"] = &fstest.MapFile{Data: []byte("---\ntaxon: Rotala rotundifolia\ncommon: rotala\nprofile: {kh: 0..4 dKH}\n---\n")}
	files["plants/vallisneria-spiralis.md"] = &fstest.MapFile{Data: []byte("---\ntaxon: Vallisneria spiralis\ncommon: eelgrass\nprofile: {kh: 6..18 dKH}\n---\n")}
	b, err := bookOf(files, quantity.Date{Year: 2026, Month: 4, Day: 1})
	if err != nil {
		t.Fatal(err)
	}
	text := wordsOf(file(t, b, "/tanks/bath/"))
	wants(t, "the tank's page", text, "No KH suits everything here: Rotala takes at most 4 dKH, eelgrass needs at least 6 dKH.")
	if strings.Contains(text, "tolerates 6 to 4") {
		t.Error("a tolerance runs backwards")
	}
}

func TestShareThatIsCutIsNoCover(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	text := wordsOf(file(t, b, "/tanks/tray/"))
	wants(t, "the cuts of the tray", text, "Hydrocotyle tripartita : 29% of its area")
}
