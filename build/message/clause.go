package message

import (
	"strings"
)

// clause is a part of a sentence, and why its figures are not those of the writer's tank today; Taken where they may be.
type clause struct {
	text     string // as written
	sentence string // the whole of it, in small letters
	low      string // the part, in small letters
	why      Why
	question bool
	imperial bool // the message has inches, gallons or Fahrenheit somewhere
}

var (
	sentenceEnd = pattern(`[.!?;]+(\s+|$)|\n|\s-{1,3}\s`)
	abbreviated = pattern(`(?i)\b(std|ca|approx|dr|prof|mr|mrs|ms|nr|no|z\.b|e\.g|i\.e|temp|st|stk|stck|pcs|inkl|max|min|[a-zäöüß]*str)$|(?:^|\s)[ABDEG-Z]$`)
	commas      = pattern(`,\s+|\s\(|\)\s*|\s+/\s+`)
	turns       = pattern(`(?i)\b(but|however|whereas|while|so the|aber|sondern|jedoch|dafür)\b`)
)

// about are the words by which a figure speaks of something else than the tank as it is.
var about = []struct {
	why   Why
	words lazy
}{
	{Before, pattern(`(?i)\b(used to|formerly|previously|last (year|week|month|summer|winter)|late (husband|wife|father|mother)|years ago|früher|bisher|letzte[nrs]? (jahr|woche|monat|sommer|winter)|damals|vorher|verstorbene\w*|hatten? (?:ich|wir|er|sie|immer)|(?:old|previous|former|alte[sn]?|früheres) (?:tank|setup|aquarium|becken)|previous owner|vorbesitzer\w*|(?:before|until) (?:the|we|i|my) \w+|(?:vor|bis) (?:dem|zum) umzug|back then|in (?:19|20)\d\d)\b`)},
	{Tap, pattern(`(?i)\b(our|my|the|from the|out of the) tap\b|\btap (is|has|reads|comes)\b|\btap ?water\b|\bfrom the tap\b|\b(out of|from) the faucet\b|leitungswasser|aus der leitung|leitung\b`)},
	{Others, pattern(`(?i)\b(neighbou?r|friend|buddy|mate|pal|brother|sister|cousin|colleague)(?:'?s\b| \p{L}+'s\b)|\b(neighbou?r|friend|buddy|mate|pal|brother|sister|cousin|colleague|mum|mom|dad|uncle|aunt)( of mine)? (has|had|keeps|kept|runs)\b|\b(kumpel|bekannte[rn]?|kolleg(e|in)|schwager|bruder|schwester)\b.{0,20}\b(hat|hält)\b|\bnachbarn?s?\b|\bbei (?:mei|'?)ne[mr] (?:\p{L}+ )?(?:kumpel|freund(?:in)?|kolleg(?:e|in)|bruder|schwester|schwager)\b|\bfreund(in)?s?\b.{0,12}\b(becken|aquarium)|\b(?:(?:boy|girl)friend|(?:flat|house|room)mate)(?:'s| has| keeps| runs)\b|\bkeeps? (?:hers|his|theirs|yours)\b|\b(?:freund(?:in)?|kollege|kumpel|bruder|schwester)\b.{0,12}\b(?:hat|hält|fährt|betreibt)\b`)},
	{Others, pattern(`(?i)\b(the|a|our) (pet ?)?(shop|store|seller)\b|\bim (laden|geschäft)\b|händler|\b(?:book|forum|im buch|website|web ?site|internet|wikipedia)\b|\byour (?:tank|page|list|ad|post|trough|tray)\b|\bdeine[rmn]? (?:seite|liste|anzeige|becken)\b|\byou (?:say|said|write|wrote|keep|kept)\b|\bdu (?:schreibst|schriebst|hältst)\b|\bbei (?:dir|euch)\b`)},
	{Needs, pattern(`(?i)\b(plants?|it|they|this one|pflanzen?|sie|art)\b.{0,12}\b(needs?|requires?|likes?|prefers?|wants?|braucht|brauchen|verträgt|mag)\b|\b(?:die|sie) (?:brauchen|mögen|vertragen)\b|\bthe limit\b|\bmust not\b|\bgeht nicht\b`)},
	{Wish, pattern(`(?i)\b(?:i want|i'm thinking of|ich will(?: auf)?|ich überlege,? (?:auf)?|ich hätte gern) (?:(?:ph|gh|kh) ?)?\d[\d., x]*(?:°|cm|c\b|f\b|d[gk]h|$|[,.])|\b(want to|like (?:it )?to (?:get|be|have|bring|raise|lower|reach)|like to get|should end up|ideally|idealerweise|ich (?:plane|überlege)|thinking of|werden es|would like to|wish to|plan(ning)?(?: to)?\b|hopefully|hoffentlich|geplant|going to|hope to|my goal|the goal|target|aim(ing)? for|will (set|raise|lower|add|get)|next (month|week|year)|later|möchte .{0,30}(erhöhen|senken|bringen)|will .{0,30}(kaufen|anschaffen)|soll(en)?\b.{0,20}\b(sein|werden)|ziel|später|demnächst|nächste[nrs]? (woche|monat|jahr))\b`)},
	{Elsewhere, pattern(`(?i)\b(bucket|eimer|quarantine(?: tank)?|hospital tank|quarantänebecken|beim transport|mother plant|mutterpflanze|(?:it's|its|it is) [^,.]{0,12}outside|outside (?:it|temp\w*|the)|outdoors? temperature|air temperature|room( temperature)?|lufttemperatur|zimmertemperatur|draußen|in the (living|bed)room)\b`)},
	{Season, pattern(`(?i)\b(in (the )?(summer|winter|july|august|january|december|heat)|sometimes|im (sommer|winter|juli|august|januar|dezember)|manchmal|goes (up )?to)\b`)},
	{Tanks, pattern(`(?i)\b(one at|the other (at|one|has|is)|the second (tank|one)|das andere|im zweiten)\b`)},
	{Unclear, pattern(`(?i)\b(?:not|isn't|aren't|nicht|niemals|never|don't have|haven't got)\s+(?:at |of |over |über |mehr als )?(?:(?:ph|gh|kh) ?)?\d`)},
	{Question, pattern(`(?i)\bif (?:i|it|we) (?:had|were|was)\b|\bwenn (?:ich|es|wir|man) .*\b(?:hätten?|wären?)\b|\b(what about|would it|will it|does it|do they|can it|geht (die|das|sie|es)|verträgt|was ist (bei|mit))\b`)},
}

// here are the words by which a sentence comes back to the tank as it is.
var here = pattern(`(?i)\b(in mine|at present|at the moment|currently|now|itself|turned it (down|up) to|bei (?:mir|uns)|^mine(?:'s| is| has| runs)|nur noch|im becken|zur ?zeit|jetzt|derzeit|momentan|these days|nowadays|mittlerweile|inzwischen|my (tank|own)|(?:mein|unser)\w* (?:becken|aquarium|tank)|(the|our) (tank|aquarium) (sits|is|has|reads|runs|stays)|tap ?water (straight|as it (is|comes)|only|untreated)|(straight|just|plain|untreated|dechlorinated) tap( ?water)?|(?:not|nicht) (?:the |from the |aus der |die )?(?:tap|leitung\w*)|nur leitungswasser|reines leitungswasser)\b`)

// ownWords are those with which a writer comes back from somebody else to themselves.
var ownWords = pattern(`\b(?:i|i'm|i've|my|mine|we|our|ours|ich|wir|mein\w*|mir|uns\w*)\b`)

// asking are the words with which a question begins; one that begins otherwise asks with its last part.
var asking = pattern(`(?i)^\W*(?:and |or |but |so |und |oder |aber )?(?:what|which|would|will|could|can|is|are|do|does|how|should|was|welche\w*|geht|kann|können|könnte\w*|ist|sind|darf|wäre\w*|würde\w*|verträgt|wie|reicht)\b`)

// clauses parts the text of a message.
func clauses(lines []string) []clause {
	var out []clause
	inches := imperial().MatchString(strings.ToLower(strings.Join(bounded(lines), " ")))
	for _, s := range sentences(lines) {
		why := Taken
		of := parts(s.text)
		for i, part := range of {
			low := strings.ToLower(part)
			if turns().MatchString(low) && (why != Others || ownWords().MatchString(low)) || here().MatchString(low) {
				why = Taken
			}
			for _, a := range about {
				if a.words().MatchString(low) && !here().MatchString(low) {
					why = a.why
				}
			}
			c := clause{text: part, low: low, sentence: strings.ToLower(s.text), why: why, question: s.question && (i == len(of)-1 || asking().MatchString(s.text)), imperial: inches}
			out = append(out, c)
		}
	}
	return out
}

type sentence struct {
	text     string
	question bool
}

// sentences parts lines at the ends of sentences, but not behind an abbreviation or within a figure.
func sentences(lines []string) []sentence {
	var out []sentence
	for _, line := range bounded(lines) {
		from := 0
		for _, at := range sentenceEnd().FindAllStringIndex(line, -1) {
			if line[at[0]] == '.' && abbreviated().MatchString(line[:at[0]]) {
				continue
			}
			out = append(out, sentence{strings.TrimSpace(line[from:at[0]]), strings.Contains(line[at[0]:at[1]], "?")})
			from = at[1]
		}
		out = append(out, sentence{strings.TrimSpace(line[from:]), false})
	}
	return out
}

// mostLine is how many bytes of a line are read as one: nobody writes a longer sentence, and the readers look back in it.
const mostLine = 500

// bounded are lines of at most mostLine bytes, split behind a sentence, or where that is longer, at a space.
func bounded(lines []string) []string {
	var out []string
	for _, l := range lines {
		for len(l) > mostLine {
			at := strings.LastIndex(l[:mostLine], ". ") + 1
			if at == 0 {
				at = strings.LastIndexByte(l[:mostLine], ' ')
			}
			if at <= 0 {
				return out // no words
			}
			out, l = append(out, l[:at]), l[at+1:]
		}
		out = append(out, l)
	}
	return out
}

// parts splits a sentence at commas, brackets and the words by which it turns.
func parts(s string) (out []string) {
	for _, piece := range commas().Split(s, -1) {
		for part := range strings.SplitSeq(turns().ReplaceAllString(piece, "\x00$0"), "\x00") {
			if part = strings.TrimSpace(part); part != "" {
				out = append(out, part)
			}
		}
	}
	return out
}
