//go:build browser

package browser

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// moreLots are plants of every kind that the demonstration gives away on no other day.
const moreLots = `---
title: More lots
lots:
  - {lot: LM-1, plant: limnobium-laevigatum, form: plantlets, count: 30, ready: 2026-11-23, pests: "none seen", grown: submersed}
  - {lot: TB-1, plant: taxiphyllum-barbieri, form: portions, count: 9, ready: 2026-11-23, pests: "bladder snails", grown: submersed}
  - {lot: HC-1, plant: hemianthus-callitrichoides, form: portions, count: 12, ready: 2026-11-23, grown: culture}
  - {lot: HZ-2, plant: heteranthera-zosterifolia, form: cuttings, count: 20, ready: 2026-11-23, identity: unsure, received-as: "stargrass of the Saturday market", grown: emersed}
  - {lot: EG-1, plant: egeria-densa, form: cuttings, count: 12, ready: 2026-11-23, grown: submersed, pests: "hydra"}
  - {lot: CU-1, plant: cryptocoryne-x-willisii, form: plantlets, count: 12, ready: 2026-11-23, grown: emersed, copper: 2026-10}
  - {lot: VS-2, plant: vallisneria-spiralis, form: plantlets, count: 12, ready: 2026-11-23, grown: submersed}
---

More.
`

const (
	hardTank = "tank length: 60 cm, tank width: 30 cm, tank height: 35 cm, lamp output: 1400 lm, lamp kind: white led, light hours: 8, co2: no, substrate: sand, livestock: 12 small tetras"
	hotTank  = "tank length: 30 cm, tank width: 20 cm, tank height: 20 cm, co2: no, livestock: 1 betta"
	fishTank = "tank length: 36 in, tank width: 18 in, tank height: 16 in, lamp output: 4000 lm, lamp kind: white led, light hours: 10, co2: yes, livestock: 5 goldfish"
)

// parcels go to people and tanks as unlike as they come: one plant and five, two lots of one plant, a plant that won't live, one that
// is forbidden, nothing known, afloat, seeds.
var parcels = [][]string{
	{"VS-2:1", "--water", "temperature: 24 C, ph: 7.4, gh: 12 dGH, kh: 8 dKH", "--tank", hardTank, "--region", "DE"},
	{"BC-1122:1", "TB-1:2", "AB-1115:1", "SR-1122:5", "CW-1122:1", "--water", "temperature: 24 C, gh: 12 dGH, kh: 8 dKH", "--tank", hardTank, "--region", "GB"},
	{"HZ-1101:2", "HZ-2:6", "--water", "temperature: 24 C, gh: 12 dGH, kh: 8 dKH", "--tank", hardTank},
	{"HC-1:3", "--water", "temperature: 30 C, ph: 8.4, gh: 30 dGH, kh: 22 dKH", "--tank", hotTank, "--region", "US-FL"},
	{"LM-1:3", "VS-2:3", "HC-1:1", "--water", "temperature: 72 F, ph: 6.2, gh: 2 dGH, kh: 1 dKH", "--tank", fishTank, "--region", "US-OH", "--units", "us"},
	{"BM-1019:1"},
	{"LM-1:1", "--water", "gh: 8 dGH", "--region", "FR"},
	{"EG-1:3", "--region", "US-WA", "--law-checked"},
	{"CU-1:6", "--water", "temperature: 22 C, gh: 2 dGH, kh: 1 dKH", "--tank", fishTank},
	{"LC-1004:10", "--water", "temperature: 24 C, gh: 12 dGH, kh: 8 dKH", "--tank", hardTank},
}

// unlikeSite is the demonstration in a language, with parcels of every kind; it also lists their sheets.
func unlikeSite(t *testing.T, lang string) (dir string, sheets []string) {
	t.Helper()
	journal := filepath.Join(t.TempDir(), "content")
	if err := os.CopyFS(journal, os.DirFS("content")); err != nil {
		t.Fatal(err)
	}
	config, err := os.ReadFile(filepath.Join(journal, "journal.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	config = regexp.MustCompile(`(?m)^language:.*$`).ReplaceAll(config, []byte("language: "+lang))
	for name, text := range map[string][]byte{"journal.yaml": config, filepath.Join("tanks", "trough", "2026-11-23.md"): []byte(moreLots)} {
		if err := os.WriteFile(filepath.Join(journal, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	sheet := regexp.MustCompile(`/sheets/[0-9a-z]{25}/`)
	for i, p := range parcels {
		args := append([]string{"send", "Example Person 9" + string(rune('0'+i))}, p...)
		out, err := exec.CommandContext(t.Context(), made.program, append(args, "--how", "by-hand", "--in", journal, "--on", demoDay)...).Output()
		if err != nil {
			t.Fatalf("%v: %v\n%s", p, err, out)
		}
		sheets = append(sheets, sheet.FindString(string(out)))
	}
	publish(t, journal, journal+"-www")
	return journal + "-www", sheets
}

// In either language each kind of page, and sheets as unlike as they come, fit a small phone and a wide screen: no word is broken
// within itself, nothing is cut off, and no text of a chart crosses another one.
func TestWordsStayWhole(t *testing.T) {
	for _, lang := range []string{"en", "de"} {
		t.Run(lang, func(t *testing.T) {
			dir, sheets := unlikeSite(t, lang)
			all, err := pages(dir)
			if err != nil {
				t.Fatal(err)
			}
			b := start(t, dir, plainFonts)
			looked := some(having(all, func(kind string) bool { return !strings.HasPrefix(kind, "sheets/") }), 2)
			for _, s := range sheets {
				looked = append(looked, s, s+"label/", s+"label/#strip")
			}
			var jobs []job
			for _, p := range looked {
				for _, l := range []look{{width: 360}, {width: 1280}, {width: 1280, large: true}} {
					name := p + " (" + l.String() + ")"
					if l.large {
						name += ", text at 200 %"
					}
					jobs = append(jobs, job{name, func(ctx context.Context) ([]string, error) {
						if err := chromedp.Do(ctx, l.set(), chromedp.Navigate(b.base+p)); err != nil {
							return nil, err
						}
						if l.large { // a chart grows as a whole
							return askAll(ctx, "fits", "whole")
						}
						return askAll(ctx, "fits", "whole", "charts")
					}})
				}
			}
			b.all(t, jobs)
		})
	}
}
