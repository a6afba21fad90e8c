package message

import (
	"slices"
	"strconv"
	"strings"
)

var (
	lotName  = pattern(`\b[A-Z]{2,3}-\d{4}(?:-\d+)?\b`)
	counted  = pattern(`(?i)(?:^|[^\d.,x×])(\d{1,3})\s*(?:x|×|of|stück|stk\.?|pieces?|pcs|cuttings?|stems?|plants?|plantlets?|stecklinge?|stängel|pflanzen|portionen|portions?|vo[nm]|des|aus|der|the|lot|posten|more|please)*\s*(?:[a-z]+\s+){0,2}$`)
	behind   = pattern(`^\s*(?:gern[e]?|please|bitte|about)?\s*(?::|x|×|-)?\s*\(?\s*(\d{1,3})\s*(?:x|×|stück|stk|pcs|pieces|cuttings|stems)?\b`)
	asked    = pattern(`(?i)\b(?:send|post|mail|ship|(?:can|could|may) i (?:pls |please )?have|want|get|need|take|i'd like|would like|(?:i'd|would) love|gern[e]?|möchte|hätte?|schick\w*|nehme|brauche?)\b(?:\s+(?:me|you|u|i|can|like|mir|of|gern[e]?|gerne|noch|so))*\s+(\d{1,3})\b(\s*\S+)?`)
	number1  = pattern(`(?i)\b(?:anzahl|count|number|quantity|stückzahl)\s*:\s*(\d{1,3})\b`)
	units    = pattern(`(?i)^\s*(?:-|\.|tanks?\b|aquari|becken|°|c\b|f\b|cm|mm|l\b|litre|liter|gal|inch|in\b|"|ft|feet|foot|w\b|watt|h\b|hour|stund|%|ppm|d[gk]?h|degree|grad|day|tag|week|woche|month|monat|year|jahr|june|july|x\b|€|\$|£|euro|lm|lumen|lux|pm\b|am\b|minute)`)
	portions = pattern(`(?i)^(?:[\p{L}']+ ){0,2}(\d{1,3}) (?:portions?|stems?|cuttings?|pieces?|plants?|stück|stängel|stecklinge?|ableger|portionen|büschel)\b`)
	talkedOf = pattern(`(?i)\bthe (\d{1,3}) (?:we|you|i) (?:talked|spoke|mentioned|asked)\b`)
)

// hadBefore are the words by which a lot is one that they have already.
var hadBefore = pattern(`(?i)\b(you (?:sent|gave|posted)|from you (?:in|last)|last time|letztes mal|du .{0,20}geschickt|von dir .{0,20}bekommen|i (?:got|had) from)\b`)

// wanted reads which lot is asked for, and how many plants.
func wanted(c clause, add func(key, value string, guess bool)) {
	if m := number1().FindStringSubmatch(c.text); m != nil {
		add("count", m[1], false)
	}
	at := lotName().FindAllStringIndex(c.text, -1)
	if hadBefore().MatchString(c.text) {
		for _, x := range at {
			add("lot", "("+c.text[x[0]:x[1]]+")", true)
		}
		return
	}
	for _, x := range at {
		if refused(c, x[0]) || byLetter().MatchString(c.text[x[0]:]) {
			continue
		}
		add("lot", c.text[x[0]:x[1]], false)
		if n := countOf(c.low[:x[0]], c.low[x[1]:]); n > 0 {
			add("count", strconv.Itoa(n), false)
		}
	}
	if len(at) > 0 {
		return
	}
	if m := asked().FindStringSubmatch(c.text); m != nil && !units().MatchString(m[2]) && m[1] != "0" {
		add("count", m[1], true)
	} else if m := portions().FindStringSubmatch(c.text); m != nil && aWish().MatchString(c.low) {
		add("count", m[1], true)
	} else if m := talkedOf().FindStringSubmatch(c.text); m != nil {
		add("count", m[1], true)
	}
}

var (
	byHand      = pattern(`(?i)\b(pick(?:ing)? (?:\w+ ){0,2}up|pick up|pickup|collect(?:ing|ion)?|call (?:round|over)|rumkommen|nip (?:over|round)|fetch|come (?:round|over|by)|drive (?:up|over|down|me over)|in person|by hand|drive me to get|abhol\w*|abzuholen|hole? (?:\w+ )?ab|hole ab|selbst ?abholer|vorbei|persönlich)\b`)
	byPost      = pattern(`(?i)\b(post(?:ed|ing)?|mail(?:ed|ing)?|ship(?:ped|ping)?|in the post|\w*versand|verschick\w*|versend\w*|per post|postweg|mit der post|schick\w*|delivery|parcel)\b`)
	sends       = pattern(`(?i)\b(?:(?:could|can|would|will) you (?:please )?(?:send|stick|pop)|possible (?:that )?you send|(?:pay|cover)\b.{0,20}\b(?:sending|shipping))\b|\bcan u send\b|\b(?:pay|cover)\b.{0,20}\bpostage\b|\b(?:porto|versandkosten)\b`)
	comesByPost = pattern(`(?i)\bcome by (?:post|mail|parcel)\b`)
	noPost      = pattern(`(?i)\b(?:(?:can't|cannot|can not|won't) (?:post|mail|ship|send)\b)|\b(?:als|rather than|instead of|statt) (?:by |per |mit der )?(?:post|mail|shipping|versand)\b|\b(?:no need to|needn't|not necessary to|don't|do not|no|not|please don't|kein(?:en)?|nicht|keine?n?)\s+(?:\w+\s+)?(?:post(?:ing|age)?|mail(?:ing)?|ship(?:ping)?|versand|verschick\w*)\b|\bcomplicated\b|\brather than (?:post|mail)`)
	noHand      = pattern(`(?i)\b(?:can't|cannot|can not|unable to|too far to|kann nicht|nicht)\s+(?:\w+\s+)?(?:collect|pick|come|abholen|vorbei\w*)\b`)
	form        = pattern(`(?i)^[^:]{0,40}\b(?:or|oder)\b[^:]{0,40}:\s*(.+)$`)
	postalWords = pattern(`(?i)\bpost(?:age|code|en|ens)\b|\bthe .{0,12}postage\b|\bposten?s?\b`)
)

// ways are how plants travel: the words for it, those that refuse it, and those that only look like it.
var ways = []struct {
	how              string
	is, no, likeness lazy
	guess            bool
}{{"post", byPost, noPost, postalWords, false}, {"by hand", byHand, noHand, comesByPost, false}, {"post", sends, noPost, postalWords, true}}

// carriage reads post or by hand out of all clauses together. Either of the two that is refused leaves the other.
func carriage(all []clause) (out []candidate) {
	refused := map[string]bool{}
	for _, c := range all {
		text := c.text
		if m := form().FindStringSubmatch(text); m != nil {
			text = m[1]
		}
		for _, w := range ways {
			refused[w.how] = refused[w.how] || w.no().MatchString(text)
			text = w.no().ReplaceAllString(text, " ")
		}
		for _, w := range ways {
			if w.is().MatchString(w.likeness().ReplaceAllString(text, " ")) {
				x := candidate{key: "how", value: w.how, from: shortened(c.text), guess: w.guess}
				if !w.guess {
					x.rank = 1
				}
				out = append(out, x)
			}
		}
	}
	return slices.DeleteFunc(out, func(x candidate) bool { return refused[x.value] })
}

var (
	closing    = pattern(`(?i)^(?:.*[.!?)]\s+)?(?:(?:kind|best|warm|many)?\s*(?:regards|wishes)|with (?:best|kind|warm) (?:wishes|regards)|best|cheers|ta|thanks?x?(?: so much| a lot)?|thx|thank you|yours(?: sincerely| truly| faithfully)?|all the best|rgds|love|danke\w*|servus|baba|merci(?: vilmal)?|mit (?:besten|herzlichen|lieben) grü(?:ß|ss)en|mit herzlichem gru(?:ß|ss)|(?:viele|liebe|beste|herzliche|schöne|freundliche)n? (?:liebe )?grü(?:ß|ss|e)e|mit freundlichen grü(?:ß|ss)en|lg|vg|mfg|gr(?:u|ü|ue)(?:ß|ss|e)e?|groeten|pfiat di|ciao|aye|herzlich\w*|groetjes|--?)(?:[\s,.!]+(.*))?$|^--?(\pL.*)$`)
	thankful   = pattern(`(?i:\b(?:thanks|cheers|regards|danke|grü(?:ß|ss)e|gru(?:ß|ss)|lg|vg)),? (\p{Lu}\p{L}+)$`)
	aName      = pattern(`^(?:(?:Dr|Prof|Mrs?|Ms|StR|Mx|Frau|Herr|Fam|Familie)\.? )*\p{Lu}[\p{L}'.-]*(?: (?:&|and|und|von|van|de|\p{Lu})[\p{L}'.-]*){0,3}$`)
	introduced = pattern(`(?i:(?:^\W*|\b(?:my|mein) )name(?: is| ist)?|\bich heiße|\bhier ist (?:die|der)?)[\s:.]*(\p{Lu}[\p{L}'-]+(?: \p{Lu}[\p{L}'-]+){0,2})(?:$|[\s,.])`)
	postscript = pattern(`(?i)^p\.? ?s\b`)
	ownName    = pattern(`(?i)^(?:da|der|die|de|deine?|ihre?|eure?|your) | x{1,3}$`)
	parcelFor  = pattern(`(?i)\b(?:(?:ship|send|post|mail|versand|lieferung)(?: \w+)? (?:to|an)|postal|\w*ad(?:d?ress|resse)e?|\w*anschrift)\s*:\s*(.+)`)
	lowerCase  = pattern(`(?:^|,)\s*\p{Ll}`)
	// addressed are lines of an address: a house or a post code, and no measure.
	addressed = pattern(`^[^:=%°]*\d[^:=%°]*$`)
	measures1 = pattern(`(?i)\d\s*(?:cm|mm|m|in|inch\w*|ft|l|liter|gal\w*|w|watt|h|hrs?|hours|std|x|c|f|°|ppm|mg/l|stück|pcs)\b|\b(?:ph|gh|kh|co2|temp\w*|no3)\b`)
)

// signature reads the name of the writer: what they call themselves, or as a guess what stands behind or below a greeting,
// above the lines of an address, or alone at the end.
func signature(lines []string) []candidate {
	last := slices.DeleteFunc(slices.Clone(lines), func(l string) bool { return l == "" })
	if i := slices.IndexFunc(last, postscript().MatchString); i > 0 {
		last = last[:i]
	}
	end := len(last) // behind the lines that are no address
	for i := end - 1; i > max(0, len(last)-6) && len(last[i]) < 60 && !strings.HasSuffix(last[i], ".") && !strings.ContainsAny(last[i], "?!"); i-- {
		if addressed().MatchString(last[i]) && !measures1().MatchString(last[i]) {
			end = i
		}
	}
	final := ""
	var of []string
	for _, line := range last {
		if m := introduced().FindStringSubmatch(line); m != nil {
			return []candidate{{key: "name", value: m[1], from: shortened(line)}}
		}
		if m := parcelFor().FindStringSubmatch(line); m != nil {
			of = append(of, m[1])
		}
	}
	for i := end - 1; i >= max(0, end-3); i-- {
		if m := closing().FindStringSubmatch(last[i]); m != nil {
			name := strings.TrimLeft(m[1]+m[2], "-,. ")
			if name == "" && i+1 < len(last) {
				name = last[i+1]
			}
			of = append(of, name)
		} else if m := thankful().FindStringSubmatch(last[i]); m != nil {
			of = append(of, m[1])
		}
	}
	if end < len(last) && end > 1 {
		of = append(of, last[end-1])
	} else if n := len(last); n > 1 || n == 1 && strings.ContainsAny(last[0], ".!?") {
		for _, s := range sentences(last[n-1:]) { // the last of them
			if s.text != "" {
				final = s.text
			}
		}
	}
	for _, text := range append(of, final) {
		pieces := strings.Split(text, ",") // Ada Example, 3 Quay Street; greetings from Malta, Ada
		if len(pieces) > 1 && lowerCase().MatchString(strings.Join(pieces[1:], ",")) {
			pieces = pieces[1:]
		}
		for _, name := range []string{pieces[0], pieces[len(pieces)-1]} {
			name = strings.TrimRight(ownName().ReplaceAllString(strings.TrimSpace(name), ""), ".!")
			if alone := closing().FindStringSubmatch(name); aName().MatchString(name) && alone == nil && places()[strings.ToLower(name)] == "" {
				return []candidate{{key: "name", value: name, from: name, guess: true}}
			}
		}
	}
	return nil
}
