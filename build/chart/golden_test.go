package chart

import (
	"flag"
	"html/template"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// pictures draws each kind of chart once in each way that looks different.
func pictures(t testing.TB) map[string]template.HTML {
	out := map[string]template.HTML{}
	both := func(name string, p Picture) {
		out[name+"-broad"], out[name+"-narrow"] = p.Broad, p.Narrow
	}
	both("growth", sampleGrowth("growth").Draw())
	few := Growth{Caption: Caption{"few", "Moss"}, Words: english(), Unit: "dm² of cover", Labels: sampleGrowth("x").Labels,
		Counts: []Count{{Day: Day(2026, 5, 3), Size: 1.5}, {Day: Day(2026, 5, 20), Size: 2}}}
	both("growth-few", few.Draw())
	gone := few
	gone.ID, gone.Title, gone.Unit, gone.Whole = "gone", "Sword plants", "", true
	gone.Counts = []Count{{Day: Day(2026, 5, 3), Size: 3}, {Day: Day(2026, 5, 20), Size: 2}, {Day: Day(2026, 6, 2)}}
	both("growth-gone", gone.Draw())
	both("course", sampleCourse("gh").Draw())
	both("course-limit", sampleNitrate("no3").Draw())
	both("ranking", sampleRanking("rank").Draw())
	both("months", sampleMonths("months").Draw())
	both("tree", sampleTree("tree").Draw())
	out["range"] = Range{Low: 20, High: 28, From: 15, To: 33, Here: new(24.8), There: new(22.0)}.Draw()
	out["range-off"] = Range{Low: 2, High: 15, From: 0, To: 20, Here: new(31.0)}.Draw()
	out["tally"] = Tally{7, 2, 5}.Draw()
	out["tally-many"] = Tally{50, 12, 18}.Draw()
	return out
}

func TestGolden(t *testing.T) {
	for name, got := range pictures(t) {
		file := filepath.Join("testdata", name+".svg.html")
		if *update {
			if err := os.MkdirAll("testdata", 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, []byte(got+"\n"), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if string(want) != string(got)+"\n" {
			t.Errorf("%s differs from its golden picture; look at it, then run with -update", name)
		}
	}
}
