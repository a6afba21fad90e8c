package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/site"
)

// The books of a bench are kept twice: by the commands, on the disk, and by a plain model of counts by day that knows nothing
// of the package ledger. Days are counted from the first of May. Common practice: a reservation holds for fourteen days.

const holdDays = 14

// noted is what one record says; a day of -1 is none.
type noted struct {
	plant                            string // somebody waits for it, of a lot to come; then there are no items
	count                            int    // how many they wait for
	who                              string // "" once forgotten
	items                            []wanted
	asked, reserved, sent, cancelled int
}

// holding reports whether plants of the record are taken on a day, and whether they had gone out.
func (n noted) holding(day int) (taken, out bool) {
	past := func(d int) bool { return d >= 0 && d <= day }
	switch {
	case past(n.cancelled):
		return false, false
	case past(n.sent):
		return true, true
	}
	return past(n.reserved) && day-n.reserved <= holdDays, false
}

func (n noted) of(lot string) int {
	for _, i := range n.items {
		if i.lot == lot {
			return i.count
		}
	}
	return 0
}

// wanted is a count of a lot.
type wanted struct {
	lot   string
	count int
}

// diary is what an entry says: lots, or a loss.
type diary struct {
	day  int
	lot  string
	loss int
	// count is that of a lot; 0 while it is expected.
	count    int
	expected bool
}

// file is one file of the journal: its bytes, and what the model takes it to say.
type file struct {
	text   string
	record *noted
	entry  *diary
}

// kept is a change that undo can take back.
type keptChange struct{ before, after map[string]*file }

// books are the model.
type books struct {
	today int
	files map[string]*file
	past  []keptChange
	gone  []string // names that nothing may hold any more
	short []string // what was found to be too few in a step
}

func (b *books) records() []*noted {
	var out []*noted
	for _, name := range slices.Sorted(maps.Keys(b.files)) {
		if r := b.files[name].record; r != nil {
			out = append(out, r)
		}
	}
	return out
}

// lot gives a lot's day and count; ok is false before it is in an entry.
func (b *books) lot(id string) (first, counted, count int, ok bool) {
	first, counted = -1, -1
	for _, f := range b.files {
		if e := f.entry; e != nil && e.lot == id && e.loss == 0 {
			if first < 0 || e.day < first {
				first = e.day
			}
			if !e.expected {
				counted, count = e.day, e.count
			}
			ok = true
		}
	}
	return first, counted, count, ok
}

// account are the counts of a lot on a day.
func (b *books) account(id string, day int) (reserved, sent, lost int) {
	for _, r := range b.records() {
		switch taken, out := r.holding(day); {
		case out:
			sent += r.of(id)
		case taken:
			reserved += r.of(id)
		}
	}
	for _, f := range b.files {
		if e := f.entry; e != nil && e.lot == id && e.loss > 0 && e.day <= day {
			lost += e.loss
		}
	}
	return reserved, sent, lost
}

func (b *books) left(id string, day int) int {
	_, _, count, _ := b.lot(id)
	reserved, sent, lost := b.account(id, day)
	return count - reserved - sent - lost
}

// latest is the last day of which anything is recorded, today at least.
func (b *books) latest() int {
	last := b.today
	for _, r := range b.records() {
		last = max(last, r.reserved, r.sent, r.cancelled)
	}
	for _, f := range b.files {
		if f.entry != nil && f.entry.loss > 0 {
			last = max(last, f.entry.day)
		}
	}
	return last
}

// overdrawn reports whether more of any lot is taken than there is, on a day.
func (b *books) overdrawn(day int) bool {
	return slices.ContainsFunc(benchLots, func(id string) bool {
		_, counted, _, _ := b.lot(id)
		return counted >= 0 && b.left(id, day) < 0
	})
}

// judged are the days on which a change of a day must hold: that day, and each from today to the last of which anything is
// recorded.
func (b *books) judged(day int) []int {
	days := []int{day}
	for d := b.today; d <= b.latest(); d++ {
		days = append(days, d)
	}
	return days
}

// free is how many of a lot can be given on a day: as many as are left on each of those days. Those that one record holds are
// free for it.
func (b *books) free(id string, day int, but *noted) int {
	least := 1 << 30
	for _, d := range b.judged(day) {
		n := b.left(id, d)
		if but != nil {
			if taken, _ := but.holding(d); taken {
				n += but.of(id)
			}
		}
		least = min(least, n)
	}
	return least
}

// theirs are the records of one person that are wanted.
func (b *books) theirs(who string, want func(*noted) bool) []*noted {
	return slices.DeleteFunc(b.records(), func(r *noted) bool { return r.who != who || !want(r) })
}

func (n noted) open() bool  { return n.reserved >= 0 && n.sent < 0 && n.cancelled < 0 }
func (n noted) waits() bool { return n.sent < 0 && n.cancelled < 0 }

var benchLots = []string{"HZ-1", "VS-1", "CW-1"}

var benchPlants = map[string]string{"HZ-1": "heteranthera-zosterifolia", "VS-1": "vallisneria-spiralis", "CW-1": "cryptocoryne-wendtii"}

func dayOf(n int) quantity.Date { return quantity.Date{Year: 2026, Month: 5, Day: 1}.Add(n) }

// history is one drawn history: the model, and the journal on the disk.
type history struct {
	*rapid.T
	b       *books
	dir     string
	names   []string
	named   int
	random  again
	memory  *site.Memory // the look is read once
	out     bytes.Buffer
	counted map[string]int // what the histories held, over all
}

// do runs a command on a day and gives whether it succeeded.
func (h *history) do(on int, args ...string) bool {
	h.out.Reset()
	w := world{In: strings.NewReader(""), Out: &h.out, Err: &h.out, Now: func() time.Time { return dayOf(h.b.today).Time().Add(12 * time.Hour) },
		Random: &h.random, memory: h.memory, Env: func(string) string { return "" }}
	args = append(args, "--in", h.dir)
	if on >= 0 {
		args = append(args, "--on", dayOf(on).String())
	}
	h.Logf("day %d: %v", h.b.today, args)
	status := run(h.Context(), args, w)
	if strings.Contains(h.out.String(), "goroutine ") {
		h.Fatal(h.out.String())
	}
	return status == done
}

// again is randomness that a history repeats when it is drawn again.
type again uint64

func (a *again) Read(p []byte) (int, error) {
	for i := range p {
		*a = *a*6364136223846793005 + 1442695040888963407
		p[i] = byte(*a >> 33)
	}
	return len(p), nil
}

// disk reads the journal's files; hidden ones are left out.
func (h *history) disk() map[string]string {
	out := map[string]string{}
	err := fs.WalkDir(os.DirFS(h.dir), ".", func(p string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case p != "." && strings.HasPrefix(e.Name(), ".") && e.IsDir():
			return fs.SkipDir
		case e.IsDir():
			return nil
		case strings.HasPrefix(e.Name(), "."):
			h.Fatalf("%s was left lying", p)
		}
		data, err := os.ReadFile(filepath.Join(h.dir, p))
		out[p] = string(data)
		return err
	})
	if err != nil {
		h.Fatal(err)
	}
	return out
}

// changed are the files that are new or other than the model's, by name. Those that were to go are not there, and no others.
func (h *history) changed(gone []string) map[string]string {
	now := h.disk()
	for name, f := range h.b.files {
		text, there := now[name]
		if there == slices.Contains(gone, name) {
			h.Fatalf("%s is there: %v", name, there)
		}
		if text == f.text {
			delete(now, name)
		}
	}
	return now
}

// wrote takes a command's files over into the model: each must say one of the records that were to be written, and those that
// were to go are gone. Then undo knows of it.
func (h *history) wrote(want []*noted, gone ...string) {
	change := keptChange{map[string]*file{}, map[string]*file{}}
	for _, name := range gone {
		change.before[name], change.after[name] = h.b.files[name], nil
	}
	for name, text := range h.changed(gone) {
		said := h.reading(name, text)
		i := slices.IndexFunc(want, func(n *noted) bool { return fmt.Sprint(*n) == fmt.Sprint(said) })
		if i < 0 {
			h.Fatalf("%s says %+v, of %v: %s\n%s", name, said, sayAll(want), text, h.out.String())
		}
		want = slices.Delete(slices.Clone(want), i, i+1)
		change.before[name], change.after[name] = h.b.files[name], &file{text: text, record: &said}
	}
	if len(want) > 0 {
		h.Fatalf("not written: %v\n%s", sayAll(want), h.out.String())
	}
	h.keep(change)
}

// put lays files over the books; nil ones go.
func (b *books) put(files map[string]*file) {
	maps.Copy(b.files, files)
	maps.DeleteFunc(b.files, func(_ string, f *file) bool { return f == nil })
}

func sayAll(all []*noted) (out []noted) {
	for _, n := range all {
		out = append(out, *n)
	}
	return out
}

func (h *history) keep(c keptChange) {
	if len(c.after) == 0 {
		return
	}
	h.b.put(c.after)
	if h.b.past = append(h.b.past, c); len(h.b.past) > 20 {
		h.b.past = h.b.past[1:]
	}
}

// reading reads a record line by line, as a person would.
func (h *history) reading(name, text string) noted {
	n := noted{asked: -1, reserved: -1, sent: -1, cancelled: -1}
	for line := range strings.Lines(text) {
		key, value, _ := strings.Cut(strings.TrimSpace(line), ": ")
		switch key {
		case "lot":
			n.items = append(n.items, wanted{lot: value})
		case "plant":
			n.plant = value
		case "count":
			to := &n.count
			if len(n.items) > 0 {
				to = &n.items[len(n.items)-1].count
			}
			fmt.Sscan(value, to)
		case "- {lot":
			var i wanted
			fmt.Sscanf(strings.ReplaceAll(value, ",", " "), "%s count: %d}", &i.lot, &i.count)
			n.items = append(n.items, i)
		case "asked", "reserved", "sent", "cancelled":
			d, err := quantity.ParseDate(value)
			if err != nil {
				h.Fatal(err)
			}
			*map[string]*int{"asked": &n.asked, "reserved": &n.reserved, "sent": &n.sent, "cancelled": &n.cancelled}[key] = d.Since(dayOf(0))
		case "private":
			n.who = strings.Trim(strings.TrimPrefix(value, "{name: "), `"}`)
		}
	}
	return n
}

// put writes a file as the grower does by hand. Undo knows nothing of it.
func (h *history) put(name string, f *file) {
	at := filepath.Join(h.dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		h.Fatal(err)
	}
	if err := os.WriteFile(at, []byte(f.text), 0o600); err != nil {
		h.Fatal(err)
	}
	h.b.files[name] = f
	h.Logf("day %d, by hand: %s: %q", h.b.today, name, f.text)
}

// begin makes the journal: a lot of some plants, one announced, and one that is cut on the fifth day.
func begin(t *rapid.T, dir string, counted map[string]int, memory *site.Memory) *history {
	h := &history{T: t, b: &books{today: 10, files: map[string]*file{}}, dir: dir, counted: counted, memory: memory}
	h.put("journal.yaml", &file{text: "title: Bench\ngrower: Wren\nregion: GB\naddress: https://bench.example/\n"})
	h.put("tanks/shelf/tank.md", &file{text: "---\nname: Shelf\nbegan: 2026-01-01\n---\n"})
	h.lotEntry(diary{day: 0, lot: "HZ-1", count: rapid.IntRange(3, 9).Draw(t, "count")})
	h.lotEntry(diary{day: 1, lot: "VS-1", expected: true})
	h.lotEntry(diary{day: 5, lot: "CW-1", count: rapid.IntRange(1, 4).Draw(t, "count")})
	for range 3 {
		h.newName()
	}
	return h
}

// newName is somebody whom no other name holds.
func (h *history) newName() {
	h.named++
	h.names = append(h.names, fmt.Sprintf("Zelda Quark%dx", h.named))
}

func (h *history) lotEntry(e diary) {
	how := fmt.Sprintf("count: %d", e.count)
	if e.expected {
		how = "expected: true"
	}
	text := fmt.Sprintf("---\ntitle: Lot\nlots:\n  - {lot: %s, plant: %s, form: cuttings, %s}\n---\n", e.lot, benchPlants[e.lot], how)
	h.put(fmt.Sprintf("tanks/shelf/%s-%s.md", dayOf(e.day), strings.ToLower(e.lot)), &file{text: text, entry: &e})
}

func (h *history) who() string           { return rapid.SampledFrom(h.names).Draw(h.T, "who") }
func (h *history) yes(label string) bool { return rapid.Bool().Draw(h.T, label) }

// on is mostly today; else a day before, which must not overdraw what came after, or one that is planned.
func (h *history) on() int {
	switch rapid.IntRange(0, 5).Draw(h.T, "when") {
	case 0:
		return max(0, h.b.today-rapid.IntRange(0, 20).Draw(h.T, "back"))
	case 1:
		return h.b.today + rapid.IntRange(0, 3).Draw(h.T, "ahead")
	}
	return h.b.today
}

// wants draws lots and counts.
func (h *history) wants() []wanted {
	var out []wanted
	for _, lot := range rapid.SliceOfNDistinct(rapid.SampledFrom(benchLots), 1, 2, rapid.ID[string]).Draw(h.T, "lots") {
		out = append(out, wanted{lot, rapid.IntRange(1, 4).Draw(h.T, "count")})
	}
	return out
}

func argsOf(verb, who string, wants []wanted) []string {
	args := []string{verb, who}
	for _, w := range wants {
		args = append(args, fmt.Sprintf("%s:%d", w.lot, w.count))
	}
	return args
}

// outcome compares what a command did with what the model says: refused, or records written.
func (h *history) outcome(ok bool, refuse string, want []*noted, gone ...string) {
	if ok != (refuse == "") {
		h.Fatalf("succeeded: %v; the model says %q\n%s", ok, refuse, h.out.String())
	}
	if !ok {
		h.counted["refused"]++
		said := h.out.String()
		if strings.Contains(said, " left of ") && !slices.ContainsFunc(h.b.short, func(s string) bool { return strings.Contains(said, s) }) {
			h.Fatalf("%q says none of %q", said, h.b.short)
		}
		want, gone = nil, nil
	}
	h.wrote(want, gone...)
}

// room tells why so many of a lot cannot be given on a day; "" where they can. Nothing goes out of a lot without a count.
func (b *books) room(w wanted, day int, but *noted, goesOut bool) string {
	first, counted, _, _ := b.lot(w.lot)
	switch {
	case counted < 0 && goesOut:
		return "not counted yet"
	case counted >= 0 && b.free(w.lot, day, but) < w.count:
		few := fmt.Sprintf("%s has %d left of ", w.lot, max(0, b.free(w.lot, day, but)))
		b.short = append(b.short, few)
		return few
	case day < first, goesOut && day < counted:
		return "before the lot"
	}
	return ""
}

// became is a record and what is to become of it; was is nil for a new one, now for one that goes.
type became struct{ was, now *noted }

// tell runs a command that is to make records of others, and compares. No lot may be overdrawn by all of them together.
func (h *history) tell(on int, refuse string, all []became, args ...string) {
	after := h.b.copied()
	var want []*noted
	var gone []string
	for i, x := range all {
		if x.now == nil {
			for name, f := range h.b.files {
				if f.record == x.was {
					gone = append(gone, name)
					delete(after.files, name)
				}
			}
			continue
		}
		if x.was != nil && fmt.Sprint(*x.was) == fmt.Sprint(*x.now) && h.b.coded(x.was) {
			continue
		}
		want = append(want, x.now)
		for _, i := range x.now.items { // another plant of the record may be younger
			if first, _, _, _ := h.b.lot(i.lot); x.now.reserved >= 0 && x.now.reserved < first {
				refuse = orElse(refuse, "before the lot")
			}
		}
		for name, f := range h.b.files {
			if x.was != nil && f.record == x.was {
				after.files[name].record = x.now
			}
		}
		if x.was == nil {
			after.files[fmt.Sprint(i)] = &file{record: x.now}
		}
	}
	if refuse == "" && slices.ContainsFunc(h.b.judged(on), after.overdrawn) {
		refuse = "together too many"
	}
	if h.b.overdrawn(on) {
		refuse = orElse(refuse, "the journal of that day is overdrawn")
	}
	h.outcome(h.do(on, args...), refuse, want, gone...)
	if refuse == "" {
		h.counted[args[0]] += len(want)
		h.counted["off the waiting list"] += len(gone)
	}
	for _, n := range want {
		if refuse == "" && len(n.items) > 1 {
			h.counted["parcels of several"]++
		}
	}
}

// coded reports whether a record has a code; else it gets one.
func (b *books) coded(n *noted) bool {
	for _, f := range b.files {
		if f.record == n {
			return strings.Contains(f.text, "\ncode: ")
		}
	}
	return false
}

// waiting are the records by which somebody waits for a plant on a day, who asked first first.
func (b *books) waiting(who, plant string, on int) []*noted {
	out := b.theirs(who, func(n *noted) bool {
		return n.plant == plant && n.asked <= on && (n.cancelled < 0 || n.cancelled > on)
	})
	slices.SortStableFunc(out, func(x, y *noted) int { return x.asked - y.asked })
	return out
}

// fresh is a record of plants that are given: a new one, or the first by which the person asked or waited for one of them. All
// others by which they asked or waited for these plants go.
func (b *books) fresh(n noted, on int) (all []became) {
	waited := b.theirs(n.who, func(w *noted) bool {
		return w.waits() && w.reserved < 0 && w.asked >= 0 && w.asked <= on && len(w.items) > 0 && !slices.ContainsFunc(w.items, func(i wanted) bool {
			return !slices.ContainsFunc(n.items, func(x wanted) bool { return x.lot == i.lot })
		})
	})
	for _, i := range n.items {
		for _, w := range b.waiting(n.who, benchPlants[i.lot], on) {
			if w.cancelled < 0 { // on no later day either
				waited = append(waited, w)
			}
		}
	}
	if len(waited) == 0 {
		return []became{{nil, &n}}
	}
	first := slices.MinFunc(waited, func(x, y *noted) int { return cmp.Or(x.asked-y.asked, strings.Compare(b.fileOf(x), b.fileOf(y))) })
	n.asked = first.asked
	for _, w := range waited {
		if w == first {
			all = append(all, became{w, &n})
		} else {
			all = append(all, became{w, nil})
		}
	}
	return all
}

func (b *books) fileOf(n *noted) string {
	for name, f := range b.files {
		if f.record == n {
			return name
		}
	}
	return ""
}

// wait puts somebody on the waiting list of a plant, once.
func (h *history) wait() {
	n := noted{who: h.who(), plant: benchPlants[rapid.SampledFrom(benchLots).Draw(h.T, "lot")], count: rapid.IntRange(0, 3).Draw(h.T, "count"), asked: h.on(), reserved: -1, sent: -1, cancelled: -1}
	var all []became
	if len(h.b.waiting(n.who, n.plant, n.asked)) == 0 {
		all = []became{{nil, &n}}
	}
	what := n.plant
	if n.count > 0 {
		what += fmt.Sprintf(":%d", n.count)
	}
	h.tell(n.asked, "", all, "wait", n.who, what)
}

// with is a record with other counts of some lots.
func (n noted) with(items ...wanted) *noted {
	n.items = slices.Clone(n.items)
	for _, w := range items {
		n.items[slices.IndexFunc(n.items, func(i wanted) bool { return i.lot == w.lot })] = w
	}
	return &n
}

// reserve sets plants aside, on top of others or instead. What is new is one record.
func (h *history) reserve() {
	who, wants, on, flag := h.who(), h.wants(), h.on(), rapid.SampledFrom([]string{"", "", "--more", "--instead"}).Draw(h.T, "flag")
	fresh := noted{who: who, asked: -1, reserved: on, sent: -1, cancelled: -1}
	var all []became
	refuse := ""
	for _, w := range wants {
		have := h.b.theirs(who, func(n *noted) bool { return n.open() && n.of(w.lot) > 0 })
		switch {
		case flag == "--more" || len(have) == 0:
			refuse = orElse(refuse, h.b.room(w, on, nil, false))
			fresh.items = append(fresh.items, w)
		case flag == "--instead" && len(have) > 1:
			refuse = orElse(refuse, "several")
		case flag == "--instead":
			refuse = orElse(refuse, h.b.room(w, on, have[0], false))
			i := slices.IndexFunc(all, func(x became) bool { return x.was == have[0] }) // another plant of it
			if i < 0 {
				i, all = len(all), append(all, became{have[0], have[0]})
			}
			all[i].now = all[i].now.with(w)
			all[i].now.reserved = on
		case !slices.ContainsFunc(have, func(n *noted) bool { return n.of(w.lot) == w.count }):
			refuse = orElse(refuse, "another count is reserved already")
		}
	}
	if len(fresh.items) > 0 {
		all = append(all, h.b.fresh(fresh, on)...)
	}
	args := argsOf("reserve", who, wants)
	if flag != "" {
		args = append(args, flag)
	}
	h.tell(on, refuse, all, args...)
}

func orElse(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// sends is a record with its plants gone out, which must all be named; new ones may go along.
func (b *books) sends(n *noted, items []wanted, on int) (now *noted, refuse string) {
	gone := *n
	gone.items, gone.sent = items, on
	if on < n.asked {
		refuse = "before it was asked for"
	}
	for _, i := range n.items {
		if gone.of(i.lot) == 0 {
			refuse = orElse(refuse, "a plant of it would stay behind")
		}
	}
	for _, w := range items {
		but := n
		if n.of(w.lot) == 0 {
			but = nil
		}
		refuse = orElse(refuse, b.room(w, on, but, true))
	}
	return &gone, refuse
}

// sendAll gives out all that is reserved for somebody.
func (h *history) sendAll() {
	who, on := h.who(), h.on()
	var all []became
	refuse := ""
	for _, n := range h.b.theirs(who, func(n *noted) bool { return n.open() }) {
		now, why := h.b.sends(n, n.items, on)
		refuse = orElse(refuse, why)
		all = append(all, became{n, now})
	}
	if len(all) == 0 && len(h.b.theirs(who, func(n *noted) bool { return n.sent == on })) == 0 {
		refuse = "nothing is reserved"
	}
	h.tell(on, refuse, all, "send", who)
}

// copied is the books with records of their own.
func (b *books) copied() *books {
	out := &books{today: b.today, files: map[string]*file{}}
	for name, f := range b.files {
		g := *f
		if f.record != nil {
			r := *f.record
			g.record = &r
		}
		out.files[name] = &g
	}
	return out
}

// send gives plants out: those that are reserved, or others, which go along with them.
func (h *history) send() {
	who, wants, on, more := h.who(), h.wants(), h.on(), rapid.IntRange(0, 3).Draw(h.T, "more") == 0
	fresh := noted{who: who, asked: -1, reserved: -1, sent: on, cancelled: -1}
	var reserved []*noted
	going := map[*noted][]wanted{}
	refuse := ""
	for _, w := range wants {
		have := h.b.theirs(who, func(n *noted) bool { return n.open() && n.of(w.lot) > 0 })
		if same := slices.DeleteFunc(slices.Clone(have), func(n *noted) bool { return n.of(w.lot) != w.count }); len(have) > 1 && len(same) > 0 {
			if have = same; len(same) > 1 && !more {
				return // any of them
			}
		}
		switch {
		case more || len(have) == 0:
			if more || len(h.b.theirs(who, func(n *noted) bool { return n.sent == on && n.of(w.lot) == w.count })) == 0 {
				fresh.items = append(fresh.items, w)
			}
		case len(have) > 1:
			refuse = orElse(refuse, "several")
		default:
			if going[have[0]] == nil {
				reserved = append(reserved, have[0])
			}
			going[have[0]] = append(going[have[0]], w)
		}
	}
	if len(reserved) > 0 {
		going[reserved[0]], fresh.items = append(going[reserved[0]], fresh.items...), nil
	}
	var all []became
	for _, n := range reserved {
		now, why := h.b.sends(n, going[n], on)
		refuse = orElse(refuse, why)
		all = append(all, became{n, now})
	}
	for _, w := range fresh.items {
		refuse = orElse(refuse, h.b.room(w, on, nil, true))
	}
	if len(fresh.items) > 0 {
		all = append(all, h.b.fresh(fresh, on)...)
	}
	args := argsOf("send", who, wants)
	if more {
		args = append(args, "--more")
	}
	h.tell(on, refuse, all, args...)
}

// cancel frees what somebody waits for, all or of one lot: that is taken out of a parcel of several.
func (h *history) cancel() {
	who, on, lot := h.who(), h.on(), ""
	args := []string{"cancel", who}
	if h.yes("of one lot") {
		lot = rapid.SampledFrom(benchLots).Draw(h.T, "lot")
		args = append(args, lot)
	}
	chosen := h.b.theirs(who, func(n *noted) bool { return lot == "" || n.of(lot) > 0 })
	var all []became
	refuse := ""
	for _, n := range chosen {
		now := *n
		switch {
		case !n.waits():
			continue
		case lot != "" && len(n.items) > 1:
			now.items = slices.DeleteFunc(slices.Clone(n.items), func(i wanted) bool { return i.lot == lot })
		case on < n.reserved:
			refuse = "before it was reserved"
			fallthrough
		default:
			now.cancelled = on
		}
		all = append(all, became{n, &now})
	}
	switch {
	case len(chosen) == 0:
		refuse = "nothing of theirs"
	case len(all) == 0 && slices.ContainsFunc(chosen, func(n *noted) bool { return n.sent >= 0 }):
		refuse = "it was sent"
	}
	h.tell(on, refuse, all, args...)
}

// report adds a line to a record that was sent, and changes no count: what is lost in the post is gone all the same.
func (h *history) report() {
	var names []string
	for name, f := range h.b.files {
		if f.record != nil && f.record.sent >= 0 {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return
	}
	slices.Sort(names)
	name, on := rapid.SampledFrom(names).Draw(h.T, "record"), h.on()
	was := *h.b.files[name].record
	what := rapid.SampledFrom([]string{"arrived", "rooted", "lost", journal.LostInPost}).Draw(h.T, "outcome")
	refuse := ""
	if on < was.sent {
		refuse = "before it was sent"
	}
	if h.b.overdrawn(on) {
		refuse = "the journal of that day is overdrawn"
	}
	again := strings.Contains(h.b.files[name].text, fmt.Sprintf("{date: %s, outcome: %s}", dayOf(on), what))
	ok := h.do(on, "report", filepath.Base(name), what)
	if ok && !again {
		h.counted["reports"]++
		h.wrote([]*noted{&was})
		return
	}
	h.outcome(ok, refuse, nil)
}

// undo brings back the bytes from before the last change, unless plants would be given twice.
func (h *history) undo() {
	refuse := ""
	var last keptChange
	if len(h.b.past) == 0 {
		refuse = "nothing to take back"
	} else {
		last = h.b.past[len(h.b.past)-1]
	}
	back := books{today: h.b.today, files: maps.Clone(h.b.files)}
	for name, after := range last.after {
		if now := h.b.files[name]; (now == nil) != (after == nil) || now != nil && now.text != after.text {
			refuse = orElse(refuse, "changed meanwhile")
		}
		if back.files[name] = last.before[name]; last.before[name] == nil {
			delete(back.files, name)
		}
	}
	for _, day := range back.judged(back.today) {
		if back.overdrawn(day) && !h.b.overdrawn(day) {
			refuse = orElse(refuse, "the plants have gone elsewhere")
			h.counted["undo refused"]++
		}
	}
	ok := h.do(-1, "undo", "--yes")
	if ok == (refuse == "") && ok {
		h.b.files, h.b.past = back.files, h.b.past[:len(h.b.past)-1]
		h.counted["undone"]++
	}
	h.outcome(ok, refuse, nil)
}

// forget erases a name, and the changes of undo that held it.
func (h *history) forget() {
	at := rapid.IntRange(0, len(h.names)-1).Draw(h.T, "whom")
	who := h.names[at]
	refuse := ""
	if len(h.b.theirs(who, func(*noted) bool { return true })) == 0 {
		refuse = "nobody"
	} else if h.b.overdrawn(h.b.today) {
		refuse = "the journal of that day is overdrawn"
	}
	ok := h.do(h.b.today, "forget", who, "--yes")
	if !ok || refuse != "" {
		h.outcome(ok, refuse, nil)
		return
	}
	now := h.disk()
	var touched []string
	for name, f := range h.b.files {
		if f.record == nil || f.record.who != who {
			continue
		}
		said := *f.record
		said.who = ""
		if got := h.reading(name, now[name]); fmt.Sprint(got) != fmt.Sprint(said) {
			h.Fatalf("%s says %+v, not %+v", name, got, said)
		}
		h.b.files[name] = &file{text: now[name], record: &said}
		touched = append(touched, name)
	}
	holds := func(files map[string]*file) bool {
		for name, f := range files {
			if slices.Contains(touched, name) || f != nil && f.record != nil && f.record.who == who {
				return true
			}
		}
		return false
	}
	h.b.past = slices.DeleteFunc(h.b.past, func(c keptChange) bool { return holds(c.before) || holds(c.after) })
	h.b.gone = append(h.b.gone, who)
	h.names = slices.Delete(h.names, at, at+1)
	h.newName()
	h.counted["forgotten"]++
	h.wrote(nil)
}

// byHand is what the grower writes without a command: somebody asks, a parcel of several plants, a loss, a count at last. What
// would overdraw a lot is not written.
func (h *history) byHand() {
	day := h.b.today
	name := fmt.Sprintf("sent/by-hand-%d.md", len(h.b.files))
	n := noted{who: h.who(), asked: -1, reserved: -1, sent: -1, cancelled: -1}
	switch rapid.IntRange(0, 3).Draw(h.T, "what") {
	case 0:
		n.asked, n.items = day, h.wants()[:1]
		h.put(name, &file{text: fmt.Sprintf("---\nlot: %s\ncount: %d\nasked: %s\nprivate: {name: %q}\n---\n", n.items[0].lot, n.items[0].count, dayOf(day), n.who), record: &n})
		h.counted["asked"]++
	case 1:
		key, at := "reserved", &n.reserved
		if h.yes("sent") {
			key, at = "sent", &n.sent
		}
		*at = day
		var items strings.Builder
		for _, lot := range benchLots {
			w := wanted{lot, rapid.IntRange(1, 2).Draw(h.T, "count")}
			if h.yes(lot) && h.b.room(w, day, nil, *at == n.sent) == "" {
				n.items = append(n.items, w)
				fmt.Fprintf(&items, "\n  - {lot: %s, count: %d}", w.lot, w.count)
			}
		}
		what := "items:" + items.String()
		switch len(n.items) {
		case 0:
			return
		case 1:
			what = fmt.Sprintf("lot: %s\ncount: %d", n.items[0].lot, n.items[0].count)
		default:
			h.counted["parcels of several"]++
		}
		h.put(name, &file{text: fmt.Sprintf("---\n%s\n%s: %s\nprivate: {name: %q}\n---\n", what, key, dayOf(day), n.who), record: &n})
	case 2:
		e := diary{day: day, lot: rapid.SampledFrom(benchLots).Draw(h.T, "lot"), loss: rapid.IntRange(1, 2).Draw(h.T, "loss")}
		if h.b.room(wanted{e.lot, e.loss}, day, nil, true) != "" {
			return
		}
		h.put(fmt.Sprintf("tanks/shelf/%s-loss-%d.md", dayOf(day), len(h.b.files)),
			&file{text: fmt.Sprintf("---\ntitle: Lost\nlosses:\n  - {lot: %s, count: %d}\n---\n", e.lot, e.loss), entry: &e})
		h.counted["lost"]++
	case 3:
		if _, counted, _, _ := h.b.lot("VS-1"); counted >= 0 {
			return
		}
		held := 0
		for _, on := range h.b.judged(day) {
			reserved, _, _ := h.b.account("VS-1", on)
			held = max(held, reserved)
		}
		h.lotEntry(diary{day: day, lot: "VS-1", count: held + rapid.IntRange(1, 5).Draw(h.T, "count")})
		h.counted["counted"]++
	}
}

// check holds the disk, the reader and the ledger against the model.
func (h *history) check() {
	now := h.disk()
	for name, f := range h.b.files {
		if now[name] != f.text {
			h.Fatalf("%s holds %q, not %q", name, now[name], f.text)
		}
		delete(now, name)
	}
	if len(now) > 0 {
		h.Fatalf("nobody wrote %v", now)
	}
	names, err := almanac.Open()
	if err != nil {
		h.Fatal(err)
	}
	some := rapid.IntRange(0, h.b.latest()).Draw(h.T, "a day")
	for _, day := range append(h.b.judged(h.b.today), some) {
		j, complaints, err := journal.Read(h.Context(), os.DirFS(h.dir), names, journal.Options{On: dayOf(day)})
		if err != nil {
			h.Fatal(err)
		}
		if errors := complaints.Errors(); (errors > 0) != h.b.overdrawn(day) || errors > 0 && day != some {
			h.Fatalf("day %d: %v; overdrawn by the model: %v", day, complaints, h.b.overdrawn(day))
		} else if errors > 0 {
			continue // what is over on a day of the past cannot be given any more
		}
		kept := ledger.New(j, dayOf(day), nil)
		for _, id := range benchLots {
			lot, ok := kept.Lot(id)
			reserved, sent, lost := h.b.account(id, day)
			left := h.b.left(id, day)
			if _, counted, _, _ := h.b.lot(id); counted < 0 {
				left = 0
			}
			if !ok || lot.Reserved != reserved || lot.Sent != sent || lot.Lost != lost || lot.Left != left || left < 0 {
				h.Fatalf("day %d, %s: %+v; the model has %d reserved, %d sent, %d lost, %d left", day, id, lot, reserved, sent, lost, left)
			}
		}
	}
	h.private()
}

// private looks into every file, hidden ones too, for names that were to be forgotten, and at who may read what holds one.
func (h *history) private() {
	err := filepath.WalkDir(h.dir, func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		text := string(data)
		if filepath.Base(filepath.Dir(p)) == ".undo" {
			var kept struct {
				Files []struct{ Before, After []byte }
			}
			if err := json.Unmarshal(data, &kept); err != nil {
				return err
			}
			for _, f := range kept.Files {
				text += string(f.Before) + string(f.After)
			}
		}
		for _, name := range h.b.gone {
			if strings.Contains(text, strings.Fields(name)[1]) {
				h.Fatalf("%s still holds %s", p, name)
			}
		}
		info, err := e.Info()
		if strings.Contains(text, "Quark") && info.Mode().Perm() != 0o600 {
			h.Fatalf("%s: %v", p, info.Mode())
		}
		return err
	})
	if err != nil {
		h.Fatal(err)
	}
}

// Through whatever is reserved, asked for, sent, cancelled, reported, lost, forgotten and taken back, the books agree with the
// model, no plant is given twice, and nothing of who was forgotten stays on the disk. By itself it draws 50 histories; with
// the tag long 10,000.
func TestTheBooksAgreeWithAModel(t *testing.T) {
	t.Parallel()
	histories := 50
	if testing.Short() {
		histories = 10
	}
	if long {
		histories = 10_000
	}
	top := t.TempDir()
	counted, n, memory := map[string]int{}, 0, new(site.Memory)
	for n < histories {
		rapid.Check(t, func(rt *rapid.T) {
			dir := filepath.Join(top, fmt.Sprint(n))
			if err := os.Mkdir(dir, 0o755); err != nil {
				rt.Fatal(err)
			}
			defer os.RemoveAll(dir)
			n++
			h := begin(rt, dir, counted, memory)
			steps := []func(){h.reserve, h.reserve, h.reserve, h.send, h.send, h.sendAll, h.wait, h.cancel, h.report, h.undo, h.undo, h.forget, h.byHand, h.byHand, func() { h.b.today += rapid.IntRange(1, 9).Draw(rt, "days") }}
			for range rapid.IntRange(1, 25).Draw(rt, "steps") {
				h.b.short = nil
				rapid.SampledFrom(steps).Draw(rt, "step")()
				h.check()
			}
		})
		if t.Failed() {
			return
		}
	}
	t.Logf("%d histories: %v", n, counted)
	t.Attr("figure", fmt.Sprintf("histories of the books held against a model: %d", n))
}
