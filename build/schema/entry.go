package schema

import q "slipleaf/build/quantity"

// sizes are the measures of a count, planting or loss.
func sizes() []key {
	return []key{
		{"stems", "Number of stems.", whole(0, most), 24},
		{"plantlets", "Number of plantlets.", whole(0, most), 6},
		{"leaves", "Number of leaves.", whole(0, most), 41},
		{"length", "Of one stem, on average.", amount[q.Length](), "31 cm"},
		{"cover", "Share of area that it covers.", amount[q.Share](), "35 %"},
		{"mass", "Fresh mass, blotted.", amount[q.Mass](), "120 g"},
		{"area", "Area it covers.", amount[q.Area](), "6 dm2"},
	}
}

// measured are the keys of which a count, planting or loss needs one.
var measured = []string{"stems", "plantlets", "leaves", "cover", "mass"}

var plantKey = key{"plant", "Its id: the scientific name in lower case with hyphens, or a file under plants/.", shaped(plantName), "heteranthera-zosterifolia"}

// sized is an object about an amount of a plant, with more keys behind its measures.
func sized(name, about string, more ...key) mapping {
	return mapping{name: name, about: about, needs: []string{"plant"}, any: measured, keys: append(append([]key{plantKey}, sizes()...), more...)}
}

func entryObjects() []mapping {
	where := key{"where", "Where it stands.", part("where"), nil}
	return []mapping{{name: "entry", about: "The head of a diary entry.", keys: []key{
		{"title", "", text, "First real harvest"},
		{"parameters", "What was measured today.", part("parameters"), nil},
		{"counts", "Plants in the tank today, before any trim below.", listOf(part("count")), nil},
		{"plantings", "Plants put in.", listOf(part("planting")), nil},
		{"trims", "Plants cut or taken out.", listOf(part("trim")), nil},
		{"losses", "Plants that died.", listOf(part("loss")), nil},
		{"doses", "Salts put in.", listOf(part("dose")), nil},
		{"water-change", "The water that was changed.", part("water-change"), nil},
		{"lots", "Plants to give away.", listOf(part("lot")), nil},
		{"photos", "Pictures of the day.", listOf(part("photo")), nil},
		{"private", "For the grower's eyes: never published.", private, map[string]string{"note": "ask the neighbour"}},
	}},
		sized("count", "How much of a plant is in the tank today.", where, key{"by", "Who counted, where more than one person does: what each counts too high or too low is taken out. Never published.", text, "ada"}),
		sized("planting", "Plants put in.", key{"from", "Where they came from.", text, "gift"}, where),
		loss(),
		{name: "where", about: "Where a plant stands.", keys: []key{
			{"along", "Along the front glass, from its left.", amount[q.Length](), "20..55 cm"},
			{"row", "", choice("front", "middle", "back"), "back"},
		}},
		{name: "trim", about: "Plants cut or taken out.", needs: []string{"plant"}, any: []string{"cuttings", "removed"}, keys: []key{plantKey,
			{"cuttings", "How many cuttings it gave.", whole(0, most), 18},
			{"length", "Length of a cutting.", amount[q.Length](), "12 cm"},
			{"replanted", "How many of them went back in.", whole(0, most), 6},
			{"removed", "Amount taken out, in the measure the plant is counted by.", removed, "6 plantlets"},
		}},
		{name: "dose", about: "A salt put in.", needs: []string{"salt", "mass"}, keys: []key{
			{"salt", "", text, "magnesium sulfate heptahydrate"},
			{"mass", "", amount[q.Mass](), "4 g"},
		}},
		{name: "water-change", about: "The water that was changed.", keys: []key{
			{"share", "", amount[q.Share](), "30 %"},
			{"with", "What went in.", text, "tap"},
		}},
		{name: "lot", about: "Plants to give away.", needs: []string{"lot", "plant"}, any: []string{"count", "expected"}, keys: lotKeys()}}
}

// loss is plants that died: an amount of a plant in the tank, or a count of a lot's stock.
func loss() mapping {
	o := sized("loss", "Plants that died: of a plant in the tank, or else of a lot's stock.",
		key{"lot", "The lot whose stock died before it was sent, with count, in place of a plant and its measures.", shaped(lotName), "HZ-0418"},
		key{"count", "How many of the lot.", whole(1, most), 3},
		key{"cause", "", text, "melt"})
	o.needs, o.any, o.pair = nil, nil, []string{"lot", "count"}
	for _, m := range measured {
		o.any = append(o.any, "plant "+m)
	}
	o.any = append(o.any, "lot count")
	return o
}

func lotKeys() []key {
	return []key{
		{"lot", "Its name: letters, digits and hyphens, at most 40.", shaped(lotName), "HZ-0418"}, plantKey,
		{"form", "", choice("cuttings", "plantlets", "divisions", "portions", "seeds"), "cuttings"},
		{"count", "How many there are; absent while expected.", whole(1, most), 12},
		{"expected", "Not there yet: the forecast gives the day.", yes, false},
		{"ready", "The day from which they can be given.", day, "2026-04-20"},
		{"pests", "Pests that may come with it.", text, "bladder snails"},
		{"received-as", "The name under which the stock came.", text, "stargrass"},
		{"identity", "How certain the name is.", choice("certain", "likely", "unsure"), "likely"},
		{"grown", "", choice("submersed", "emersed", "culture", "mixed"), "submersed"},
		{"submersed-for", "How long it has grown under water.", amount[q.Span](), "8 wk"},
		{"length", "Of a plant of the lot.", amount[q.Length](), "12 cm"},
		{"rooted", "", yes, true},
		{"dips", "What was done against pests.", text, "none"},
		{"copper", "When copper was last used.", text, "2026-01"},
		{"grown-from", "The lot of another journal that its stock came from, as its page of offers names it.", shaped(httpAddress), "https://reed.example/offers/#lot-hz-0418"},
	}
}
