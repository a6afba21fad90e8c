package message

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"slipleaf/build/almanac"
	"slipleaf/build/ledger"
)

// Offer is a lot that plants can be asked of.
type Offer struct {
	Lot   string   // "" where no lot of the plant has any left
	Ready bool     // it has plants now
	Names []string // what people call the plant, in any language
}

// Offers are the lots that have plants or will have some, and the plants of those that are gone, with every name of each.
func Offers(lots []*ledger.Lot, a *almanac.Almanac, species func(id string) almanac.Species) (out []Offer) {
	everyday := a.EverydayNames()
	for _, l := range lots {
		id := l.ID
		if l.Left <= 0 && !l.Expected {
			id = ""
		}
		s := species(l.Plant)
		genus, _, _ := strings.Cut(s.Taxon, " ")
		called := []string{s.Common, s.Taxon, genus, strings.ReplaceAll(l.Plant, "-", " ")}
		if stem, ok := strings.CutSuffix(genus, "a"); ok { // as German makes its plural: Lobelien
			called = append(called, stem+"en")
		}
		if m := quoted().FindStringSubmatch(s.Common); m != nil {
			called = append(called, m[1])
		}
		out = append(out, Offer{id, l.Left > 0, append(called, everyday[almanac.IDOf(s.Taxon)]...)})
	}
	return out
}

// Want is a lot that a message asks for. Count is 0 where it says no number.
type Want struct {
	Lot   string
	Count int
	From  string // the words that it was read from
}

var (
	lower   = pattern(`(\d{1,3})\s*(?:-|or|to|oder|bis)\s*\d{1,3}\s*((?:x|×|of|the|stück|stk|pieces?|cuttings?|stems?|plants?|vo[nm])\s*)*$`)
	one     = pattern(`(?:^|\s)(?:a|an|one|single|eine?n?|einer)\s+(?:[\p{L}]+\s+){0,2}$`)
	noOther = pattern(`(?:^|[\s,;:(])(?:(?:i|we) (?:still |also |already )?have|i've|got|had|keep|grow|besides?|like|than|habe|hab|hatte|wie|neben|außer)\s+(?:[\p{L}]+\s+){0,3}$`)
	denied  = pattern(`(?:^|[\s,;:(])(?:not|no|without|except|instead of|nicht|keine?n?|ohne|außer|statt)\s+(?:(?:the|any|your|an?|die|den|das|der|eine?n?)\s+)?$`)
	// allBut is a sentence that turns at its "but", behind which a clause begins.
	allBut = pattern(`\b(?:anything|everything|all) but\b`)
	aWish  = pattern(`\b(like|love|want|(?:can|could|may) i|take|get|need|send|post|spare|interested|reserve|keep me|after|swap|please|going|chance|put me down|wunsch|wünsche|tät|möcht\w*|hätt\w*|gern\w*|nehm\w*|will|brauch\w*|schick\w*|interess\w*|reservier\w*|tausch\w*|bitte|noch)\b`)
	quoted = pattern(`[“‘"'„]([^”’"'“]{4,})[”’"'“]`)
	// countAlone is a clause that says only how many of what was named before it.
	countAlone = pattern(`^(?:about |ca\. ?|maybe |gern[e]? |just |nur )?(\d{1,3})(?: ?(?:-|or|to|oder|bis) ?(?:\d{1,3}|so))?(?: ?(?:x|stück|stk|pcs|pieces|portions?|portionen|bits|bunches|stems|cuttings|plants|stängel|stecklinge|ableger|pflanzen)\b.*)?(?: please| bitte)?$`)
	plural     = pattern(`^(s|es|e|n|en|'s)?(?:[^\p{L}\d'-]|$)`)
)

// What is looked at of a message: more is none of a person.
const (
	mostWants   = 12
	mostClauses = 1000
)

// Wants are the plants that the message asks for, and what is not clear of them: the lot of its plain lines, else lots that
// its text names, by their name or any of the plant's. What has the words that it was read from is guessed: look at it
// before anything is set aside.
func (r Reading) Wants(offers []Offer) (wants []Want, doubts []Doubt) {
	if !r.InBlock || r.Block.Lot == "" {
		wants, doubts = wantsIn(r.letter, offers)
	}
	if len(wants) == 0 && r.Block.Lot != "" {
		wants = []Want{{Lot: r.Block.Lot}}
	}
	if len(wants) == 1 && wants[0].Count == 0 {
		wants[0].Count = r.Block.Count
	}
	return wants, doubts
}

func wantsIn(text string, offers []Offer) (wants []Want, doubts []Doubt) {
	byName := namesOf(offers)
	all := clauses(cleaned(withoutBlock(text)))
	for i, c := range all {
		if i == mostClauses || len(wants) >= mostWants {
			break
		}
		if hadBefore().MatchString(c.low) || c.why != Taken && !aWish().MatchString(c.low) {
			continue
		}
		for _, at := range mentions(c.low, byName) {
			before, behindIt := c.low[:at.from], c.low[at.to:]
			count := countOf(before, behindIt)
			if count == 0 && i+1 < len(all) && len(mentions(behindIt, byName)) == 0 {
				if m := countAlone().FindStringSubmatch(all[i+1].low); m != nil {
					count, _ = strconv.Atoi(m[1])
				}
			}
			switch {
			case refused(c, at.from), count == 0 && (!aWish().MatchString(c.sentence) || noOther().MatchString(before) && !aWish().MatchString(before)):
				continue // only spoken of
			case len(at.lots) == 0:
				doubts = append(doubts, Doubt{"lot", nil, Gone, at.name + ": " + shortened(c.text)})
				continue
			case len(at.lots) > 1:
				doubts = append(doubts, Doubt{"lot", at.lots, Which, shortened(c.text)})
				continue
			}
			i := slices.IndexFunc(wants, func(w Want) bool { return w.Lot == at.lots[0] })
			switch {
			case i < 0:
				wants = append(wants, Want{at.lots[0], count, shortened(c.text)})
			case wants[i].Count == 0:
				wants[i].Count, wants[i].From = count, shortened(c.text)
			case count != 0 && count != wants[i].Count:
				doubts = append(doubts, Doubt{"count", []string{strconv.Itoa(wants[i].Count), strconv.Itoa(count)}, Both, at.lots[0]})
				wants[i].Count = 0
			}
		}
	}
	return wants, doubts
}

// refused reports whether a name that begins at a byte of a clause is of what is not wanted.
func refused(c clause, at int) bool {
	return denied().MatchString(c.low[:at]) || strings.HasPrefix(c.low, "but ") && allBut().MatchString(c.sentence)
}

// namesOf are the lots of each name, the longest names first.
func namesOf(offers []Offer) (out []spoken) {
	at := map[string]int{}
	for _, o := range offers {
		for _, n := range append([]string{o.Lot, strings.Replace(o.Lot, "-", " ", 1), strings.Replace(o.Lot, "-", "", 1)}, o.Names...) { // hz 1101
			n = strings.ToLower(strings.ReplaceAll(strings.TrimSpace(n), "’", "'"))
			if utf8.RuneCountInString(n) < 4 { // no lot, or too short to be told from other words
				continue
			}
			i, ok := at[n]
			if !ok {
				i, at[n] = len(out), len(out)
				out = append(out, spoken{name: n})
			}
			switch {
			case o.Lot == "" || slices.Contains(out[i].lots, o.Lot):
			case o.Ready && !out[i].ready: // who asks means what there is
				out[i].lots, out[i].ready = []string{o.Lot}, true
			case o.Ready == out[i].ready:
				out[i].lots = append(out[i].lots, o.Lot)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b spoken) int { return len(b.name) - len(a.name) })
	return out
}

// spoken is a name and the lots that it may mean.
type spoken struct {
	name     string
	lots     []string
	ready    bool // these have plants now
	from, to int  // where a mention of it stands
}

// mentions finds the names in a clause, none within another, in their order. A lot may be written hz 1101.
func mentions(low string, all []spoken) (out []spoken) {
	masked := []byte(low)
	for _, n := range all {
		for from := 0; ; {
			i := strings.Index(string(masked[from:]), n.name)
			if i < 0 {
				break
			}
			i += from
			end := i + len(n.name)
			if ends := plural().FindStringSubmatch(low[end:]); ends != nil && begins(low, i) {
				end += len(ends[1])
				out = append(out, spoken{n.name, n.lots, n.ready, i, end})
				clear(masked[i:end])
			}
			from = end
		}
	}
	slices.SortFunc(out, func(a, b spoken) int { return a.from - b.from })
	for i := len(out) - 1; i > 0; i-- { // the 'Form' crypt is one plant
		if one := out[i-1]; out[i].from == one.to+1 && low[one.to] == ' ' && len(one.lots) == 1 {
			out = slices.Delete(out, i, i+1)
		}
	}
	return out
}

// begins reports whether a word begins at a byte.
func begins(s string, at int) bool {
	r, _ := utf8.DecodeLastRuneInString(s[:at])
	return at == 0 || !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-'
}

// countOf is the number of plants before or behind a name; of two, the lower. 0 for none.
func countOf(before, behindIt string) int {
	var said string
	rest := behind().FindStringSubmatchIndex(behindIt)
	switch m, range2 := counted().FindStringSubmatch(before), lower().FindStringSubmatch(before); {
	case range2 != nil:
		said = range2[1]
	case m != nil:
		said = m[1]
	case one().MatchString(before):
		said = "1"
	case rest != nil && !units().MatchString(strings.TrimLeft(behindIt[rest[3]:], "),")):
		said = behindIt[rest[2]:rest[3]]
	}
	n, _ := strconv.Atoi(said)
	return n
}
