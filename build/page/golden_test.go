package page_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/review"
	"slipleaf/build/theme"
	"slipleaf/themes"
)

// goldenPages are a page of each kind, by the name of its file and its address in the sample journal.
var goldenPages = map[string]string{
	"home": page.HomeAddr, "offers": page.OffersAddr, "tanks": page.TanksAddr, "tank": page.TankAddr("trough"),
	"entry": page.TankAddr("trough") + "2026-04-18/", "plants": page.PlantsAddr, "plant": page.PlantAddr("heteranthera-zosterifolia"),
	"written": page.WrittenAddr("about"), "missing": "/404.html", "diary": page.DiaryAddr, "search": page.SearchAddr,
	"pass-along": page.PassAlongAddr, "friends": page.FriendsAddr, "space": page.SpaceAddr, "forecasts": page.ForecastsAddr, "suit": page.SuitAddr, "tankside": page.TanksideAddr,
	"review": review.Addr(2026),
	"sheet":  page.SheetAddr("7f3k9m2p4t6w8x0z1b5c7d9qe"), "label": page.SheetAddr("7f3k9m2p4t6w8x0z1b5c7d9qe") + "label/",
}

// sample is the journal that the golden pages are made of. Its styles and scripts are left out, so that their names,
// which change with their content, do not.
func sample(t *testing.T) *page.Site {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	on := day(t, "2026-06-20")
	j, complaints, err := journal.Read(context.Background(), os.DirFS("../../testdata/journals/good"), a, journal.Options{On: on})
	if err != nil || complaints.Errors() > 0 {
		t.Fatalf("%v %v", err, complaints)
	}
	look, err := theme.Load(themes.Bench(), "en", "")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []*theme.File{&look.Tankside, &look.TanksideStyle, &look.Styles, &look.Sheet, &look.Label, &look.Script} {
		f.Path = "look/any" + filepath.Ext(f.Path)
	}
	j.Tankside = &journal.Tankside{}
	return page.NewSite(j, a, look, on, page.Options{})
}

// A page of each kind, to be read when it changes: go test ./build/page -run Golden -update.
func TestGoldenPages(t *testing.T) {
	made := map[string]func() ([]byte, error){}
	for _, o := range sample(t).Outputs() {
		made[o.Addr] = o.Make
	}
	for name, addr := range goldenPages {
		t.Run(name, func(t *testing.T) {
			create, ok := made[addr]
			if !ok {
				t.Fatalf("there is no page %s", addr)
			}
			got, err := create()
			if err != nil {
				t.Fatal(err)
			}
			golden := filepath.Join("testdata", "pages", name+".html")
			if *update {
				if err := os.MkdirAll(filepath.Dir(golden), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(golden, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s differs:\n%s", golden, cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")))
			}
		})
	}
}

// Every kind of page that the theme has a template for is among the golden ones.
func TestGoldenPagesAreOfEveryKind(t *testing.T) {
	kinds := map[string]bool{}
	for kind := range modelsOf(t) {
		kinds[kind] = true
	}
	for kind := range kinds {
		if _, ok := goldenPages[kind]; !ok {
			t.Errorf("no golden page is made by %s.html", kind)
		}
	}
	var lost []string
	for name := range goldenPages {
		if !kinds[name] && name != "missing" {
			lost = append(lost, name)
		}
	}
	slices.Sort(lost)
	if len(lost) > 0 {
		t.Errorf("there is no template for %v", lost)
	}
}

func day(t *testing.T, s string) quantity.Date {
	t.Helper()
	d, err := quantity.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
