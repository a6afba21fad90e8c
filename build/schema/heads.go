package schema

import (
	q "slipleaf/build/quantity"

	"slipleaf/build/journal"
)

// heads are the kinds of files that a grower writes.
var heads = []string{"journal", "tank", "entry", "plant", "sent", "page"}

// most is the highest count that the reader takes.
const most = 1_000_000

const (
	httpAddress = `^https?://[^ <>"]+$`
	plantName   = `^[a-z0-9-]+$`
	lotName     = `^[0-9A-Za-z]([0-9A-Za-z-]{0,38}[0-9A-Za-z])?$`
	regionCode  = `^[A-Z]{2}(-[A-Z0-9]{1,3})?$`
)

// objects is the table: every mapping of every format, by name.
func objects() map[string]mapping {
	table := map[string]mapping{}
	for _, list := range [][]mapping{journalObjects(), tankObjects(), entryObjects(), plantObjects(), sentObjects(), publishedObjects()} {
		for _, o := range list {
			table[o.name] = o
		}
	}
	return table
}

func journalObjects() []mapping {
	return []mapping{{name: "journal", about: "Settings of the journal. Anything left out is simply not mentioned on the site.", keys: []key{
		{"title", "The site's name.", text, "The Backroom Bench"},
		{"grower", "Shown on the site; need not be a real name.", text, "Wren"},
		{"address", "Where the site will live; feeds, labels and sheets need it.", shaped(httpAddress), "https://bench.example/"},
		{"language", "BCP 47 tag of the language that the journal is written in.", shaped(`^[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*$`), "en"},
		{"units", "How pages print quantities. Any unit may be written in the diary.", choice("metric", "us"), "metric"},
		{"region", "ISO 3166-1, optionally with subdivision: whose lists of regulated plants to heed.", shaped(regionCode), "GB"},
		{"timezone", "IANA name.", shaped(`^(UTC|[A-Z][A-Za-z]+(/[A-Z][A-Za-z0-9_+-]+){1,2})$`), "Europe/London"},
		{"requests", "Email or web address for requests; {lot} and {plant} are filled in.", shaped(`^(mailto:|https://)[^ <>"]+$`), "mailto:bench@example.org?subject={lot}"},
		{"look", "A folder of the journal with templates and styles of its own.", shaped(plantName), "look-of-mine"},
		{"trim-when", "The size at which the grower trims, where a plant or tank says nothing else.", part("trim-when"), nil},
		{"sheet", "Settings for every care sheet.", part("journal.sheet"), nil},
		{"friends", "Other growers whose offers are gathered.", listOf(part("friend")), nil},
		{"hold-for", "How long plants stay reserved; default 14 d.", amount[q.Span](), "14 d"},
		{"post", "When and at whose cost plants are posted.", part("journal.post"), nil},
		{"who-gets", "Who gets the plants if there are too few.", choice("best-match", "first-come"), "best-match"},
		{"erase-names-after", "How long names and addresses of recipients are kept; default 180 d.", amount[q.Span](), "180 d"},
	}}, {name: "journal.sheet", about: "Settings for every care sheet.", keys: []key{
		{"quarantine", "How long new plants are kept apart from other tanks.", amount[q.Span](), "14 d"},
	}}, {name: "journal.post", about: "Posting.", keys: []key{
		{"months", "Months in which plants are posted, 1 to 12.", listOf(whole(1, 12)), []int{3, 4, 5}},
		{"pays", "Who pays the postage.", choice("recipient", "grower"), "recipient"},
	}}, {name: "friend", about: "A grower whose offers are gathered.", needs: []string{"name", "offers"}, keys: []key{
		{"name", "What the site calls them.", text, "Marsh Lane"},
		{"offers", "Address of their offers.json.", shaped(httpAddress), "https://marsh.example/offers.json"},
	}}, {name: "trim-when", about: "The size at which a plant is trimmed.", keys: []key{
		{"stem-length", "Length of the stems.", amount[q.Length](), "24 cm"},
		{"total-length", "Length of all stems together.", amount[q.Length](), "400 cm"},
		{"cover", "Share of its area that it covers.", amount[q.Share](), "80 %"},
		{"leaves", "Number of leaves.", whole(1, most), 60},
		{"plantlets", "Number of plantlets.", whole(1, most), 40},
		{"stems", "Number of stems.", whole(1, most), 30},
		{"mass", "Fresh mass, blotted.", amount[q.Mass](), "200 g"},
	}}, {name: "page", about: "The head of a file under pages/.", keys: []key{
		{"title", "The page's title.", text, "How to ask"},
		{"order", "Place in the navigation; the lowest comes first.", whole(-1000, 1000), 1},
		{"photos", "Pictures of the page.", listOf(part("photo")), nil},
	}}, {name: "photo", about: "A picture under photos/.", needs: []string{"file", "alt"}, keys: []key{
		{"file", "Its name under photos/.", text, "trough-front.jpg"},
		{"alt", "Description for people who can't see the photo.", text, "The trough from the front"},
	}}}
}

func tankObjects() []mapping {
	return []mapping{{name: "tank", about: "The head of tank.md.", keys: []key{
		{"name", "What the grower calls it.", text, "The trough"},
		{"began", "The day it was set up.", day, "2026-01-10"},
		{"ended", "The day it was taken down.", day, "2027-03-01"},
		{"inside", "Inside dimensions of the glass.", part("inside"), nil},
		{"water-depth", "From the surface to the substrate.", amount[q.Length](), "22 cm"},
		{"substrate", "Layers, bottom first.", listOf(part("layer")), nil},
		{"light", "Lights, one for each lamp.", listOf(part("lamp")), nil},
		{"co2", "Whether CO2 is injected.", part("co2"), nil},
		{"flow", "Filter or pump.", part("flow"), nil},
		{"livestock", "Animals.", listOf(part("livestock")), nil},
		{"tap", "The tap's water.", part("parameters"), nil},
		{"target", "Target water values.", part("parameters"), nil},
		{"grown", "submersed (the default) or emersed.", choice("submersed", "emersed"), "submersed"},
		{"trim-when", "The size at which each plant is trimmed in this tank.", mapOf(plantName, part("trim-when")), nil},
		{"private", "For the grower's eyes: never published.", private, map[string]string{"note": "bought second-hand"}},
	}}, {name: "inside", about: "Inside dimensions.", keys: []key{
		{"length", "Along the front glass.", amount[q.Length](), "118 cm"},
		{"width", "From front to back.", amount[q.Length](), "44 cm"},
		{"height", "Inside, from the bottom glass to the rim.", amount[q.Length](), "29 cm"},
	}}, {name: "layer", about: "A layer of substrate.", keys: []key{
		{"material", "What it is.", text, "fine sand"},
		{"depth", "How deep it lies.", amount[q.Length](), "3 cm"},
		{"nutrients", "What roots find in it.", choice("none", "some", "rich"), "none"},
	}}, {name: "lamp", about: "A lamp: watts with an efficacy, or lumens with a kind.", keys: []key{
		{"name", "What the grower calls it.", text, "pendant"},
		{"power", "Power draw.", amount[q.Power](), "45 W"},
		{"efficacy", "Photons per joule.", amount[q.Efficacy](), "2.3 umol/J"},
		{"output", "Its lumens; kind must be given too.", amount[q.LuminousFlux](), "1400 lm"},
		{"kind", "Kind of lamp, needed to turn lumens into PAR.", text, "white led"},
		{"length", "Of the lit part.", amount[q.Length](), "90 cm"},
		{"width", "Of the lit part.", amount[q.Length](), "12 cm"},
		{"above-water", "From the surface to the lamp.", amount[q.Length](), "15 cm"},
		{"hours", "Hours a day, without a unit.", between(0, 24), 9},
		{"dimmed-to", "Dimmer setting.", amount[q.Share](), "80 %"},
	}}, {name: "co2", about: "Carbon dioxide.", keys: []key{{"injected", "Is CO2 injected?", yes, true}}},
		{name: "flow", about: "Filter or pump.", keys: []key{
			{"rate", "What it moves.", amount[q.Flow](), "400 L/h"},
			{"device", "What it is.", text, "small internal pump"},
		}}, {name: "livestock", about: "Animals of one kind.", keys: []key{
			{"kind", "What they are.", text, "dwarf shrimp"},
			{"count", "How many.", whole(0, most), 60},
		}}, {name: "parameters", about: "Measured water, and light at the substrate.", keys: parameterKeys()}}
}

func parameterKeys() []key {
	keys := []key{
		{"temperature", "", amount[q.Temperature](), "24.6 C"},
		{"ph", "A number without a unit.", amount[q.PH](), 6.7},
		{"gh", "General hardness.", amount[q.Hardness](), "6 dGH"},
		{"kh", "Carbonate hardness (alkalinity).", amount[q.Alkalinity](), "4 dKH"},
		{"conductivity", "", amount[q.Conductivity](), "310 uS/cm"},
		{"light", "Measured light at the substrate (PAR).", amount[q.PhotonFlux](), "60 umol/m2/s"},
		{"lux", "The same, measured in lux.", amount[q.Illuminance](), "3500 lux"},
	}
	for _, name := range []string{"co2", "ammonia", "nitrite", "nitrate", "phosphate", "potassium", "calcium", "magnesium", "iron", "oxygen"} {
		keys = append(keys, key{name, "", amount[q.Concentration](), "<5 mg/L"})
	}
	return keys
}

// private is any keys with words: nothing of it is published.
func private() members {
	return members{{"type", "object"}, {"additionalProperties", members{{"type", []string{"string", "number", "boolean"}}}}}
}

func plantObjects() []mapping {
	return []mapping{{name: "plant", about: "The head of a file under plants/: the grower's own words and figures on a plant.", keys: []key{
		{"taxon", "The scientific name, where the file's name is not it.", text, "Anubias barteri"},
		{"common", "The plain name.", text, "anubias"},
		{"withhold", "Never offered.", yes, true},
		{"trim-when", "The size at which it is trimmed.", part("trim-when"), nil},
		{"profile", "Figures that replace the almanac's.", part("profile"), nil},
		{"photos", "Pictures of the plant.", listOf(part("photo")), nil},
	}}, {name: "profile", about: "The grower's own ranges for the species.", keys: []key{
		{"temperature", "", amount[q.Temperature](), "20..28 C"},
		{"ph", "", amount[q.PH](), "5.5..7.5"},
		{"gh", "", amount[q.Hardness](), "1..15 dGH"},
		{"kh", "", amount[q.Alkalinity](), "0..12 dKH"},
		{"light", "Light range it tolerates (PAR).", amount[q.PhotonFlux](), "25..200 umol/m2/s"},
		{"light-good", "Good light level (PAR).", amount[q.PhotonFlux](), "60 umol/m2/s"},
		{"co2", "", choice("none", "helps", "needed"), "helps"},
		{"height", "", amount[q.Length](), "20..40 cm"},
		{"spread", "", amount[q.Length](), "8..12 cm"},
		{"spacing", "", amount[q.Length](), "4 cm"},
		{"growth", "", choice("slow", "medium", "fast", "very-fast"), "fast"},
		{"melts", "0 none to 3 all.", whole(0, 3), 1},
		{"feeding", "", choice("water", "root", "both"), "both"},
		{"placement", "", choice("back", "middle", "front", "hardscape", "surface"), "back"},
		{"habit", "", choice("stem", "rosette", "rhizome", "carpet", "floating", "moss", "bulb", "fern"), "stem"},
		{"propagation", "", text, "cuttings"},
		{"weediness", "0 none to 3 escapes readily.", whole(0, 3), 1},
	}}}
}

func sentObjects() []mapping {
	return []mapping{{name: "sent", about: "The head of a file under sent/: one parcel given away or reserved.",
		any: []string{"lot count asked", "lot count reserved", "lot count sent", "items asked", "items reserved", "items sent"}, keys: []key{
			{"lot", "The lot that it comes out of.", shaped(lotName), "HZ-0418"},
			{"count", "How many plants.", whole(1, most), 6},
			{"items", "Several plants in one parcel, in place of lot and count.", listOf(part("item")), []any{map[string]any{"lot": "HZ-0418", "count": 6}}},
			{"asked", "The day they were asked for.", day, "2026-04-19"},
			{"reserved", "The day they were reserved.", day, "2026-04-20"},
			{"sent", "The day they left; leave it out while only reserved.", day, "2026-04-22"},
			{"cancelled", "The day the reservation was cancelled.", day, "2026-04-24"},
			{"how", "", choice("post", "by-hand"), "post"},
			{"code", "Made by slipleaf send; don't type one.", shaped(`^[0-9abcdefghjkmnpqrstvwxyz]{20,64}$`), "7f3k9m2p4t6w8x0z1b5c7d9qe"},
			{"units", "How the sheet prints.", choice("metric", "us"), "us"},
			{"region", "Where the recipient lives.", shaped(regionCode), "US-OH"},
			{"water", "The recipient's water.", part("parameters"), nil},
			{"tank", "The recipient's tank.", part("recipient"), nil},
			{"reports", "Reports from the recipient.", listOf(part("report")), nil},
			{"grown-from", "Care sheet that came with the parent stock.", shaped(httpAddress), "https://reed.example/sheets/7f3k9m2p4t6w8x0z1b5c7d9qe/"},
			{"erase-names-after", "How long this record's private part is kept.", amount[q.Span](), "90 d"},
			{"private", "Name, address, note: never published.", private, map[string]string{"name": "R. Example"}},
		}}, {name: "recipient", about: "The tank that a parcel goes into, as far as it is known.", keys: []key{
		{"inside", "Inside dimensions of the glass.", part("inside"), nil},
		{"water-depth", "From the surface to the substrate.", amount[q.Length](), "9 in"},
		{"co2", "Whether CO2 is injected.", part("co2"), nil},
		{"light", "Lights, one for each lamp.", listOf(part("lamp")), nil},
		{"substrate", "Layers, bottom first.", listOf(part("layer")), nil},
		{"livestock", "Animals.", listOf(part("livestock")), nil},
		{"floating", "Share of the surface under floating plants.", amount[q.Share](), "20 %"},
	}}, {name: "item", about: "One plant of several in a parcel.", needs: []string{"lot", "count"}, keys: []key{
		{"lot", "The lot that it comes out of.", shaped(lotName), "HZ-0418"},
		{"count", "How many plants.", whole(1, most), 6},
	}}, {name: "report", about: "What a recipient told.", needs: []string{"date", "outcome"}, keys: []key{
		{"date", "", day, "2026-05-01"},
		{"lot", "Which of several plants; left out for all.", shaped(lotName), "HZ-0418"},
		{"outcome", "", choice(journal.Outcomes()...), "lost"},
		{"alive", "How many are alive.", whole(0, most), 4},
		{"cause", "Why they died.", text, "melt"},
		{"days-in-post", "", whole(0, 90), 3},
		{"length", "Of the stems now.", amount[q.Length](), "12 cm"},
		{"water", "Their water now.", part("parameters"), nil},
	}}}
}
