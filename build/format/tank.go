package format

import q "slipleaf/build/quantity"

func tankMappings() []Mapping {
	return []Mapping{{Name: "tank", Task: Tank, Help: Help{"The head of tank.md.", "Der Kopf von tank.md."}, Keys: []Key{
		key("name", of(Line), "What the grower calls it.", "Wie du es nennst.", "The trough"),
		key("formerly", listOf(of(TankName)), "What its folder was called before: pages there lead here.", "Wie sein Ordner früher hieß: Seiten dort führen hierher.", []string{"kitchen"}),
		key("began", of(Date), "The day it was set up.", "Der Tag, an dem es eingerichtet wurde.", "2026-01-10"),
		key("ended", of(Date), "The day it was taken down.", "Der Tag, an dem es aufgelöst wurde.", "2027-03-01"),
		key("inside", part("inside"), "Inside dimensions of the glass.", "Innenmaße des Glases.", nil),
		key("water-depth", amount(q.LengthKind), "From the surface to the substrate.", "Von der Oberfläche bis zum Bodengrund.", "22 cm"),
		key("substrate", listOf(part("layer")), "Layers, bottom first.", "Schichten des Bodengrunds, die unterste zuerst.", nil),
		key("light", listOf(part("lamp")), "Lights, one for each lamp.", "Lampen, jede für sich.", nil),
		key("co2", part("co2"), "Whether CO2 is injected.", "Ob mit CO2 gedüngt wird.", nil),
		key("flow", part("flow"), "Filter or pump.", "Filter oder Pumpe.", nil),
		key("livestock", listOf(part("livestock")), "Animals.", "Besatz.", nil),
		key("tap", part("parameters"), "The tap's water.", "Das Leitungswasser.", nil),
		key("target", part("parameters"), "Target water values.", "Angestrebte Wasserwerte.", nil),
		key("grown", word("submersed", "emersed"), "submersed (the default) or emersed.", "submersed (sonst angenommen) oder emersed: unter oder über Wasser.", "submersed"),
		key("trim-when", Value{Kind: Part, Part: "trim-when", ByPlant: true}, "The size at which each plant is trimmed in this tank.", "Die Größe, bei der jede Pflanze in diesem Becken geschnitten wird.", nil),
		key("private", of(Private), "For the grower's eyes: never published.", "Nur für dich: wird nie veröffentlicht.", map[string]string{"note": "bought second-hand"}),
	}}, {Name: "inside", Task: Tank, Help: Help{"Inside dimensions.", "Innenmaße."}, Keys: []Key{
		key("length", amount(q.LengthKind), "Along the front glass.", "Entlang der Frontscheibe.", "118 cm"),
		key("width", amount(q.LengthKind), "From front to back.", "Von vorn nach hinten.", "44 cm"),
		key("height", amount(q.LengthKind), "Inside, from the bottom glass to the rim.", "Innen, von der Bodenscheibe bis zum Rand.", "29 cm"),
	}}, {Name: "layer", Task: Tank, Help: Help{"A layer of substrate.", "Eine Schicht des Bodengrunds."}, Keys: []Key{
		key("material", of(Line), "What it is.", "Was es ist.", "fine sand"),
		key("depth", amount(q.LengthKind), "How thick the layer is.", "Wie dick die Schicht ist.", "3 cm"),
		key("nutrients", word("none", "some", "rich"), "What roots find in it.", "Was Wurzeln darin finden.", "none"),
	}}, {Name: "lamp", Task: Tank, Help: Help{"A lamp: watts with an efficacy, or lumens with a kind.", "Eine Lampe: Watt mit Photonenausbeute, oder Lumen mit der Art der Lampe."}, Keys: []Key{
		key("name", of(Line), "What the grower calls it.", "Wie du sie nennst.", "pendant"),
		key("power", amount(q.PowerKind), "Power draw.", "Aufgenommene Leistung.", "45 W"),
		key("efficacy", amount(q.EfficacyKind), "Photons per joule.", "Photonen je Joule.", "2.3 umol/J"),
		key("output", amount(q.LuminousFluxKind), "Its lumens; kind must be given too.", "Lumen; dazu gehört die Art der Lampe.", "1400 lm"),
		key("kind", of(Line), "Kind of lamp, needed to turn lumens into PAR.", "Art der Lampe, um Lumen in PAR umzurechnen.", "white led"),
		key("length", amount(q.LengthKind), "Of the lit part.", "Länge dessen, was leuchtet.", "90 cm"),
		key("width", amount(q.LengthKind), "Of the lit part.", "Breite dessen, was leuchtet.", "12 cm"),
		key("above-water", orNothing(amount(q.LengthKind)), "From the surface to the lamp.", "Von der Wasseroberfläche bis zur Lampe.", "15 cm"),
		key("hours", of(Hours), "Hours a day, without a unit.", "Stunden am Tag, ohne Einheit.", 9),
		key("dimmed-to", amount(q.ShareKind), "Dimmer setting.", "Stellung des Dimmers.", "80 %"),
	}}, {Name: "co2", Task: Tank, Help: Help{"Carbon dioxide.", "Kohlendioxid."}, Keys: []Key{
		key("injected", of(Truth), "Whether CO2 is injected.", "Ob mit CO2 gedüngt wird.", true),
	}}, {Name: "flow", Task: Tank, Help: Help{"Filter or pump.", "Filter oder Pumpe."}, Keys: []Key{
		key("rate", amount(q.FlowKind), "What it moves.", "Was sie umwälzt.", "400 L/h"),
		key("device", of(Line), "What it is.", "Was es ist.", "small internal pump"),
	}}, {Name: "livestock", Task: Tank, Help: Help{"Animals of one kind.", "Tiere einer Art."}, Keys: []Key{
		key("kind", of(Line), "What they are.", "Was es für Tiere sind.", "dwarf shrimp"),
		key("count", whole(0, Most), "How many.", "Wie viele.", 60),
	}}}
}

func parameterKeys() []Key {
	keys := []Key{
		key("temperature", amount(q.TemperatureKind), "Of the water.", "Des Wassers.", "24.6 C"),
		key("ph", amount(q.PHKind), "A number without a unit.", "Eine Zahl ohne Einheit.", 6.7),
		key("gh", amount(q.HardnessKind), "General hardness.", "Gesamthärte.", "6 dGH"),
		key("kh", amount(q.AlkalinityKind), "Carbonate hardness (alkalinity).", "Karbonathärte (Säurebindungsvermögen).", "4 dKH"),
		key("conductivity", amount(q.ConductivityKind), "At 25 °C, as most meters show it.", "Bei 25 °C, wie die meisten Messgeräte sie zeigen.", "310 uS/cm"),
		key("light", amount(q.PhotonFluxKind), "Measured light at the substrate (PAR).", "Gemessenes Licht am Bodengrund (PAR).", "60 umol/m2/s"),
		key("lux", amount(q.IlluminanceKind), "The same, measured in lux.", "Dasselbe, in Lux gemessen.", "3500 lux"),
	}
	for _, p := range []struct{ name, en, de string }{
		{"co2", "Dissolved CO2.", "Gelöstes CO2."},
		{"ammonia", "Ammonia and ammonium together (NH3 + NH4).", "Ammoniak und Ammonium zusammen (NH3 + NH4)."},
		{"nitrite", "As NO2.", "Als NO2."},
		{"nitrate", "As NO3.", "Als NO3."},
		{"phosphate", "As PO4.", "Als PO4."},
		{"potassium", "As K.", "Als K."},
		{"calcium", "As Ca.", "Als Ca."},
		{"magnesium", "As Mg.", "Als Mg."},
		{"iron", "As Fe.", "Als Fe."},
		{"oxygen", "Dissolved oxygen.", "Gelöster Sauerstoff."},
	} {
		keys = append(keys, key(p.name, amount(q.ConcentrationKind), p.en, p.de, "<5 mg/L"))
	}
	return keys
}
