package message

import (
	"strings"
)

// The animals that people name, from memory: those that eat or dig plants, those that copper kills, and the usual fish.
var (
	animal = pattern(`(?i)(?:\b(\d{1,4})\s+(?:(?:small|large|big|young|blue|red|green|rote|blaue|kleine|große|junge)\s+)?)?\b((?:(?:cherry|amano|ghost|apple|ramshorn|nerite|mystery|bladder|malaysian trumpet|trumpet|neon|cardinal|ember|fancy|zebra|harlequin|panda|tiger|bristlenose|silver|dwarf)\s+)?` +
		`(?:goldfish(?:es)?|kois?|cichlids?|plec(?:os?|s)?|otocinclus|otos?|corydoras|cor(?:y|ies|ys)|tetras?|gupp(?:y|ies)|plat(?:y|ies|ys)|moll(?:y|ies)|swordtails?|rasboras?|danios?|barbs?|minnows?|gouramis?|bettas?|angelfish(?:es)?|discus|loach(?:es)?|rainbow(?:s|fish(?:es)?)|neons?|rummy ?noses?|bristlenoses?|endlers?|white clouds?|angels?|kuhlis?|harlequins?|cardinals?|ramshorns?|rcs|nerites?|ancistrus|catfish(?:es)?|crayfish|axolotls?|turtles?|shrimps?|snails?|` +
		`[a-zäöüß]*(?:garnelen?|schnecken?|goldfische?|kois|barsche?|welse?|salmler|guppys|platys|mollys|bärblinge?|schmerlen?|barben?|kampffische?|schwertträger|red (?:fire|sakura)|rote neons?|malawis?|mbunas?|kampffische?|skalare?|krebse?|axolotl|fadenfische?)))\b`)
	noAnimal = pattern(`\b(no|not|without|free|kein|keine|keinen|ohne|against|gegen|hope|hate|pests?|bag|you have|your|ihr habt|deine[nr]?)\b|\?`)
)

// livestock reads which animals are named; that nobody wishes to have them is not sure, so it is a guess.
func livestock(all []clause) []candidate {
	var kinds []string
	from := ""
	for _, c := range all {
		if c.why != Taken || c.question || noAnimal().MatchString(c.low) {
			continue
		}
		for _, m := range animal().FindAllStringSubmatch(c.text, 12) {
			if len(kinds) < 12 {
				kinds = append(kinds, strings.TrimSpace(m[1]+" "+m[2]))
			}
			if from == "" {
				from = shortened(c.text)
			}
		}
	}
	if len(kinds) == 0 {
		return nil
	}
	return []candidate{{key: "livestock", value: strings.Join(kinds, ", "), from: from, guess: true}}
}
