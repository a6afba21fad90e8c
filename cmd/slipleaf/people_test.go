package main

import (
	"html"
	"io/fs"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// snapshot is a journal as it lies on the disk, without what undo keeps.
func snapshot(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() && strings.HasPrefix(e.Name(), ".") && p != "." {
			if e != nil && e.IsDir() {
				return fs.SkipDir
			}
			return err
		}
		if e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			return nil
		}
		data, err := os.ReadFile(filepath.Join(dir, p))
		out[p] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// differs lists the files that two snapshots do not share.
func differs(a, b map[string]string) (out []string) {
	for p := range a {
		if b[p] != a[p] {
			out = append(out, p)
		}
	}
	for p := range b {
		if _, ok := a[p]; !ok {
			out = append(out, p)
		}
	}
	return out
}

const people = "/desk/people/"

var lotField = regexp.MustCompile(`name="lot\.([^"]+)"`)

// ask is the form of somebody who asks for plants of the first lot that is offered.
func (b *browser) ask(about string) (f url.Values, lot string) {
	b.t.Helper()
	_, body := b.get(people)
	m := lotField.FindStringSubmatch(body)
	if m == nil {
		b.t.Fatal("nothing is offered")
	}
	return url.Values{"form": {b.form(people).Get("form")}, "who": {"Quill Sample"}, "about": {about}, "lot." + m[1]: {"1"}}, m[1]
}

// Somebody asks: how the plants would do is shown before anything is written; then they are reserved, sent, reported on, and
// the person is forgotten. All of it without a script, and all but the last can be taken back.
func TestPeopleAtTheDesk(t *testing.T) {
	b := demonstration(t)
	before := snapshot(t, b.dir)
	f, lot := b.ask("gh: 8 dGH\nkh: 5 dKH\ntemperature: 24 C\nregion: GB")
	do := func(what string, status int, more ...string) string {
		t.Helper()
		f.Set("do", what)
		for i := 0; i+1 < len(more); i += 2 {
			f.Set(more[i], more[i+1])
		}
		got, body := b.post(people, f)
		if got != status {
			t.Fatalf("%s: %d\n%s", what, got, body)
		}
		return body
	}
	f.Set("message", "hi, any left? 60 x 30 x 36 cm tank, kh 5, gh 8, 24 degrees, no co2. Quill, London")
	if body := do("read", http.StatusOK); !strings.Contains(body, "gh: 8 dGH") || !strings.Contains(body, "Not said:") || len(differs(before, snapshot(t, b.dir))) > 0 {
		t.Error("the message is not read, or something was written\n", body)
	}
	if body := do("look", http.StatusOK); !strings.Contains(body, "Nothing is reserved yet") || len(differs(before, snapshot(t, b.dir))) > 0 {
		t.Error("a look at how they would do writes, or shows nothing")
	}
	body := do("reserve", http.StatusOK)
	made := differs(before, snapshot(t, b.dir))
	if len(made) != 1 || !strings.HasPrefix(made[0], "sent/") || !strings.Contains(body, "reserved for you until") {
		t.Fatal("no record, or no answer", made)
	}
	record := made[0]
	holds := func(text string) {
		t.Helper()
		if got := snapshot(t, b.dir)[record]; !strings.Contains(got, text) {
			t.Errorf("the record does not say %q:\n%s", text, got)
		}
	}
	holds("lot: " + lot)
	holds("gh: 8 dGH")
	f = url.Values{"form": f["form"], "record": {record}}
	do("sent", http.StatusOK, "how", "by-hand")
	holds("sent: 2026-11-25")
	do("report", http.StatusOK, "outcome", "arrived", "alive", "1")
	holds("outcome: arrived")
	if status, body := b.post("/desk/undo/", b.form("/desk/")); status != http.StatusOK {
		t.Error(status, body)
	}
	if strings.Contains(snapshot(t, b.dir)[record], "outcome") {
		t.Error("the report was not taken back")
	}
	do("forget", http.StatusUnprocessableEntity)
	holds("Quill Sample")
	do("forget", http.StatusOK, "sure", "on")
	if strings.Contains(snapshot(t, b.dir)[record], "Quill") {
		t.Error("the name is still there")
	}
}

// What is long settled has one line and no form of its own until it is opened: a journal of years has hundreds of records.
func TestASettledRecordHasAFormOnceItIsOpened(t *testing.T) {
	b := demonstration(t)
	_, body := b.get(people)
	m := regexp.MustCompile(`href="(/desk/people/\?record=([^"#]+))#now"`).FindStringSubmatch(body)
	if m == nil {
		t.Fatal("no settled record")
	}
	record, err := url.QueryUnescape(m[2])
	field := `name="record" value="` + record + `"`
	if err != nil || strings.Contains(body, field) {
		t.Errorf("%s has a form unopened, %v", record, err)
	}
	if _, body := b.get(html.UnescapeString(m[1])); !strings.Contains(body, field) {
		t.Errorf("%s has no form when it is opened", record)
	}
	if _, body := b.get(people + "?record=" + url.QueryEscape("sent/../journal.yaml")); strings.Contains(body, "journal.yaml") {
		t.Error("a record that is none is shown")
	}
}

// A message that names plants in its own words puts their numbers at the lots.
func TestAMessagesPlantsStandAtTheirLots(t *testing.T) {
	b := demonstration(t)
	f, lot := b.ask("")
	f.Del("lot." + lot)
	f.Set("do", "read")
	f.Set("message", "Could I have 2 of the stargrass and one anubias?")
	_, body := b.post(people, f)
	for _, want := range []string{`name="lot.HZ-1101" value="2"`, `name="lot.AB-1115" value="1"`} {
		if !strings.Contains(body, want) {
			t.Errorf("no %s", want)
		}
	}
}

// What cannot be is refused with the reason, what was typed is kept, and nothing is written: too many, a name that looks
// like a flag, a thing that nobody offers.
func TestPeopleRefusals(t *testing.T) {
	b := demonstration(t)
	before := snapshot(t, b.dir)
	for name, change := range map[string]func(f url.Values, lot string){
		"too many":        func(f url.Values, lot string) { f.Set("lot."+lot, "100000") },
		"no plant":        func(f url.Values, lot string) { f.Del("lot." + lot) },
		"no name":         func(f url.Values, lot string) { f.Set("who", "") },
		"half a plant":    func(f url.Values, lot string) { f.Set("lot."+lot, "0.5") },
		"another verb":    func(f url.Values, lot string) { f.Set("do", "publish") },
		"another journal": func(f url.Values, lot string) { f.Set("do", "cancel"); f.Set("record", "--in=/tmp") },
		"a file outside":  func(f url.Values, lot string) { f.Set("do", "cancel"); f.Set("record", "../../etc/passwd") },
		"lines of YAML": func(f url.Values, lot string) {
			f.Set("about", "gh: 8 dGH}\nprivate: {name: x")
			f.Set("who", "\n---\n")
			f.Set("do", "reserve")
			f.Set("lot."+lot, "-1")
		},
	} {
		f, lot := b.ask("gh: 8 dGH")
		f.Set("do", "reserve")
		change(f, lot)
		status, body := b.post(people, f)
		if status != http.StatusUnprocessableEntity || !strings.Contains(body, `id="faults"`) {
			t.Errorf("%s: %d", name, status)
		}
		if made := differs(before, snapshot(t, b.dir)); len(made) > 0 {
			t.Fatalf("%s: written: %v", name, made)
		}
	}
	f, _ := b.ask("gh: 8 dGH")
	f.Set("do", "cancel")
	f.Set("who", "--yes")
	f.Set("do", "wait")
	f.Set("wait-for", "java fern")
	if status, body := b.post(people, f); status != http.StatusOK || len(differs(before, snapshot(t, b.dir))) != 1 {
		t.Errorf("a name that looks like a flag is a name all the same: %d\n%s", status, body)
	}
}

// An offer that is old is settled by one button, whether it is still there or gone; the plain file says which.
func TestAnOldOfferIsSettled(t *testing.T) {
	for do, want := range map[string]string{"there": "still-there: [LOT]", "gone": "{lot: LOT, count: COUNT, "} {
		b := demonstration(t)
		before := snapshot(t, b.dir)
		_, body := b.get("/desk/")
		m := regexp.MustCompile(`name="lot" value="([^"]+)"><input type="hidden" name="count" value="(\d+)"><button name="do" value="` + do + `"`).FindStringSubmatch(body)
		if m == nil {
			t.Fatal("the demonstration has no offer that is old")
		}
		f := url.Values{"form": {b.form("/desk/").Get("form")}, "lot": {m[1]}, "count": {m[2]}}
		if status, _ := b.post("/desk/lot/", f); status != http.StatusBadRequest || len(differs(before, snapshot(t, b.dir))) != 0 {
			t.Fatal("a form that says neither was taken", status)
		}
		f.Set("do", do)
		if status, body := b.post("/desk/lot/", f); status != http.StatusOK || strings.Contains(body, `name="lot" value="`+m[1]+`"><input type="hidden" name="count"`) {
			t.Error("the lot is still asked about", status)
		}
		after := snapshot(t, b.dir)
		made := differs(before, after)
		want = strings.NewReplacer("LOT", m[1], "COUNT", m[2]).Replace(want)
		if len(made) != 1 || !strings.Contains(after[made[0]], want) {
			t.Errorf("%s: %v does not say %s", do, made, want)
		}
		b.post("/desk/lot/", f) // a second press
		if made := differs(after, snapshot(t, b.dir)); len(made) != 0 {
			t.Errorf("%s: it was settled twice: %v", do, made)
		}
		if status, _ := b.post("/desk/undo/", b.form("/desk/")); status != http.StatusOK || len(differs(before, snapshot(t, b.dir))) != 0 {
			t.Errorf("%s: it is not taken back: %d", do, status)
		}
	}
}

// What a form did is taken back by Undo, byte for byte; and a form that is sent twice, by an impatient finger or a page that is
// loaded again, does nothing the second time.
func TestEveryFormIsTakenBackAndDoneOnce(t *testing.T) {
	if testing.Short() {
		t.Skip("publishes after each of a dozen forms")
	}
	b := demonstration(t)
	token := b.form("/desk/").Get("form")
	asked, _ := b.ask("gh: 8 dGH\nregion: GB")
	asked.Set("do", "reserve")
	record := ""
	of := func(do string, more ...string) func() url.Values {
		return func() url.Values {
			f := url.Values{"form": {token}, "record": {record}, "do": {do}}
			for i := 0; i+1 < len(more); i += 2 {
				f.Set(more[i], more[i+1])
			}
			return f
		}
	}
	tank := func(set ...string) func() url.Values {
		return func() url.Values {
			f := b.form("/desk/tank/nano/")
			for i := 0; i+1 < len(set); i += 2 {
				f.Set(set[i], set[i+1])
			}
			return f
		}
	}
	for _, c := range []struct {
		what, path string
		form       func() url.Values
	}{
		{"words", "/desk/tank/nano/", tank("words", "All well.")},
		{"a reading that is added", "/desk/tank/nano/", tank("p.temperature", "24,5")},
		{"a photo", "/desk/tank/nano/", func() url.Values {
			return tank("alt", "The nano", "photo-kept", b.photo(token, twelveMegapixels(t, 3)))()
		}},
		{"a plant that is gone", "/desk/tank/tray/", func() url.Values {
			f := b.form("/desk/tank/tray/")
			for name := range f {
				if id, ok := strings.CutSuffix(name, ".count"); ok {
					f.Set(id+".gone", "on")
				}
			}
			return f
		}},
		{"waiting", people, of("wait", "who", "Quill Sample", "wait-for", "java fern")},
		{"reserved", people, func() url.Values { return asked }},
		{"sent", people, of("sent", "how", "by-hand")},
		{"a report", people, of("report", "outcome", "arrived", "alive", "1")},
		{"postage", people, of("owes", "postage", "5 EUR")},
		{"postage is settled", people, of("settled")},
	} {
		before := snapshot(t, b.dir)
		f := c.form()
		if status, body := b.post(c.path, f); status != http.StatusOK {
			t.Fatalf("%s: %d\n%.3000s", c.what, status, body)
		}
		made := differs(before, snapshot(t, b.dir))
		if status, body := b.post("/desk/undo/", b.form("/desk/")); len(made) == 0 || status != http.StatusOK {
			t.Fatalf("%s: %v; undo: %d\n%.3000s", c.what, made, status, body)
		}
		if left := differs(before, snapshot(t, b.dir)); len(left) > 0 {
			t.Errorf("%s: undo leaves %v", c.what, left)
		}
		f = c.form()
		b.post(c.path, f)
		once := snapshot(t, b.dir)
		status, body := b.post(c.path, f)
		if twice := differs(once, snapshot(t, b.dir)); len(differs(before, once)) == 0 || len(twice) > 0 {
			t.Errorf("%s: sent twice it changes %v: %d\n%.2000s", c.what, twice, status, body)
		}
		if c.what == "reserved" {
			record = differs(before, once)[0]
		}
	}
}
