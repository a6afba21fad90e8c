package format

import q "slipleaf/build/quantity"

func journalMappings() []Mapping {
	return []Mapping{{Name: "journal", Task: Begin, Help: Help{"Settings of the journal. Anything left out is simply not mentioned on the site.", "Einstellungen des Journals. Was fehlt, kommt auf der Seite einfach nicht vor."}, Keys: []Key{
		key("title", of(Line), "The site's name.", "Der Name der Seite.", "The Backroom Bench"),
		key("grower", of(Line), "Shown on the site; need not be a real name.", "Steht auf der Seite; muss kein echter Name sein.", "Wren"),
		key("address", of(Site), "Where the site will live; feeds, labels and sheets need it.", "Wo die Seite liegen wird; Feeds, Etiketten und Pflegeblätter brauchen sie.", "https://bench.example/"),
		key("language", of(Language), "The language that the journal is written in, as a tag of BCP 47: en, de.", "Sprache, in der das Journal geschrieben ist, als Kürzel nach BCP 47: en, de.", "en"),
		key("units", word("metric", "us"), "How pages print quantities. Any unit may be written in the diary.", "Einheiten auf den Seiten. Im Tagebuch darf jede Einheit stehen.", "metric"),
		key("region", of(Region), "The country, or a part of it as in US-FL, by ISO 3166: whose lists of regulated plants to heed.", "Das Land oder ein Teil davon wie US-FL, nach ISO 3166: wessen Listen geregelter Pflanzen gelten.", "GB"),
		key("timezone", of(Zone), "IANA name.", "Zeitzone nach IANA.", "Europe/London"),
		key("made-for", of(Date), "The day at which a journal that is closed, or only shown, is held; the pages say so.", "Der Tag, auf dem ein abgeschlossenes oder nur gezeigtes Journal stehen bleibt; die Seiten sagen es.", "2026-11-25"),
		key("requests", of(Requests), "Email or web address for requests; {lot} and {plant} are filled in.", "Mail- oder Webadresse für Anfragen; {lot} und {plant} werden eingesetzt.", "mailto:bench@example.org?subject={lot}"),
		key("look", of(Folder), "A folder of the journal with templates and styles of its own.", "Ein Ordner des Journals mit eigenen Vorlagen und Stilen.", "look-of-mine"),
		key("trim-when", part("trim-when"), "The size at which the grower trims, where a plant or tank says nothing else.", "Die Größe, bei der geschnitten wird, wenn Pflanze oder Becken nichts anderes sagen.", nil),
		key("sheet", part("journal.sheet"), "Settings for every care sheet.", "Einstellungen für alle Pflegeblätter.", nil),
		key("friends", listOf(part("friend")), "Other growers whose offers are gathered.", "Andere, deren Angebote gesammelt werden.", nil),
		key("hold-for", amount(q.SpanKind), "How long plants stay reserved; default 14 d.", "Wie lange Pflanzen reserviert bleiben; sonst 14 d.", "14 d"),
		key("post", part("journal.post"), "When and at whose cost plants are posted.", "Wann und auf wessen Kosten Pflanzen verschickt werden.", nil),
		key("who-gets", word("best-match", "first-come"), "Who gets the plants if there are too few.", "Wer die Pflanzen bekommt, wenn es zu wenige sind.", "best-match"),
		key("tankside", part("tankside"), "Adds a page that nothing links to, which writes entries without a network: {} is enough.", "Fügt eine nirgends verlinkte Seite hinzu, die Einträge ohne Netz schreibt: {} genügt.", nil),
		key("erase-names-after", amount(q.SpanKind), "How long names and addresses of recipients are kept; default 180 d.", "Wie lange Namen und Adressen der Empfänger bleiben; sonst 180 d.", "180 d"),
	}}, {Name: "journal.sheet", Task: Begin, Help: Help{"Settings for every care sheet.", "Einstellungen für alle Pflegeblätter."}, Keys: []Key{
		key("quarantine", amount(q.SpanKind), "How long new plants are kept apart from other tanks.", "Wie lange neue Pflanzen von anderen Becken getrennt bleiben.", "14 d"),
	}}, {Name: "journal.post", Task: Begin, Help: Help{"Posting.", "Versand."}, Keys: []Key{
		key("months", listOf(whole(1, 12)), "Months in which plants are posted, 1 to 12.", "Monate, in denen verschickt wird, 1 bis 12.", []int{3, 4, 5}),
		key("pays", word("recipient", "grower"), "Who pays the postage.", "Wer das Porto zahlt.", "recipient"),
	}}, {Name: "tankside", Task: Begin, Help: Help{"The page that writes entries without a network.", "Die Seite, die Einträge ohne Netz schreibt."}, Keys: []Key{
		key("new-file", of(NewFile), "The repository's page for a new file; {path} and {text} are filled in.", "Die Seite des Repositorys für eine neue Datei; {path} und {text} werden eingesetzt.", "https://git.example/me/bench/new/main?filename={path}&value={text}"),
	}}, {Name: "friend", Task: Begin, Help: Help{"A grower whose offers are gathered.", "Jemand, dessen Angebote gesammelt werden."}, Needs: []string{"name", "offers"}, Keys: []Key{
		key("name", of(Line), "What the site calls them.", "Wie die Seite sie nennt.", "Marsh Lane"),
		key("offers", of(Address), "Address of their offers.json.", "Adresse ihrer offers.json.", "https://marsh.example/offers.json"),
	}}, {Name: "trim-when", Task: Begin, Help: Help{"The size at which a plant is trimmed.", "Die Größe, bei der eine Pflanze geschnitten wird."}, Keys: []Key{
		key("stem-length", amount(q.LengthKind), "Length of the stems.", "Länge der Stängel.", "24 cm"),
		key("total-length", amount(q.LengthKind), "Length of all stems together.", "Länge aller Stängel zusammen.", "400 cm"),
		key("cover", amount(q.ShareKind), "Share of its area that it covers.", "Anteil der Fläche, den sie bedeckt.", "80 %"),
		key("leaves", whole(1, Most), "Number of leaves.", "Zahl der Blätter.", 60),
		key("plantlets", whole(1, Most), "Number of plantlets.", "Zahl der Jungpflanzen.", 40),
		key("stems", whole(1, Most), "Number of stems.", "Zahl der Stängel.", 30),
		key("mass", amount(q.MassKind), "Fresh mass, blotted.", "Frischmasse, abgetupft.", "200 g"),
	}}}
}

func plantMappings() []Mapping {
	return []Mapping{{Name: "plant", Task: OwnPlant, Help: Help{"The head of a file under plants/: the grower's own words and figures on a plant.", "Der Kopf einer Datei unter plants/: eigene Worte und Werte zu einer Pflanze."}, Keys: []Key{
		key("taxon", of(Line), "The scientific name, where the file's name is not it.", "Der wissenschaftliche Name, wenn die Datei anders heißt.", "Anubias barteri"),
		key("common", of(Line), "The plain name.", "Der gebräuchliche Name.", "anubias"),
		key("withhold", of(Truth), "Never offered.", "Wird nie angeboten.", true),
		key("trim-when", part("trim-when"), "The size at which it is trimmed.", "Die Größe, bei der sie geschnitten wird.", nil),
		key("profile", part("profile"), "Figures that replace the almanac's.", "Werte, die die des Almanachs ersetzen.", nil),
		key("photos", listOf(part("photo")), "Pictures of the plant.", "Bilder der Pflanze.", nil),
	}}, {Name: "profile", Task: OwnPlant, Help: Help{"The grower's own ranges for the species.", "Eigene Bereiche für die Art."}, Keys: []Key{
		key("temperature", amount(q.TemperatureKind), "Temperature range it lives in.", "Temperaturbereich, in dem sie lebt.", "20..28 C"),
		key("ph", amount(q.PHKind), "pH range it lives in.", "pH-Bereich, in dem sie lebt.", "5.5..7.5"),
		key("gh", amount(q.HardnessKind), "Range of general hardness.", "Bereich der Gesamthärte.", "1..15 dGH"),
		key("kh", amount(q.AlkalinityKind), "Range of carbonate hardness.", "Bereich der Karbonathärte.", "0..12 dKH"),
		key("light", amount(q.PhotonFluxKind), "Light range it tolerates (PAR).", "Lichtbereich, den sie verträgt (PAR).", "25..200 umol/m2/s"),
		key("light-good", amount(q.PhotonFluxKind), "Good light level (PAR).", "Gutes Licht (PAR).", "60 umol/m2/s"),
		key("co2", word("none", "helps", "needed"), "Whether it needs CO2.", "Ob sie CO2-Düngung braucht.", "helps"),
		key("height", amount(q.LengthKind), "How high it grows.", "Wie hoch sie wird.", "20..40 cm"),
		key("spread", amount(q.LengthKind), "How wide one plant grows.", "Wie breit eine Pflanze wird.", "8..12 cm"),
		key("spacing", amount(q.LengthKind), "Distance when planting.", "Abstand beim Pflanzen.", "4 cm"),
		key("growth", word("slow", "medium", "fast", "very-fast"), "How fast it grows.", "Wie schnell sie wächst.", "fast"),
		key("melts", whole(0, 3), "0 none to 3 all.", "0 gar nicht bis 3 alles: wie viel sie nach dem Umsetzen abwirft.", 1),
		key("feeding", word("water", "root", "both"), "Where it takes its nutrients.", "Woher sie ihre Nährstoffe nimmt.", "both"),
		key("placement", word("back", "middle", "front", "hardscape", "surface"), "Its usual place.", "Ihr üblicher Platz.", "back"),
		key("habit", word("stem", "rosette", "rhizome", "carpet", "floating", "moss", "bulb", "fern"), "How it grows.", "Wuchsform.", "stem"),
		key("propagation", of(Text), "How it is multiplied.", "Wie sie vermehrt wird.", "cuttings"),
		key("weediness", whole(0, 3), "0 none to 3 escapes readily.", "0 gar nicht bis 3 verwildert leicht.", 1),
	}}, {Name: "page", Task: OwnPage, Help: Help{"The head of a file under pages/.", "Der Kopf einer Datei unter pages/."}, Keys: []Key{
		key("title", of(Line), "The page's title.", "Der Titel der Seite.", "How to ask"),
		key("order", whole(-1000, 1000), "Place in the navigation; the lowest comes first.", "Platz in der Navigation; das Kleinste kommt zuerst.", 1),
		key("photos", listOf(part("photo")), "Pictures of the page.", "Bilder der Seite.", nil),
	}}}
}
