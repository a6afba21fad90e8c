package schema

import "slipleaf/build/format"

// published are the kinds of files that a site publishes for machines.
var published = []string{"growth", "offers", "sheet"}

// Limits of what is read from a friend, so that a hostile file is refused before it is shown.
const (
	longText  = 2000
	shortText = 200
)

func short() members {
	return members{{"type", "string"}, {"minLength", 1}, {"maxLength", shortText}}
}
func long() members { return members{{"type", "string"}, {"maxLength", longText}} }

func names() members { return members{{"type", "array"}, {"items", short()}, {"maxItems", 50}} }

// wordsOf are the words of a key of a head.
func wordsOf(mapping, name string) value {
	m, _ := format.Find(mapping)
	k, _ := m.Key(name)
	return choice(k.Is.Words...)
}

// link is an address that may be followed: http, https or mailto.
func link() members {
	return members{{"type", "string"}, {"maxLength", longText}, {"pattern", `^(https?://|mailto:)[^ <>"]+$`}}
}

func atMost(n int, v value) value {
	return func() members { return append(listOf(v)(), member{"maxItems", n}) }
}

var (
	natural = whole(0, format.Most)
	unknown = key{"unknown", "What is not known.", names, nil}
	level   = key{"level", "Level of the interval; default 0.8.", between(0, 1), nil}
)

// filed is an object of a published file: it may hold more in a later version.
func filed(name, about string, needs []string, keys ...key) mapping {
	return mapping{name: name, about: about, needs: needs, open: true, keys: keys}
}

func publishedObjects() []mapping {
	all := []mapping{
		filed("quantity", "A quantity: a value or an interval, with its unit.", nil,
			key{"value", "", figure, nil}, key{"unit", "", short, nil}, key{"low", "", figure, nil}, key{"high", "", figure, nil}, level,
			key{"below-limit", "The value is the limit of the test: it was less.", truth, nil}, key{"n", "Observations behind it.", natural, nil}, key{"weeks", "Weeks behind it.", figure, nil}, unknown),
		filed("elsewhere", "How the species has done for recipients.", nil,
			key{"sent", "", natural, nil}, key{"results", "", natural, nil}, key{"established", "", part("quantity"), nil},
			key{"water", "Their kind of water.", short, nil}, unknown),
	}
	all = append(all, growthObjects()...)
	all = append(all, offersObjects()...)
	return append(all, sheetObjects()...)
}

func growthObjects() []mapping {
	quantity := part("quantity")
	return []mapping{
		filed("growth", "growth.json of a plant: its series in every tank.", []string{"plant", "as-of", "tanks"},
			key{"plant", "", shaped(plantName), nil}, key{"as-of", "", day, nil}, key{"tanks", "", listOf(part("growth.series")), nil},
			key{"elsewhere", "", part("elsewhere"), nil}, unknown),
		filed("growth.series", "A plant in a tank.", []string{"tank", "measure", "unit", "points"},
			key{"tank", "", shaped(plantName), nil}, key{"measure", "", choice("mass", "stem-length", "plantlets", "leaves", "cover", "stems"), nil},
			key{"unit", "", long, nil}, key{"points", "", listOf(part("growth.point")), nil}, key{"growth", "", part("growth.model"), nil},
			key{"diary", "", part("growth.diary"), nil}, key{"next-trim", "", part("growth.trim"), nil}, key{"yield", "", quantity, nil}, unknown),
		filed("growth.point", "What the diary says of a day.", []string{"date", "size", "event"},
			key{"date", "", day, nil}, key{"size", "For all but a count, the signed change.", figure, nil},
			key{"event", "", choice("count", "trim", "planting", "loss"), nil}),
		filed("growth.model", "Growth between cuts.", []string{"model", "segments", "n", "rgr-per-day"},
			key{"model", "", choice("log-linear", "logistic"), nil}, key{"segments", "", natural, nil}, key{"n", "", natural, nil},
			key{"rgr-per-day", "", quantity, nil}, key{"doubling-time", "", quantity, nil}, key{"holds", "", quantity, nil}, unknown),
		filed("growth.diary", "Growth with counting error separated out.", []string{"n", "rgr-per-day", "count-error", "unevenness"},
			key{"n", "", natural, nil}, key{"rgr-per-day", "", quantity, nil}, key{"doubling-time", "", quantity, nil},
			key{"count-error", "", quantity, nil}, key{"unevenness", "", quantity, nil}, key{"size-today", "", quantity, nil},
			key{"average-rgr-per-day", "Where the rate may wander: that of the whole diary, taken as the same all the time.", quantity, nil}, key{"ceiling", "The largest size that there can be: the ground of a cover.", quantity, nil}, unknown),
		filed("growth.trim", "When it can be cut next.", []string{"date", "low", "level"},
			key{"date", "", day, nil}, key{"low", "", day, nil}, key{"high", "", day, nil}, level, unknown),
	}
}

// MaxOffers is how many offers of one journal are read.
const MaxOffers = 1000

func offersObjects() []mapping {
	tolerance := part("tolerance")
	return []mapping{
		filed("offers", "offers.json: what a journal gives away.", []string{"journal", "as-of", "offers"},
			key{"journal", "", part("offers.journal"), nil}, key{"as-of", "", day, nil}, key{"offers", "", atMost(MaxOffers, part("offer")), nil}),
		filed("offers.journal", "Whose offers they are.", []string{"title"},
			key{"title", "", short, nil}, key{"grower", "", long, nil}, key{"address", "", link, nil}),
		filed("offer", "One lot.", []string{"lot", "plant", "taxon", "state"},
			key{"lot", "", shaped(lotName), nil}, key{"plant", "", shaped(`^[a-z0-9-]{1,100}$`), nil}, key{"taxon", "", short, nil},
			key{"form", "", wordsOf("lot", "form"), nil},
			key{"count", "", natural, nil}, key{"reserved", "", natural, nil}, key{"left", "", natural, nil},
			key{"state", "", choice("ready", "coming", "gone"), nil}, key{"ready", "", day, nil}, key{"window", "", part("window"), nil},
			key{"needs", "", part("needs"), nil}, key{"elsewhere", "", part("elsewhere"), nil},
			key{"grown-from", "The lot of another journal that it was grown from.", link, nil},
			key{"request", "Where to ask for it.", link, nil}, key{"page", "", link, nil}, unknown),
		filed("window", "The days of a forecast.", []string{"low", "high"}, key{"low", "", day, nil}, key{"high", "", day, nil}, level),
		filed("needs", "What the species lives in.", nil,
			key{"temperature", "", tolerance, nil}, key{"ph", "", tolerance, nil}, key{"gh", "", tolerance, nil}, key{"kh", "", tolerance, nil},
			key{"light", "", tolerance, nil}, key{"co2", "", wordsOf("profile", "co2"), nil},
			key{"place", "", wordsOf("profile", "placement"), nil}, unknown),
		filed("tolerance", "A range.", []string{"low", "high"},
			key{"value", "", figure, nil}, key{"low", "", figure, nil}, key{"high", "", figure, nil}, key{"unit", "", short, nil}),
	}
}
