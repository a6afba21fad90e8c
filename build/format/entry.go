package format

import (
	"slices"

	q "slipleaf/build/quantity"
)

// sizes are the measures of a count, planting or loss.
func sizes() []Key {
	return []Key{
		key("stems", whole(0, Most), "Number of stems.", "Zahl der Stängel.", 24),
		key("plantlets", whole(0, Most), "Number of plantlets.", "Zahl der Jungpflanzen.", 6),
		key("leaves", whole(0, Most), "Number of leaves.", "Zahl der Blätter.", 41),
		key("length", amount(q.LengthKind), "Of one stem, on average.", "Eines Stängels, im Mittel.", "31 cm"),
		key("cover", amount(q.ShareKind), "Share of area that it covers.", "Anteil der Fläche, den sie bedeckt.", "35 %"),
		key("mass", amount(q.MassKind), "Fresh mass, blotted.", "Frischmasse, abgetupft.", "120 g"),
		key("area", amount(q.AreaKind), "Area it covers; a sheet of A4 is about 6 dm2.", "Fläche, die sie bedeckt; ein Blatt A4 hat etwa 6 dm2.", "6 dm2"),
	}
}

// Measures are the keys of which a count, planting or loss needs one.
var Measures = [...]string{"stems", "plantlets", "leaves", "cover", "mass"}

var plantKey = key("plant", of(Plant), "Its id: the scientific name in lower case with hyphens, or a file under plants/.", "Ihr Name: wissenschaftlich, klein und mit Bindestrichen, oder eine Datei unter plants/.", "heteranthera-zosterifolia")

// sized is a mapping about an amount of a plant, with more keys behind its measures.
func sized(name string, help Help, more ...Key) Mapping {
	return Mapping{Name: name, Task: Diary, Help: help, Needs: []string{"plant"}, Any: Measures[:], Keys: append(append([]Key{plantKey}, sizes()...), more...)}
}

func entryMappings() []Mapping {
	where := key("where", part("where"), "Where it stands.", "Wo sie steht.", nil)
	return []Mapping{{Name: "entry", Task: Diary, Help: Help{"The head of a diary entry.", "Der Kopf eines Eintrags."}, Keys: []Key{
		key("title", of(Line), "A few words on the day.", "Ein paar Worte zum Tag.", "First real harvest"),
		key("parameters", part("parameters"), "What was measured today.", "Was heute gemessen wurde.", nil),
		key("counts", listOf(part("count")), "Plants in the tank today, before any trim below.", "Pflanzen im Becken heute, vor dem Schnitt unten.", nil),
		key("plantings", listOf(part("planting")), "Plants put in.", "Eingesetzte Pflanzen.", nil),
		key("trims", listOf(part("trim")), "Plants cut or taken out.", "Geschnittenes oder Herausgenommenes.", nil),
		key("losses", listOf(part("loss")), "Plants that died.", "Eingegangene Pflanzen.", nil),
		key("doses", listOf(part("dose")), "Salts put in.", "Zugegebene Salze.", nil),
		key("water-change", part("water-change"), "The water that was changed.", "Der Wasserwechsel.", nil),
		key("lots", listOf(part("lot")), "Plants to give away.", "Abzugebende Pflanzen.", nil),
		key("still-there", listOf(of(LotName)), "Lots that were looked at today and are still there.", "Posten, nach denen heute gesehen wurde und die noch da sind.", []string{"HZ-0418"}),
		key("photos", listOf(part("photo")), "Pictures of the day.", "Bilder des Tages.", nil),
		key("private", of(Private), "For the grower's eyes: never published.", "Nur für dich: wird nie veröffentlicht.", map[string]string{"note": "ask the neighbour"}),
	}},
		{Name: "parameters", Task: Diary, Help: Help{"Measured water, and light at the substrate.", "Gemessene Wasserwerte, und Licht am Bodengrund."}, Keys: parameterKeys()},
		sized("count", Help{"How much of a plant is in the tank today.", "Wie viel von einer Pflanze heute im Becken ist."}, where,
			key("by", of(Line), "Who counted, where more than one person does: what each counts too high or too low is taken out. Never published.", "Wer gezählt hat, wenn es mehrere sind: was jemand stets zu hoch oder zu niedrig zählt, wird herausgerechnet. Wird nie veröffentlicht.", "ada")),
		sized("planting", Help{"Plants put in.", "Eingesetzte Pflanzen."}, key("from", of(Line), "Where they came from: gift, swap, bought, seed or a tank of yours. Other words stay in the diary.", "Woher sie kamen: gift (Geschenk), swap (Tausch), bought (gekauft), seed (Samen) oder eins deiner Becken. Andere Wörter bleiben im Tagebuch.", "gift"), where),
		loss(),
		{Name: "where", Task: Diary, Help: Help{"A plant's place in the tank.", "Der Platz einer Pflanze im Becken."}, Keys: []Key{
			key("along", orNothing(amount(q.LengthKind)), "Along the front glass, from its left.", "Entlang der Frontscheibe, von links.", "20..55 cm"),
			key("row", word("front", "middle", "back"), "How far back.", "Wie weit hinten.", "back"),
		}},
		{Name: "trim", Task: Diary, Help: Help{"Plants cut or taken out.", "Geschnittenes oder Herausgenommenes."}, Needs: []string{"plant"}, Any: []string{"cuttings", "removed"}, Keys: []Key{plantKey,
			key("cuttings", whole(0, Most), "How many cuttings it gave.", "Wie viele Stecklinge es gab.", 18),
			key("length", amount(q.LengthKind), "Length of a cutting.", "Länge eines Stecklings.", "12 cm"),
			key("replanted", whole(0, Most), "How many of them went back in.", "Wie viele davon wieder eingesetzt wurden.", 6),
			key("removed", of(Removed), "Amount taken out, in the measure the plant is counted by.", "Was herausgenommen wurde, in dem Maß, in dem die Pflanze gezählt wird.", "6 plantlets"),
		}},
		{Name: "dose", Task: Diary, Help: Help{"A salt put in.", "Ein zugegebenes Salz."}, Needs: []string{"salt", "mass"}, Keys: []Key{
			key("salt", of(Line), "Its chemical name.", "Sein chemischer Name.", "magnesium sulfate heptahydrate"),
			key("mass", amount(q.MassKind), "How much.", "Wie viel.", "4 g"),
		}},
		{Name: "water-change", Task: Diary, Help: Help{"The water that was changed.", "Der Wasserwechsel."}, Keys: []Key{
			key("share", amount(q.ShareKind), "Share of the tank's water.", "Anteil des Wassers im Becken.", "30 %"),
			key("with", of(Line), "What went in.", "Womit aufgefüllt wurde.", "tap"),
		}},
		{Name: "photo", Task: Diary, Help: Help{"A picture under photos/.", "Ein Bild unter photos/."}, Needs: []string{"file", "alt"}, Keys: []Key{
			key("file", of(Line), "Its name under photos/.", "Sein Name unter photos/.", "trough-front.jpg"),
			key("alt", of(Line), "Description for people who can't see the photo.", "Beschreibung für alle, die das Bild nicht sehen.", "The trough from the front"),
		}},
		{Name: "lot", Task: Offer, Help: Help{"Plants to give away.", "Abzugebende Pflanzen."}, Needs: []string{"lot", "plant"}, Any: []string{"count", "expected"}, Keys: lotKeys()}}
}

// loss is plants that died: an amount of a plant in the tank, or a count of a lot's stock.
func loss() Mapping {
	m := sized("loss", Help{"Plants that died: of a plant in the tank, or else of a lot's stock.", "Eingegangene Pflanzen: im Becken, oder vom Bestand eines Postens."},
		key("lot", of(LotName), "The lot whose stock died before it was sent, with count, in place of a plant and its measures.", "Der Posten, dessen Bestand vor dem Versand einging, mit count, statt Pflanze und Maßen.", "HZ-0418"),
		key("count", whole(1, Most), "How many of the lot, or all.", "Wie viele des Postens, oder all.", 3),
		key("cause", of(Line), "Why they died.", "Woran sie eingingen.", "melt"))
	for i, k := range m.Keys {
		m.Keys[i].Is.OrAll = k.Name == "count" || slices.Contains(Measures[:], k.Name)
	}
	m.Needs, m.Any, m.Pair = nil, nil, []string{"lot", "count"}
	for _, measure := range Measures {
		m.Any = append(m.Any, "plant "+measure)
	}
	m.Any = append(m.Any, "lot count")
	return m
}

func lotKeys() []Key {
	return []Key{
		key("lot", of(LotName), "Its name: letters, digits and hyphens, at most 40.", "Sein Name: Buchstaben, Ziffern und Bindestriche, höchstens 40.", "HZ-0418"), plantKey,
		key("form", word("cuttings", "plantlets", "divisions", "portions", "seeds"), "What is given.", "Was abgegeben wird.", "cuttings"),
		key("count", whole(1, Most), "How many there are; absent while expected.", "Wie viele es sind; fehlt, solange sie erwartet werden.", 12),
		key("expected", of(Truth), "Not there yet: the forecast gives the day.", "Noch nicht da: die Vorhersage nennt den Tag.", false),
		key("ready", of(Date), "The day from which they can be given.", "Der Tag, ab dem sie abgegeben werden können.", "2026-04-20"),
		key("pests", of(Text), "Pests that may come with it.", "Was an Plagegeistern mitkommen kann.", "bladder snails"),
		key("received-as", of(Line), "The name under which the stock came.", "Der Name, unter dem der Bestand kam.", "stargrass"),
		key("identity", word("certain", "likely", "unsure"), "How certain the name is.", "Wie sicher der Name ist.", "likely"),
		key("grown", word("submersed", "emersed", "culture", "mixed"), "How it was grown.", "Wie sie gezogen wurde: unter Wasser, emers, in vitro oder gemischt.", "submersed"),
		key("submersed-for", amount(q.SpanKind), "How long it has grown under water.", "Wie lange sie unter Wasser wächst.", "8 wk"),
		key("length", amount(q.LengthKind), "Of a plant of the lot.", "Einer Pflanze des Postens.", "12 cm"),
		key("rooted", of(Truth), "Whether it has roots.", "Ob sie Wurzeln hat.", true),
		key("dips", of(Text), "What was done against pests.", "Was gegen Plagegeister getan wurde.", "none"),
		key("copper", of(Line), "When copper was last used.", "Wann zuletzt Kupfer verwendet wurde.", "2026-01"),
		key("grown-from", of(Address), "The lot of another journal that its stock came from, as its page of offers names it.", "Der Posten eines anderen Journals, von dem der Bestand kam, wie ihn dessen Angebote nennen.", "https://reed.example/offers/#lot-hz-0418"),
	}
}
