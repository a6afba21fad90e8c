package almanac

import (
	"slices"
	"strings"

	"slipleaf/build/quantity"
)

// Notice is one row of a regulated list that names a plant. It is a notice, not legal advice: lists change, and the
// local authority decides. No notice means only that the table has no row.
type Notice struct {
	Jurisdiction string // US-FL, GB-GBN, EU …
	Place        string // the same in words
	List         string
	ListDE       string   // its name in German, where that is official
	What         string   // what the list forbids, in plain words
	Since        string   // year or date; "" when none was seen
	ListedAs     string   // the name of the row
	OldNames     []string // older scientific names under which the law may know the plant
	Source       string   // address
	Retrieved    quantity.Date
	Seen         bool // the entry was read at Source; else reported from memory, not checked

	Forbids  bool   // the list bans giving away, moving or possession
	InParts  bool   // the list holds in a part of the region asked about, not in all of it
	Doubtful bool   // the plant may be the listed one: ask the grower
	Why      string // the reason for Doubtful
}

// Firm reports whether the notice by itself justifies refusing to give the plant away in the region asked about: the
// list was read, it forbids that, it holds in the whole region, and the name is not in doubt.
func (n Notice) Firm() bool { return n.Forbids && n.Seen && !n.InParts && !n.Doubtful }

// Standing is how the lists that hold somewhere stand to a plant there. Pages, sheets and complaints all go by it.
type Standing uint8

// The standings, the mildest first.
const (
	Unnamed Standing = iota // no list that is held names it, which is no permission
	Perhaps                 // a list that was not read may name it, or one names what it may be
	Named                   // a list names it, and does not ban giving it away in the whole region
	Banned                  // a list that was read bans it
)

// StandingOf weighs the notices on a plant, and gives the gravest of them, one of each list.
func StandingOf(notices []Notice) (is Standing, by []Notice) {
	for _, n := range notices {
		as := Named
		switch {
		case n.Firm():
			as = Banned
		case n.Doubtful || !n.Seen:
			as = Perhaps
		}
		if as > is {
			is, by = as, nil
		}
		if as == is && !slices.ContainsFunc(by, n.sameList) {
			by = append(by, n)
		}
	}
	return is, by
}

func (n Notice) sameList(o Notice) bool { return n.Jurisdiction == o.Jurisdiction && n.List == o.List }

// listed is a row of the regulated lists, made ready for matching.
type listed struct {
	Notice
	name   string   // ListedAs without what is in brackets
	genus  string   // folded; set when the row names a whole genus
	except []string // folded names that a genus row leaves out
	limit  string   // a condition in brackets that a name cannot decide, as "not native to Minnesota"
	folded []string // the folded scientific names of the row
	trade  []string
}

// readListed joins the rows of the regulated lists with what each list is.
func readListed(regulated, lists *table) []listed {
	type key struct{ jurisdiction, list string }
	about := map[key]row{}
	for _, r := range lists.rows {
		about[key{r.must("jurisdiction"), r.must("list_name")}] = r
	}
	genera := generaOf(regulated)
	out := make([]listed, 0, len(regulated.rows))
	for _, r := range regulated.rows {
		k := key{r.must("jurisdiction"), r.must("list_name")}
		list, ok := about[k]
		if !ok {
			r.fault("list_name", "lists.csv has no list %q of %s", k.list, k.jurisdiction)
			continue
		}
		out = append(out, readNotice(r, list, genera))
	}
	return out
}

func readNotice(r, list row, genera []string) listed {
	l := listed{Notice: Notice{
		Jurisdiction: r.must("jurisdiction"), Place: list.must("place"), List: r.must("list_name"), ListDE: list.text("list_name_de"),
		What: r.must("what_is_forbidden"), Since: r.text("listed_since"),
		ListedAs: r.must("taxon"), Source: r.must("source_url"), Retrieved: r.date("retrieved"),
		Seen: r.one("seen", "yes", "no") == "yes", Forbids: list.one("forbids", "yes", "no") == "yes",
	}}
	name, bracket, _ := strings.Cut(l.ListedAs, " (")
	l.name = name
	l.readBracket(strings.TrimSuffix(bracket, ")"))
	if genus, ok := strings.CutSuffix(name, " spp."); ok {
		l.genus = fold(genus)
	} else {
		l.folded = append(l.folded, fold(name))
	}
	for _, n := range r.list("synonyms_and_trade_names") {
		if !isScientific(n, name, genera) {
			l.trade = append(l.trade, n)
			continue
		}
		l.OldNames = append(l.OldNames, n)
		l.folded = append(l.folded, fold(n))
	}
	return l
}

// readBracket reads what follows a name: "except S. minima", or a condition.
func (l *listed) readBracket(s string) {
	rest, ok := strings.CutPrefix(s, "except ")
	if !ok {
		l.limit = s
		return
	}
	genus, _, _ := strings.Cut(l.name, " ")
	for n := range strings.SplitSeq(rest, ", ") {
		if initial, epithet, short := strings.Cut(n, ". "); short && strings.HasPrefix(genus, initial) {
			n = genus + " " + epithet
		}
		l.except = append(l.except, fold(n))
	}
}

// generaOf lists the folded genera of the rows.
func generaOf(t *table) []string {
	var out []string
	for _, r := range t.rows {
		out = append(out, firstWord(r.text("taxon")))
	}
	return out
}

// isScientific tells a scientific synonym from a common name: it has the epithet of the row's own name, or a genus
// that is listed, or one of the genera that these plants once had, followed by a lower-case word.
func isScientific(n, taxon string, genera []string) bool {
	words, own := strings.Fields(n), strings.Fields(taxon)
	if len(words) < 2 || words[0] != capital(words[0]) || words[1] != strings.ToLower(words[1]) {
		return false
	}
	sameEpithet := len(own) > 1 && own[1] != "spp." && words[1] == own[1]
	return sameEpithet || slices.Contains(formerGenera, words[0]) ||
		slices.Contains(genera, strings.ToLower(words[0])) && !slices.Contains(englishNouns, words[1])
}

// formerGenera are genera that listed plants once stood in, as the table's own synonyms name them.
var formerGenera = []string{"Anacharis", "Eichhornia", "Elodea", "Enydria", "Jussiaea", "Limnanthemum", "Limnobium",
	"Philotria", "Spirodela", "Tillaea", "Villarsia"}

// englishNouns follow a capital in common names that begin like a genus.
var englishNouns = []string{"elodea", "milfoil"}

func capital(s string) string { return strings.ToUpper(s[:1]) + strings.ToLower(s[1:]) }
