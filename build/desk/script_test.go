package desk

import (
	"bytes"
	"context"
	"encoding/json"
	"io/fs"
	"net/url"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/almanac"
	"slipleaf/build/change"
	"slipleaf/build/compose"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/themes"
)

// composed runs the script of the page at the tank: from in, by an expression over it, to out.
func composed(t *testing.T, expression string, in, out any) {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("node is not installed, and the checks need it")
		}
		t.Skip("node is not installed: the script is not held against the program")
	}
	script, err := os.ReadFile("../../themes/bench/tankside/compose.js")
	if err != nil {
		t.Fatal(err)
	}
	given, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "-e", string(script)+"\nconst given = JSON.parse(require('fs').readFileSync(0, 'utf8'));\nprocess.stdout.write(JSON.stringify("+expression+"))")
	cmd.Stdin, cmd.Stderr = bytes.NewReader(given), os.Stderr
	said, err := cmd.Output()
	if err == nil {
		err = json.Unmarshal(said, out)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// The script of the page at the tank reads figures as the desk does.
func TestTheScriptReadsTheSameFigures(t *testing.T) {
	draw := rapid.OneOf(rapid.StringMatching(`<?[0-9]{0,3}[.,]?[0-9]{0,3}`), rapid.StringMatching(`[ <.,0-9a-zC°%/-]{0,8}`))
	typed, got := make([]string, 500), []string{}
	for i := range typed {
		typed[i] = draw.Example(i)
	}
	composed(t, `given.map((s) => compose.withUnit(s, "C"))`, typed, &got)
	for i, s := range typed {
		if want := compose.WithUnit(s, "C"); got[i] != want {
			t.Errorf("%q: the desk reads %q, the script %q", s, want, got[i])
		}
	}
}

// site is the demonstration in a language as pages see it.
func site(t *testing.T, language string, on quantity.Date, instead ...string) *page.Site {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	demo := os.DirFS("../../content")
	config, err := fs.ReadFile(demo, "journal.yaml")
	if err != nil {
		t.Fatal(err)
	}
	config = bytes.Replace(config, []byte("language: en"), []byte("language: "+language), 1)
	config = []byte(strings.NewReplacer(instead...).Replace(string(config)))
	j, _, err := journal.Read(context.Background(), change.With(demo, []change.File{{Path: "journal.yaml", After: config}}), a, journal.Options{On: on})
	if err != nil || j.Language != language {
		t.Fatal(j.Language, err)
	}
	look, err := theme.Load(themes.Bench(), language, "")
	if err != nil {
		t.Fatal(err)
	}
	return page.NewSite(j, a, look, on, page.Options{})
}

// entered are figures and words as people and their enemies type them.
var entered = rapid.OneOf(rapid.StringMatching(`<?[0-9]{1,2}([.,][0-9]{1,2})?`), rapid.String(), rapid.SampledFrom([]string{"", " ", "12,50", "<0,5", "-3", "- 3", "1.000", "76 F", "3 stems", `"3"`, "a: b", "#4", "null", "\u00855", "\ufeff5", "\u20285\u00a0",
	"日本 🌱", "it's \"so\": {1}", "\\", "---", "a\r\nb", "\n- list\n", "\u202eabc", "5\x00"}))

// filledIn draws what a form of a tank sends: its names of fields, with anything in them.
func filledIn(m tankPage) *rapid.Generator[url.Values] {
	return rapid.Custom(func(t *rapid.T) url.Values {
		f := url.Values{}
		types := func(name, was string) {
			f.Set(name, rapid.OneOf(rapid.Just(was), rapid.Just(was), entered).Draw(t, name))
		}
		tick := func(name string) {
			if rapid.IntRange(0, 3).Draw(t, name) == 0 {
				f.Set(name, "on")
			}
		}
		for _, p := range m.Plants {
			types(p.ID+".count", p.Last)
			tick(p.ID + ".same")
			tick(p.ID + ".gone")
			if p.Stems {
				types(p.ID+".length", p.Length)
				types(p.ID+".trim-length", "")
			}
			types(p.ID+".trim", "")
			tick(p.ID + ".offer")
			types(p.ID+".lot", p.NewLot)
			types(p.ID+".lot-count", "")
			types(p.ID+".ready", p.Ready)
			f.Set(p.ID+".identity", rapid.SampledFrom([]string{"certain", "likely", "unsure"}).Draw(t, "identity"))
			f.Set(p.ID+".last", p.Last)
		}
		for _, rows := range [][]readingRow{m.Readings, m.More} {
			for _, r := range rows {
				types("p."+r.Key, "")
			}
		}
		f.Set("add", rapid.SampledFrom([]string{"", "anubias-barteri"}).Draw(t, "add"))
		f.Set("add-measure", rapid.SampledFrom([]string{"stems", "plantlets", "leaves"}).Draw(t, "measure"))
		types("add-count", "3")
		types("share", "")
		types("words", "")
		return f
	})
}

// The page at the tank says of a filled form what the desk says, byte for byte: 500 drawn forms of the demonstration's
// tanks, in both languages.
func TestTheScriptSaysWhatTheDeskSays(t *testing.T) {
	type filled struct {
		Data   json.RawMessage `json:"data"`
		Tank   string          `json:"tank"`
		Day    string          `json:"day"`
		Plant  string          `json:"plant"`
		Fields map[string]any  `json:"fields"`
	}
	var forms []filled
	var want [][2]string
	for n, language := range []string{"en", "de", "en", "de", "de"} {
		on := quantity.Date{Year: 2026, Month: 11, Day: 25}.Add(-n * n)
		b := site(t, language, on)
		html, err := b.Tankside()
		if err != nil {
			t.Fatal(err)
		}
		data := regexp.MustCompile(`(?s)id="tankside-data">(.*?)</script>`).FindSubmatch(html)[1]
		var tanks []*journal.Tank
		for _, tank := range b.All.Journal.Tanks {
			if tank.Ended.IsZero() || tank.Ended.After(on) {
				tanks = append(tanks, tank)
			}
		}
		for i := range 100 {
			tank := tanks[i%len(tanks)]
			m := form(b, tank, on)
			f := filledIn(m).Example(i + 100*n)
			fields := map[string]any{}
			for name := range f {
				if fields[name] = any(f.Get(name)); f.Get(name) == "on" {
					fields[name] = true
				}
			}
			m.fill(f)
			said := m.entry(b, tank)
			if m.Wrong > 0 {
				t.Fatal(m.Faults, m.FieldFaults)
			}
			plant := m.Plants[i%len(m.Plants)].ID
			forms = append(forms, filled{data, tank.ID, on.String(), plant, fields})
			want = append(want, [2]string{said.Text(), b.All.Journal.FreeLot(plant, on)})
		}
	}
	var got [][2]string
	composed(t, `given.map((g) => [compose.text(compose.entry(g.data.tanks.find((t) => t.id === g.tank), g.fields, g.day, g.data)), compose.freeLot(g.plant, g.day, g.data.lots)])`, forms, &got)
	lots := 0
	for i, w := range want {
		if got[i] != w {
			t.Fatalf("form %d: the desk says\n%q\nthe script\n%q\nof %q", i, w, got[i], forms[i].Fields)
		}
		lots += strings.Count(w[0], "{lot: ")
	}
	if len(want) != 500 || lots < 500 {
		t.Errorf("%d forms with %d lots: they say too little", len(want), lots)
	}
}
