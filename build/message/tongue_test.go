package message

import (
	"strings"
	"testing"
)

// The language is that of the writer's own words, whatever else stands in the message. Who writes in one that the program does
// not speak has none guessed: Swedish, Danish and Turkish were once taken for German.
func TestTheLanguageIsTheWriters(t *testing.T) {
	told := func(text, home string) string {
		r, err := Read(text)
		if err != nil {
			t.Fatal(err)
		}
		r.For(home)
		return r.Block.Language
	}
	all := letters(t)
	german := 0
	for i, l := range all {
		if r, _ := Read(l.text); r.Block.Language != "" {
			continue // it says so itself
		}
		own := told(l.text, "")
		if own == "en" {
			t.Errorf("%s: a journal without a language is in English", l.name)
		}
		if own == "de" {
			german++
			for _, home := range []string{"de", "de-AT", "DE"} {
				if got := told(l.text, home); got != "" {
					t.Errorf("%s: %s for a journal in %s", l.name, got, home)
				}
			}
		}
		other := all[(i+len(all)/2)%len(all)].text
		quoted := "\n> " + strings.ReplaceAll(other, "\n", "\n> ")
		plain := "\n=== slipleaf: my tank ===\nhow: post, please, if it is not too cold for the plants\nlot: the one that you have most of\n=== slipleaf: end ===\n"
		for _, more := range []string{quoted, plain} {
			if got := told(l.text+more, ""); got != own {
				t.Errorf("%s: %q, and with %q: %q", l.name, own, more, got)
			}
		}
	}
	if german < 40 {
		t.Errorf("%d messages are found to be in German", german)
	}
	for _, foreign := range []string{
		"Hej! Jag skulle gärna vilja ha några stickor. Mitt akvarium är på 60 liter, 24 grader, GH 8. Jag bor i Malmö och kan hämta. Hälsningar Åsa",
		"Hej, jeg vil gerne have tre stængler. Mit akvarium er 54 liter, og der er fem fisk i. Den er 24 grader. Kan de sendes med posten? Hilsen Jens",
		"Hallo, ik zou graag drie stekken willen. Mijn aquarium is 60 liter, 24 graden, die vissen zijn niet zo groot. Kunt u ze opsturen? Groeten, Jan",
		"Merhaba, üç dal bitki istiyorum. Akvaryumum 60 litre, su sıcaklığı 24 derece. Gönderebilir misiniz? Teşekkürler, Gül",
		"Szia! Szeretnék három szálat kérni. Az akváriumom 60 literes, a víz 24 fok, GH 8. Köszönöm, Gábor, Győr",
		"Hei, haluaisin kolme pistokasta. Akvaario on 60 litraa, vesi 24 astetta. Se on Tampereella. Kiitos, Päivi Mäkelä, Hämeenlinna",
		"Bonjour, je voudrais trois tiges. Mon aquarium fait 60 litres, 24 degres. Merci, Zoé",
		"Hi, could you post 3? Jürgen Müller, Königstraße 3, Österreich",
		"Hola, me gustaria tener tres tallos, tengo un acuario de 60 litros. Gracias, Ana",
		"Tere, sooviksin kolme taime. Minu akvaarium on 60 liitrit, vesi on 24 kraadi. Aitäh, Jüri, Võru, Pärnu, Põltsamaa",
	} {
		if got := told(foreign, "fr"); got != "" {
			t.Errorf("%q: %s", foreign, got)
		}
	}
	if got := told("Hello, I would like some of the plants, please. Thanks and regards", "de"); got != "en" {
		t.Errorf("English to a German journal: %q", got)
	}
}
