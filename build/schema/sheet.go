package schema

func sheetObjects() []mapping {
	quantity, working, source := part("quantity"), key{"working", "", listOf(long), nil}, key{"source", "", long, nil}
	amounts := mapOf(`^[a-z0-9-]+$`, quantity)
	parameter := choice("temperature", "ph", "gh", "kh", "light", "co2")
	quantities := func(names ...string) (keys []key) {
		for _, n := range names {
			keys = append(keys, key{n, "", quantity, nil})
		}
		return keys
	}
	object := func(name, about string, needs []string, first []key, more ...key) mapping {
		return filed(name, about, needs, append(first, more...)...)
	}
	return []mapping{
		object("sheet", "sheet.json: one plant sent, for its recipient.", []string{"code", "plant", "taxon", "lot", "count", "fit", "plan", "dates", "notices", "unknown"}, []key{
			{"code", "", long, nil}, {"plant", "", shaped(plantName), nil}, {"taxon", "", short, nil}, {"lot", "", shaped(lotName), nil},
			{"count", "", natural, nil}, {"sent", "", day, nil}, {"reserved", "", day, nil}, {"from-tank", "", part("sheet.from"), nil},
			{"fit", "", part("sheet.fit"), nil}, {"step", "", part("sheet.step"), nil}, {"melt", "", part("sheet.melt"), nil},
			{"light", "", part("sheet.light"), nil}, {"plan", "", part("sheet.plan"), nil}, {"volume", "", quantity, nil},
			{"doses", "", listOf(part("sheet.dose")), nil}, {"blend", "", part("sheet.blend"), nil}, {"co2", "", part("sheet.co2"), nil},
			{"root-tabs", "", part("sheet.tabs"), nil}, {"light-hours", "", listOf(part("sheet.hours")), nil}, {"quarantine", "", quantity, nil},
			{"elsewhere", "", part("elsewhere"), nil}, {"dates", "", listOf(part("sheet.date")), nil},
			{"notices", "", listOf(part("sheet.notice")), nil}, {"others", "The other plants of the parcel.", listOf(part("sheet")), nil}, unknown}),
		object("sheet.from", "The giver's tank on the sending day.", []string{"tank", "water"}, quantities("light"),
			key{"tank", "", long, nil}, key{"on", "", day, nil}, key{"water", "", amounts, nil}, key{"co2", "", choice("injected", "none"), nil}),
		object("sheet.fit", "The verdict.", []string{"summary", "verdicts"}, []key{
			{"summary", "", choice("good-match", "one-change", "poor-match", "cannot-say"), nil}, {"change", "", short, nil},
			{"brackish", "", truth, nil}, {"verdicts", "", listOf(part("sheet.verdict")), nil}}),
		object("sheet.verdict", "The verdict on one parameter.", []string{"parameter", "verdict"}, quantities("by"),
			key{"parameter", "", parameter, nil}, key{"tolerance", "", part("tolerance"), nil}, key{"need", "", wordsOf("profile", "co2"), nil},
			key{"value", "As the recipient gave it; of CO2, a word.", valueOrWord, nil}, key{"verdict", "", choice("well-inside", "near-edge", "outside", "not-known"), nil},
			key{"counts", "", truth, nil}, key{"step", "", long, nil}, working),
		object("sheet.step", "The change from the giver's water.", []string{"class"}, []key{
			{"class", "", short, nil}, {"raised", "", truth, nil}, {"light-ratio", "", figure, nil}, {"parts", "", listOf(part("sheet.part")), nil}}),
		object("sheet.part", "The change of one parameter.", []string{"parameter", "class"}, quantities("change"),
			key{"parameter", "", parameter, nil}, key{"class", "", short, nil}),
		object("sheet.melt", "What to expect of the old leaves.", []string{"level"}, quantities("judge-not-before"), key{"level", "0 none to 3 all.", whole(0, 3), nil}),
		object("sheet.light", "Light by depth.", nil, quantities("surface", "mid", "bottom", "dli"), key{"measured", "", truth, nil}, working),
		object("sheet.plan", "Where, how many and when to cut.", nil, quantities("depth", "spacing", "area", "floor"),
			key{"place", "", short, nil}, key{"light-at", "", short, nil}, key{"number", "", natural, nil}, key{"first-trim", "", part("sheet.trim"), nil}),
		object("sheet.trim", "The window of the first cut.", nil, quantities("days", "rgr-per-day"), key{"low", "", day, nil}, key{"high", "", day, nil},
			key{"open", "It may take longer.", truth, nil}, key{"rate-assumed", "", truth, nil}, working),
		object("sheet.dose", "A salt.", []string{"salt", "mass", "raises"}, quantities("mass", "volume", "daily", "per-10-L-of-new-water"),
			key{"salt", "", short, nil}, key{"days", "", natural, nil}, key{"raises", "", amounts, nil}, working, source),
		object("sheet.blend", "Mixing with soft water.", nil, quantities("want", "soft", "tap", "each"), key{"changes", "Of each, one a day.", natural, nil}, working, source),
		object("sheet.co2", "The target where gas is injected.", nil, quantities("target-ph", "level", "now"), key{"do", "", choice("keep", "less", "more", "aim", "measure"), nil}, working, source, unknown),
		object("sheet.tabs", "Root food.", []string{"number"}, nil, key{"number", "", natural, nil}, key{"first", "", day, nil}, key{"again", "", day, nil},
			key{"substrate-not-known", "", truth, nil}),
		object("sheet.hours", "Hours of light from a day on.", []string{"day", "hours"}, quantities("hours"), key{"day", "", natural, nil}, key{"date", "", day, nil}),
		object("sheet.date", "A check day.", []string{"day", "what", "normal", "alarm"}, nil, key{"day", "", natural, nil}, key{"date", "", day, nil},
			key{"what", "", long, nil}, key{"normal", "", long, nil}, key{"alarm", "", long, nil}, key{"report", "", listOf(long), nil}),
		object("sheet.notice", "A caution, or a row of a list.", []string{"kind", "text"}, nil, key{"kind", "", short, nil}, key{"text", "", long, nil}, source),
	}
}

// valueOrWord is a quantity, or a word such as yes.
func valueOrWord() members {
	return members{{"anyOf", []members{part("quantity")(), short()}}}
}
