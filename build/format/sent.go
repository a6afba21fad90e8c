package format

import q "slipleaf/build/quantity"

// Outcomes are what a recipient can report, in the order in which they come.
var Outcomes = [...]string{"arrived", "planted", "melting", "rooted", "growing", "established", "trimmed", "passed-on", "lost", LostInPost}

// LostInPost is the outcome of a parcel that never came. It says nothing of the plant.
const LostInPost = "lost-in-post"

func sentMappings() []Mapping {
	return []Mapping{{Name: "sent", Task: Send, Help: Help{"The head of a file under sent/: one parcel given away or reserved.", "Der Kopf einer Datei unter sent/: ein Paket, abgegeben oder reserviert."},
		Any: []string{"plant asked", "lot count asked", "lot count reserved", "lot count sent", "items asked", "items reserved", "items sent"}, Keys: []Key{
			key("lot", of(LotName), "The lot that it comes out of.", "Der Posten, aus dem es kommt.", "HZ-0418"),
			key("count", whole(1, Most), "How many plants.", "Wie viele Pflanzen.", 6),
			key("items", listOf(part("item")), "Several plants in one parcel, in place of lot and count.", "Mehrere Pflanzen in einem Paket, statt lot und count.", []any{map[string]any{"lot": "HZ-0418", "count": 6}}),
			key("plant", of(Plant), "What they wait for, with asked, while no lot of it is theirs.", "Worauf sie warten, mit asked, solange kein Posten davon ihrer ist.", "heteranthera-zosterifolia"),
			key("asked", of(Date), "The day they asked; with no lot, they are on the waiting list of the plant.", "Der Tag, an dem gefragt wurde; ohne Posten steht man auf der Warteliste der Pflanze.", "2026-04-19"),
			key("reserved", of(Date), "The day they were reserved.", "Der Tag, an dem reserviert wurde.", "2026-04-20"),
			key("sent", of(Date), "The day they left; leave it out while only reserved.", "Der Tag, an dem sie abgingen; fehlt, solange nur reserviert ist.", "2026-04-22"),
			key("cancelled", of(Date), "The day the reservation was cancelled.", "Der Tag, an dem die Reservierung gestrichen wurde.", "2026-04-24"),
			key("how", word("post", "by-hand"), "By post, or handed over.", "Mit der Post, oder übergeben.", "post"),
			key("code", of(Code), "Made by slipleaf send; don't type one.", "Macht slipleaf send; nicht selbst schreiben.", "7f3k9m2p4t6w8x0z1b5c7d9qe"),
			key("units", word("metric", "us"), "How the sheet prints.", "Einheiten des Pflegeblatts.", "us"),
			key("language", of(Language), "BCP 47 tag of the language of the sheet, and of your words on it, where it is not the journal's.", "Sprache des Pflegeblatts als Kürzel nach BCP 47, und deiner Worte darauf, wenn nicht die des Journals.", "de"),
			key("region", of(Region), "Where the recipient lives.", "Wo der Empfänger wohnt.", "US-OH"),
			key("water", part("parameters"), "The recipient's water.", "Das Wasser des Empfängers.", nil),
			key("tank", part("recipient"), "The recipient's tank.", "Das Becken des Empfängers.", nil),
			key("reports", listOf(part("report")), "Reports from the recipient.", "Rückmeldungen des Empfängers.", nil),
			key("grown-from", of(Address), "Care sheet that came with the parent stock.", "Pflegeblatt, mit dem der eigene Bestand kam.", "https://reed.example/sheets/7f3k9m2p4t6w8x0z1b5c7d9qe/"),
			key("in-return", of(Line), "What came back in a swap.", "Was beim Tausch zurückkam.", "three runners of Helanthium tenellum"),
			key("erase-names-after", amount(q.SpanKind), "How long this record's private part is kept.", "Wie lange der private Teil hiervon bleibt.", "90 d"),
			key("private", of(Private), "Name, address, note: never published.", "Name, Adresse, Notiz: wird nie veröffentlicht.", map[string]string{"name": "R. Example"}),
		}}, {Name: "recipient", Task: Send, Help: Help{"The tank that a parcel goes into, as far as it is known.", "Das Becken, in das ein Paket geht, soweit bekannt."}, Keys: []Key{
		key("inside", part("inside"), "Inside dimensions of the glass.", "Innenmaße des Glases.", nil),
		key("water-depth", amount(q.LengthKind), "From the surface to the substrate.", "Von der Oberfläche bis zum Bodengrund.", "9 in"),
		key("co2", part("co2"), "Whether CO2 is injected.", "Ob mit CO2 gedüngt wird.", nil),
		key("light", listOf(part("lamp")), "Lights, one for each lamp.", "Lampen, jede für sich.", nil),
		key("substrate", listOf(part("layer")), "Layers, bottom first.", "Schichten des Bodengrunds, die unterste zuerst.", nil),
		key("livestock", listOf(part("livestock")), "Animals.", "Besatz.", nil),
		key("floating", amount(q.ShareKind), "Share of the surface under floating plants.", "Anteil der Oberfläche unter Schwimmpflanzen.", "20 %"),
	}}, {Name: "item", Task: Send, Help: Help{"One plant of several in a parcel.", "Eine von mehreren Pflanzen eines Pakets."}, Needs: []string{"lot", "count"}, Keys: []Key{
		key("lot", of(LotName), "The lot that it comes out of.", "Der Posten, aus dem sie kommt.", "HZ-0418"),
		key("count", whole(1, Most), "How many plants.", "Wie viele Pflanzen.", 6),
	}}, {Name: "report", Task: Send, Help: Help{"What a recipient told.", "Was ein Empfänger berichtet."}, Needs: []string{"date", "outcome"}, Keys: []Key{
		key("date", of(Date), "The day of the report.", "Der Tag der Rückmeldung.", "2026-05-01"),
		key("lot", of(LotName), "Which of several plants; left out for all.", "Welche von mehreren Pflanzen; fehlt für alle.", "HZ-0418"),
		key("outcome", word(Outcomes[:]...), "How they are doing.", "Wie es ihnen geht.", "lost"),
		key("alive", whole(0, Most), "How many are alive.", "Wie viele leben.", 4),
		key("cause", of(Line), "Why they died.", "Woran sie eingingen.", "melt"),
		key("days-in-post", whole(0, 90), "Days on the way.", "Tage unterwegs.", 3),
		key("length", amount(q.LengthKind), "Of the stems now.", "Der Stängel jetzt.", "12 cm"),
		key("water", part("parameters"), "Their water now.", "Ihr Wasser jetzt.", nil),
	}}}
}
