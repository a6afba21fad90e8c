package feed

import (
	"encoding/json"
	"net/url"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
)

// source is a small journal with a lot of every state.
func source(t *testing.T) Source {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	head := func(lines ...string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte("---\n" + strings.Join(lines, "\n") + "\n---\n")}
	}
	fsys := fstest.MapFS{
		"journal.yaml":         {Data: []byte("title: Bench\ngrower: Wren\naddress: https://bench.example/\nregion: GB\nrequests: \"mailto:bench@example.org?subject={lot}%20{plant}\"\n")},
		"tanks/trough/tank.md": head("began: 2026-01-01"),
		"tanks/trough/2026-06-10.md": head("lots:", "  - {lot: A-1, plant: heteranthera-zosterifolia, form: cuttings, count: 6}",
			"  - {lot: A-2, plant: heteranthera-zosterifolia, form: cuttings, expected: true}", "  - {lot: A-3, plant: heteranthera-zosterifolia, form: cuttings, count: 2}",
			"  - {lot: A-4, plant: heteranthera-zosterifolia, form: cuttings, count: 2}", "  - {lot: A-5, plant: anubias-barteri, form: divisions, count: 2}"),
		"plants/anubias-barteri.md": head("withhold: true"),
		"sent/1.md":                 head("lot: A-3", "count: 2", "sent: 2026-06-11", "code: 7f3k9m2p4t6w8x0z1b5c7d9qe", "private: {name: CANARY}"),
		"sent/2.md":                 head("lot: A-4", "count: 2", "reserved: 2026-06-28"),
		"sent/3.md":                 head("lot: A-1", "count: 1", "reserved: 2026-06-28"),
	}
	on := quantity.Date{Year: 2026, Month: 6, Day: 30}
	j, complaints, err := journal.Read(t.Context(), fsys, a, journal.Options{On: on})
	if err != nil || complaints.Errors() > 0 {
		t.Fatal(err, complaints)
	}
	w := ledger.Forecast{Low: on.Add(2), Best: on.Add(5), High: on.Add(12)}
	l := ledger.New(j, on, func(ledger.Key) ledger.Forecast { return w })
	elsewhere, _, _ := l.Outcomes()
	return Source{j, l, elsewhere, func(id string) almanac.Species { s, _ := a.Species(id); return s }, func(lot string) string { return "/offers/#lot-" + strings.ToLower(lot) }}
}

func TestOffersTellEveryLotThatMayBeShown(t *testing.T) {
	data, err := OffersOf(source(t)).JSON()
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		AsOf   string `json:"as-of"`
		Offers []map[string]any
	}
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	want := []struct {
		lot, state      string
		left, promised  float64
		unknown, ranges bool
	}{{"A-1", "ready", 5, 1, false, false}, {"A-2", "coming", -1, 0, true, true}, {"A-3", "gone", 0, 0, false, false}, {"A-4", "gone", 0, 2, false, false}}
	if got.AsOf != "2026-06-30" || len(got.Offers) != len(want) {
		t.Fatalf("%s", data)
	}
	for i, w := range want {
		o := got.Offers[i]
		left, counted := o["left"].(float64)
		if !counted {
			left = -1
		}
		if o["lot"] != w.lot || o["state"] != w.state || left != w.left || o["reserved"] != w.promised || (o["unknown"] != nil) != w.unknown || (o["window"] != nil) != w.ranges {
			t.Errorf("%v, want %+v", o, w)
		}
	}
	if p := got.Offers[0]["page"]; p != "https://bench.example/offers/#lot-a-1" {
		t.Errorf("page %v", p)
	}
	if r := got.Offers[1]["ready"]; r != "2026-07-05" {
		t.Errorf("the coming lot is ready on %v", r)
	}
	for _, secret := range []string{"CANARY", "7f3k9m2p"} {
		if strings.Contains(string(data), secret) {
			t.Errorf("the file tells %s", secret)
		}
	}
	needs := got.Offers[0]["needs"].(map[string]any)
	if ph, ok := needs["ph"].(map[string]any); !ok || ph["low"].(float64) < 4 {
		t.Errorf("needs %v", needs)
	}
}

func TestEstablishedIsToldFromFiveVerdictsOn(t *testing.T) {
	for _, n := range []int{0, 4, 5, 12} {
		var e ledger.Outcomes
		e.All = ledger.OutcomeCounts{Sent: n + 2, Established: n}
		if n >= 5 {
			e.All.Say = ledger.CountsAndInterval
		}
		got := ElsewhereOf(e)
		if (got.Established != nil) != (n >= 5) || slices.Contains(got.Unknown, "established") != (n < 5) || got.Results != n {
			t.Errorf("%d verdicts: %+v", n, got)
		}
	}
}

func TestClaims(t *testing.T) {
	for _, c := range []struct{ claims, body, want string }{
		{"mailto:bench@example.org?subject={lot}%20{plant}", "a & b\nc", "mailto:bench@example.org?subject=A-1%20Rotala%20%26%20co&body=a%20%26%20b%0D%0Ac"},
		{"mailto:bench@example.org", "x", "mailto:bench@example.org?body=x"},
		{"https://bench.example/ask?lot={lot}", "x", "https://bench.example/ask?lot=A-1"},
		{"", "x", ""},
	} {
		got := RequestWith(&journal.Journal{Requests: c.claims}, "A-1", "Rotala & co", c.body)
		if got != c.want {
			t.Errorf("%s: got %s, want %s", c.claims, got, c.want)
		}
		if _, err := url.Parse(got); err != nil {
			t.Error(err)
		}
	}
}
