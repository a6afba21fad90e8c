package ledger

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

func day(s string) quantity.Date {
	d, err := quantity.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

func names(t testing.TB) *almanac.Almanac {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// read links a journal of one tank from the files given; files lists the rest of it by name.
func read(t testing.TB, a *almanac.Almanac, on quantity.Date, files map[string]string) (*journal.Journal, journal.Complaints) {
	t.Helper()
	fsys := fstest.MapFS{
		"journal.yaml":         {Data: []byte("title: Bench\nregion: GB\n")},
		"tanks/trough/tank.md": {Data: []byte("---\nname: The trough\nbegan: 2026-01-01\n---\n")},
	}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	j, complaints, err := journal.Read(t.Context(), fsys, a, journal.Options{On: on})
	if err != nil {
		t.Fatal(err)
	}
	return j, complaints
}

func head(lines ...string) string { return "---\n" + strings.Join(lines, "\n") + "\n---\n" }

func entry(lots ...string) string {
	return head(append([]string{"title: Lots", "lots:"}, lots...)...)
}

const stargrass = "plant: heteranthera-zosterifolia, form: cuttings"

func TestStatesOfALot(t *testing.T) {
	a := names(t)
	on := day("2026-06-30")
	forecasts := func(k Key) Forecast {
		return map[Key]Forecast{{"trough", "heteranthera-zosterifolia"}: {day("2026-06-20"), day("2026-07-02"), day("2026-07-09")}}[k]
	}
	counted := "  - {lot: HZ-1, " + stargrass + ", count: 12}"
	for _, c := range []struct {
		name                     string
		lot                      string
		parcels                  []string
		state                    State
		promised, sent, left     int
		waiting, lapsed, windows int // windows: 1 from the forecast, 2 the grower's own
	}{
		{"ready, and waiting since the entry", counted, nil, Ready, 0, 0, 12, 10, 0, 0},
		{"ready from a day of its own", "  - {lot: HZ-1, " + stargrass + ", count: 12, ready: 2026-06-25}", nil, Ready, 0, 0, 12, 5, 0, 0},
		{"counted, but ready later", "  - {lot: HZ-1, " + stargrass + ", count: 12, ready: 2026-07-05}", nil, Coming, 0, 0, 12, 0, 0, 2},
		{"expected, with a forecast", "  - {lot: HZ-1, " + stargrass + ", expected: true}", nil, Coming, 0, 0, 0, 0, 0, 1},
		{"expected, promised already", "  - {lot: HZ-1, " + stargrass + ", expected: true}", []string{"count: 4, reserved: 2026-06-28"}, Coming, 4, 0, 0, 0, 0, 1},
		{"some sent, some promised", counted, []string{"count: 4, sent: 2026-06-22", "count: 3, reserved: 2026-06-23"}, Ready, 3, 4, 5, 10, 0, 0},
		{"all that is left is promised", counted, []string{"count: 8, sent: 2026-06-22", "count: 4, reserved: 2026-06-23"}, Reserved, 4, 8, 0, 0, 0, 0},
		{"all sent", counted, []string{"count: 12, reserved: 2026-06-21, sent: 2026-06-22"}, Gone, 0, 12, 0, 0, 0, 0},
		{"a withdrawn promise frees its plants", counted, []string{"count: 12, reserved: 2026-06-21, cancelled: 2026-06-22"}, Ready, 0, 0, 12, 10, 0, 0},
		{"a promise of fourteen days ago holds", counted, []string{"count: 12, reserved: 2026-06-16"}, Reserved, 12, 0, 0, 0, 0, 0},
		{"one of fifteen days ago has lapsed", counted, []string{"count: 12, reserved: 2026-06-15"}, Ready, 0, 0, 12, 10, 1, 0},
		{"a lapsed promise that was sent after all counts", counted, []string{"count: 12, reserved: 2026-06-01, sent: 2026-06-29"}, Gone, 0, 12, 0, 0, 0, 0},
		{"who only asked takes nothing", counted, []string{"count: 12, asked: 2026-06-29"}, Ready, 0, 0, 12, 10, 0, 0},
		{"a parcel that takes too many takes none", counted, []string{"count: 10, sent: 2026-06-22", "count: 3, reserved: 2026-06-23"}, Ready, 0, 10, 2, 10, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := map[string]string{"tanks/trough/2026-06-20.md": entry(c.lot)}
			for i, p := range c.parcels {
				files[fmt.Sprintf("sent/%d.md", i)] = head("lot: HZ-1", strings.ReplaceAll(p, ", ", "\n"))
			}
			j, _ := read(t, a, on, files)
			got, ok := New(j, on, forecasts).Lot("HZ-1")
			if !ok {
				t.Fatal("no such lot")
			}
			if got.State != c.state || got.Reserved != c.promised || got.Sent != c.sent || got.Left != c.left || got.Waiting != c.waiting || len(got.Lapsed) != c.lapsed {
				t.Errorf("got %s: %d promised, %d sent, %d left, waiting %d d, %d lapsed", got.State, got.Reserved, got.Sent, got.Left, got.Waiting, len(got.Lapsed))
			}
			switch c.windows {
			case 0:
				if got.Window.Known() {
					t.Errorf("a window %v", got.Window)
				}
			case 1: // never before the day of the ledger
				if got.Own || got.Window != (Forecast{on, day("2026-07-02"), day("2026-07-09")}) {
					t.Errorf("window %v, own %v", got.Window, got.Own)
				}
			case 2:
				if !got.Own || got.Window.Best != day("2026-07-05") {
					t.Errorf("window %v, own %v", got.Window, got.Own)
				}
			}
		})
	}
}

func TestWithheldPlantsAreNotOffered(t *testing.T) {
	j, _ := read(t, names(t), day("2026-06-30"), map[string]string{
		"tanks/trough/2026-06-20.md":          entry("  - {lot: HZ-1, "+stargrass+", count: 12}", "  - {lot: CW-1, plant: cryptocoryne-wendtii, form: plantlets, count: 2}"),
		"plants/heteranthera-zosterifolia.md": head("withhold: true"),
	})
	l := New(j, day("2026-06-30"), nil)
	if got := l.Offered(); len(got) != 1 || got[0].ID != "CW-1" {
		t.Errorf("offered %v", got)
	}
	if got := l.In(Ready); len(got) != 1 || got[0].ID != "CW-1" {
		t.Errorf("ready %v", got)
	}
	if a, ok := l.Lot("HZ-1"); !ok || !a.Withheld {
		t.Error("the withheld lot is not known to be withheld")
	}
}

func TestOrderOfTheLists(t *testing.T) {
	on := day("2026-06-30")
	j, _ := read(t, names(t), on, map[string]string{
		"tanks/trough/2026-06-10.md": entry(
			"  - {lot: A-1, "+stargrass+", count: 2, ready: 2026-06-20}", "  - {lot: A-2, "+stargrass+", count: 2, ready: 2026-06-12}",
			"  - {lot: A-3, "+stargrass+", expected: true}", "  - {lot: A-4, plant: cryptocoryne-wendtii, form: plantlets, expected: true, ready: 2026-08-01}",
			"  - {lot: A-5, plant: cryptocoryne-wendtii, form: plantlets, expected: true, ready: 2026-07-01}",
			"  - {lot: A-6, "+stargrass+", count: 2}", "  - {lot: A-7, "+stargrass+", count: 2}"),
		"sent/1.md": head("lot: A-6", "count: 2", "sent: 2026-06-11"),
		"sent/2.md": head("lot: A-7", "count: 2", "sent: 2026-06-15"),
	})
	l := New(j, on, nil)
	for state, want := range map[State]string{Ready: "A-2 A-1", Coming: "A-5 A-4 A-3", Gone: "A-7 A-6", Reserved: ""} {
		var ids []string
		for _, a := range l.In(state) {
			ids = append(ids, a.ID)
		}
		if got := strings.Join(ids, " "); got != want {
			t.Errorf("%s: %s, want %s", state, got, want)
		}
	}
}

// history makes a random history of a few lots and a dozen parcels that may ask for too many, be withdrawn, lapse and
// lie in any order of files.
func history(r *rand.Rand) (lots []*journal.Lot, parcels []*journal.Parcel) {
	from := day("2026-01-01")
	for i := range 1 + r.IntN(3) {
		lot := &journal.Lot{ID: fmt.Sprintf("L-%d", i), Count: r.IntN(15), Date: from.Add(r.IntN(60))}
		if r.IntN(6) == 0 {
			lot.Count, lot.Expected = 0, true
		}
		lots = append(lots, lot)
	}
	for range r.IntN(14) {
		p := &journal.Parcel{Lot: lots[r.IntN(len(lots))].ID, Count: 1 + r.IntN(8), Reserved: from.Add(r.IntN(120))}
		switch r.IntN(4) {
		case 0:
			p.Sent = p.Reserved.Add(r.IntN(30))
		case 1:
			p.Cancelled = p.Reserved.Add(r.IntN(30))
		case 2:
			p.Sent, p.Reserved = p.Reserved, quantity.Date{}
		}
		parcels = append(parcels, p)
	}
	for range r.IntN(5) {
		lot := lots[r.IntN(len(lots))]
		lot.Losses = append(lot.Losses, journal.LotLoss{Index: len(lot.Losses), On: lot.Date.Add(r.IntN(100)), Count: 1 + r.IntN(5)})
	}
	return lots, parcels
}

func TestNothingIsLostOrGivenTwiceInTenThousandHistories(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 41))
	overdrawn, lapsed, lost := 0, 0, 0
	for n := range 10_000 {
		lots, parcels := history(r)
		on := day("2026-01-01").Add(r.IntN(160))
		j := &journal.Journal{Parcels: parcels}
		for _, lot := range lots {
			l := &Ledger{On: on, journal: j, parcels: map[string][]*journal.Parcel{}}
			for _, p := range parcels {
				l.parcels[p.Lot] = append(l.parcels[p.Lot], p)
			}
			a := l.account(lot)
			a.look(on, Forecast{})
			balance(t, n, a, l.parcels[lot.ID], on)
			if slices.ContainsFunc(a.Takings, func(k journal.Taking) bool { return k.Over }) {
				overdrawn++
			}
			lapsed += len(a.Lapsed)
			lost += a.Lost
		}
	}
	if overdrawn < 100 || lapsed < 100 || lost < 100 {
		t.Errorf("the histories are too tame: %d overdrawn lots, %d lapsed promises, %d lost plants", overdrawn, lapsed, lost)
	}
}

// balance checks one account against its parcels.
func balance(t *testing.T, n int, a *Lot, parcels []*journal.Parcel, on quantity.Date) {
	t.Helper()
	if a.Left < 0 || a.Reserved < 0 || a.Sent < 0 || a.Lost < 0 {
		t.Fatalf("history %d: below zero: %+v", n, a)
	}
	if !a.Expected && a.Count != a.Reserved+a.Sent+a.Lost+a.Left {
		t.Fatalf("history %d: %d is not %d + %d + %d + %d", n, a.Count, a.Reserved, a.Sent, a.Lost, a.Left)
	}
	sent, promised, lapsed := 0, 0, 0
	for _, k := range a.Takings {
		if k.Takes > k.Left || k.Takes != 0 && k.Takes != k.Parcel.Count {
			t.Fatalf("history %d: takes %d of %d left, asks %d", n, k.Takes, k.Left, k.Parcel.Count)
		}
		if k.On.After(on) {
			t.Fatalf("history %d: %s is taken on %s already", n, k.On, on)
		}
		if k.Parcel.Sent.IsZero() || k.Parcel.Sent.After(on) {
			promised += k.Takes
		} else {
			sent += k.Takes
		}
	}
	for _, p := range parcels {
		if p.Lapsed(on, 14) {
			lapsed++
		}
	}
	if sent != a.Sent || !a.Expected && promised != a.Reserved || lapsed != len(a.Lapsed) {
		t.Fatalf("history %d: sent %d, promised %d, lapsed %d; booked %+v", n, sent, promised, lapsed, a)
	}
	if a.State == Ready && a.Left == 0 || a.State == Gone && (a.Left > 0 || a.Reserved > 0) {
		t.Fatalf("history %d: %s with %d left and %d promised", n, a.State, a.Left, a.Reserved)
	}
}

// The journal complains of exactly those parcels that the ledger does not book.
func TestTheJournalComplainsOfWhatTheLedgerRefuses(t *testing.T) {
	a := names(t)
	r := rand.New(rand.NewPCG(3, 5))
	on := day("2026-06-30")
	over := 0
	for range 60 {
		files := map[string]string{"tanks/trough/2026-06-01.md": entry(fmt.Sprintf("  - {lot: HZ-1, %s, count: %d}", stargrass, 1+r.IntN(10)))}
		for i := range r.IntN(6) {
			key := []string{"sent", "promised"}[r.IntN(2)]
			files[fmt.Sprintf("sent/%d.md", i)] = head("lot: HZ-1", fmt.Sprintf("count: %d", 1+r.IntN(6)), fmt.Sprintf("%s: %s", key, day("2026-06-02").Add(r.IntN(25))))
		}
		j, complaints := read(t, a, on, files)
		lot, _ := New(j, on, nil).Lot("HZ-1")
		var refused, complained []string
		for _, k := range lot.Takings {
			if k.Over {
				refused = append(refused, k.Parcel.Path)
			}
		}
		for _, c := range complaints {
			if c.Rule == "overgiven" {
				complained = append(complained, c.File)
			}
		}
		slices.Sort(refused)
		slices.Sort(complained)
		if !slices.Equal(refused, complained) {
			t.Fatalf("the ledger refuses %v, the journal complains of %v", refused, complained)
		}
		over += len(refused)
	}
	if over == 0 {
		t.Error("no history was overdrawn")
	}
}

// losses is an entry of a later day that says what died of a lot.
func losses(items ...string) string { return head(append([]string{"losses:"}, items...)...) }

func TestLossesOfALot(t *testing.T) {
	a := names(t)
	lots := entry("  - {lot: HZ-1, " + stargrass + ", count: 12}")
	for _, c := range []struct {
		name             string
		on               string
		loss             string
		parcels          []string
		sent, lost, left int
		over             int
	}{
		{"some died", "2026-06-30", "{lot: HZ-1, count: 3, cause: melt}", nil, 0, 3, 9, 0},
		{"they live on the day before", "2026-06-24", "{lot: HZ-1, count: 3}", nil, 0, 0, 12, 0},
		{"and are lost on the day", "2026-06-25", "{lot: HZ-1, count: 3}", nil, 0, 3, 9, 0},
		{"all died", "2026-06-30", "{lot: HZ-1, count: 12}", nil, 0, 12, 0, 0},
		{"what was sent before is not lost", "2026-06-30", "{lot: HZ-1, count: 3}", []string{"count: 10, sent: 2026-06-22"}, 10, 0, 2, 1},
		{"what is lost cannot be sent after", "2026-06-30", "{lot: HZ-1, count: 3}", []string{"count: 10, sent: 2026-06-26"}, 0, 3, 9, 1},
		{"sent the day of the loss: the parcel first", "2026-06-30", "{lot: HZ-1, count: 3}", []string{"count: 10, sent: 2026-06-25"}, 10, 0, 2, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := map[string]string{"tanks/trough/2026-06-20.md": lots, "tanks/trough/2026-06-25.md": losses("  - " + c.loss)}
			for i, p := range c.parcels {
				files[fmt.Sprintf("sent/%d.md", i)] = head("lot: HZ-1", strings.ReplaceAll(p, ", ", "\n"))
			}
			j, complaints := read(t, a, day(c.on), files)
			got, _ := New(j, day(c.on), nil).Lot("HZ-1")
			over := 0
			for _, k := range complaints {
				if k.Rule == "overgiven" {
					over++
				}
			}
			if got.Sent != c.sent || got.Lost != c.lost || got.Left != c.left || over != c.over {
				t.Errorf("%d sent, %d lost, %d left, %d complaints", got.Sent, got.Lost, got.Left, over)
			}
		})
	}
}

// What lies in the future of the day has not happened on it.
func TestTheBooksOfAnEarlierDay(t *testing.T) {
	files := map[string]string{
		"tanks/trough/2026-06-01.md": entry("  - {lot: HZ-1, " + stargrass + ", count: 12}"),
		"sent/a.md":                  head("lot: HZ-1", "count: 12", "reserved: 2026-06-02"),
		"sent/b.md":                  head("lot: HZ-1", "count: 8", "reserved: 2026-06-18", "sent: 2026-06-20"),
		"sent/c.md":                  head("lot: HZ-1", "count: 4", "reserved: 2026-06-19", "cancelled: 2026-06-25"),
	}
	for _, c := range []struct {
		on                           string
		promised, sent, left, lapsed int
	}{
		{"2026-06-01", 0, 0, 12, 0},
		{"2026-06-10", 12, 0, 0, 0}, // the promise that lapses later counts, the parcel that goes out later does not
		{"2026-06-17", 0, 0, 12, 1},
		{"2026-06-18", 8, 0, 4, 1}, // promised, and not sent yet
		{"2026-06-24", 4, 8, 0, 1}, // not withdrawn yet
		{"2026-06-25", 0, 8, 4, 1},
	} {
		j, complaints := read(t, names(t), day(c.on), files)
		for _, k := range complaints {
			if k.Rule == "overgiven" {
				t.Errorf("%s: %s", c.on, k)
			}
		}
		got, _ := New(j, day(c.on), nil).Lot("HZ-1")
		if got.Reserved != c.promised || got.Sent != c.sent || got.Left != c.left || len(got.Lapsed) != c.lapsed {
			t.Errorf("%s: %d promised, %d sent, %d left, %d lapsed", c.on, got.Reserved, got.Sent, got.Left, len(got.Lapsed))
		}
	}
}

func TestTheDemonstrationBalances(t *testing.T) {
	j, complaints, err := journal.Read(t.Context(), os.DirFS("../../content"), names(t), journal.Options{On: day("2026-11-25")})
	if err != nil || complaints.Errors() > 0 {
		t.Fatal(err, complaints)
	}
	l := New(j, day("2026-11-25"), nil)
	booked := 0
	for _, a := range l.Lots {
		balance(t, 0, a, l.parcels[a.ID], l.On)
		booked += a.Sent
	}
	want := 0
	for _, p := range j.Parcels {
		if !p.Sent.IsZero() {
			want += p.Count
		}
	}
	if booked != want {
		t.Errorf("%d booked as sent, the records send %d", booked, want)
	}
}

// A lot counts as unseen since it was ready, or since an entry last said that it is still there; an entry of a day to come
// says nothing yet.
func TestALotThatWasSeen(t *testing.T) {
	a := names(t)
	for on, want := range map[string]int{"2026-06-20": 0, "2026-07-02": 12, "2026-07-03": 0, "2026-07-13": 10, "2026-07-15": 0, "2026-08-12": 28} {
		j, cs := read(t, a, day("2026-09-01"), map[string]string{
			"tanks/trough/2026-06-20.md": entry("  - {lot: HZ-1, " + stargrass + ", count: 12}"),
			"tanks/trough/2026-07-03.md": head("still-there: [HZ-1]"),
			"tanks/trough/2026-07-15.md": head("still-there: [HZ-1]"),
		})
		if cs.Errors() > 0 {
			t.Fatal(cs)
		}
		if lot, _ := New(j, day(on), nil).Lot("HZ-1"); lot.Unseen != want {
			t.Errorf("on %s it is unseen for %d days, not %d", on, lot.Unseen, want)
		}
	}
}
