package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/site"
)

// secrets are what no page may tell: every code, which only sheets may, and everything private, by the file that holds it.
func secrets(t *testing.T, root string) (codes []string, private map[string]string) {
	t.Helper()
	private = map[string]string{}
	canary := regexp.MustCompile(`CANARY-[A-Za-z0-9-]*|canary-file-name`)
	value := regexp.MustCompile(`(?:name|address|note|phone|email): *(?:"([^"]+)"|([^,}"\n]+))`)
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		for _, c := range canary.FindAllString(name+"\n"+string(data), -1) {
			private[c] = name
		}
		for line := range strings.SplitSeq(string(data), "\n") {
			if code, ok := strings.CutPrefix(line, "code: "); ok {
				codes = append(codes, strings.TrimSpace(code))
			}
			if rest, ok := strings.CutPrefix(line, "private: "); ok {
				for _, m := range value.FindAllStringSubmatch(rest, -1) {
					private[m[1]+m[2]] = name
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return codes, private
}

// A search of the whole site of the demonstration journal for every code, name, address and private note finds codes
// under /sheets/ alone, and the rest nowhere: neither as it stands, nor as HTML, JSON or an address would write it.
func TestNothingPrivateIsPublished(t *testing.T) {
	const root = "../../content"
	codes, private := secrets(t, root)
	if len(codes) < 50 || len(private) < 50 {
		t.Fatalf("the demonstration has only %d codes and %d private texts: the test would show little", len(codes), len(private))
	}
	o := site.Options{On: quantity.Date{Year: 2026, Month: 11, Day: 25}, Zone: knownZone}
	book, complaints, err := site.Load(t.Context(), os.DirFS(root), o)
	if err != nil || book == nil {
		t.Fatal(err, complaints)
	}
	files, err := site.Make(t.Context(), book, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		data := bytes.ToLower(append([]byte(f.Path+"\n"), f.Data...))
		for _, code := range codes {
			if !strings.HasPrefix(f.Path, "sheets/") && bytes.Contains(data, []byte(code)) {
				t.Errorf("%s tells the code %s", f.Path, code)
			}
		}
		for text, from := range private {
			for _, form := range forms(text) {
				if bytes.Contains(data, []byte(form)) {
					t.Errorf("%s tells what %s keeps private: %q", f.Path, from, form)
				}
			}
		}
	}
}

// forms are the ways in which a text may be written in a file of the site.
func forms(s string) []string {
	s = strings.ToLower(s)
	return []string{s, strings.ReplaceAll(s, " ", "%20"), strings.ReplaceAll(s, " ", "+"), strings.ReplaceAll(s, " ", "-")}
}

// Each sheet tells its own code and no other.
func TestASheetTellsNoOtherCode(t *testing.T) {
	const root = "../../content"
	codes, _ := secrets(t, root)
	o := site.Options{On: quantity.Date{Year: 2026, Month: 11, Day: 25}, Zone: knownZone}
	book, _, err := site.Load(t.Context(), os.DirFS(root), o)
	if err != nil || book == nil {
		t.Fatal(err)
	}
	for _, out := range book.Outputs() {
		own, ok := strings.CutPrefix(out.Addr, "/sheets/")
		if !ok {
			continue
		}
		own, _, _ = strings.Cut(own, "/")
		data, err := out.Make()
		if err != nil {
			t.Fatal(err)
		}
		for _, code := range codes {
			if code != own && bytes.Contains(data, []byte(code)) {
				t.Errorf("%s tells the code of another parcel", out.Addr)
			}
		}
	}
}

// A lot of a plant that the grower withholds is on no page's list of lots.
func TestWithheldPlantsAreNotOnOffer(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	on := quantity.Date{Year: 2026, Month: 11, Day: 25}
	j, _, err := journal.Read(t.Context(), os.DirFS("../../content"), a, journal.Options{On: on})
	if err != nil {
		t.Fatal(err)
	}
	o := site.Options{On: on, Zone: knownZone}
	book, _, err := site.Load(t.Context(), os.DirFS("../../content"), o)
	if err != nil || book == nil {
		t.Fatal(err)
	}
	withheld := 0
	for _, p := range j.Plants {
		if !p.Withhold {
			continue
		}
		withheld++
		for _, make := range []func() ([]byte, error){book.Offers, book.OffersJSON, book.PassAlong} {
			data, err := make()
			if err != nil {
				t.Fatal(err)
			}
			if bytes.Contains(data, []byte(p.ID)) {
				t.Errorf("%s is withheld and yet shown", p.ID)
			}
		}
	}
	if withheld == 0 {
		t.Error("the demonstration withholds no plant")
	}
}
