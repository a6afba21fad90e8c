package page_test

import (
	"bytes"
	"context"
	"fmt"
	stdhtml "html"
	"html/template"
	"math"
	"math/rand/v2"
	"net/url"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/page"
	"slipleaf/build/papers"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/themes"
)

// rule is a rule of care sheets. check reports whether it has a say about a sheet, and what is wrong; "" when nothing is.
type sheetRule struct {
	name, basis string
	check       func(sheet.Sheet) (applies bool, fault string)
}

var sheetRules = []sheetRule{
	{"the first hour has four steps at the most", "the first screen of a phone", func(s sheet.Sheet) (bool, string) {
		return true, faultIf(len(s.Tasks) == 0 || len(s.Tasks) > 4, "%v", s.Tasks)
	}},
	{"only a bag of water has bag water, and it goes into a bucket", "common practice", func(s sheet.Sheet) (bool, string) {
		has := slices.Contains(s.Tasks, sheet.BagWater)
		return true, faultIf(has != (s.Packing == sheet.Wet && !s.Forbidden && !s.Melt.Seed && !s.NeverCame), "%s: %v", s.Packing, s.Tasks)
	}},
	{"a slow change starts with water mixed to the giver's figures", "mass balance", func(s sheet.Sheet) (bool, string) {
		if s.Slow == nil || s.Slow.Warm {
			return false, ""
		}
		if s.Slow.Salt != nil {
			return true, faultIf(s.Slow.Soft != 0 || len(s.Slow.Salt.Doses) == 0, "%+v", *s.Slow)
		}
		left := 1 - float64(s.Slow.Soft)
		for p, of := range map[sheet.Parameter][2]float64{
			sheet.GH: {s.From.Water.GH.Mid().DGH(), s.Parcel.Water.GH.Mid().DGH()}, sheet.KH: {s.From.Water.KH.Mid().DKH(), s.Parcel.Water.KH.Mid().DKH()}} {
			if s.Step.Of(p).Class >= sheet.MediumStep && math.Abs(of[1]*left-of[0]) < 0.01 {
				return true, ""
			}
		}
		return true, fmt.Sprintf("%+v", *s.Slow)
	}},
	{"pests that were seen fork the way before anything is planted, and others do not", "common practice", func(s sheet.Sheet) (bool, string) {
		fork, plant := slices.Index(s.Tasks, sheet.PestFork), slices.IndexFunc(s.Tasks, plants)
		want := s.Pests && plant >= 0 && !s.CopperRisk()
		return s.Pests, faultIf(want != (fork >= 0) || want && fork > plant, "pests %q: %v", s.Lot.Pests, s.Tasks)
	}},
	{"copper counts where they keep what dies of it", "Copper kills snails and shrimp at doses that plants survive: common practice", func(s sheet.Sheet) (bool, string) {
		if !s.Copper {
			return false, faultIf(slices.Contains(s.Tasks, sheet.CopperTub), "no copper: %v", s.Tasks)
		}
		plants := slices.ContainsFunc(s.Tasks, plants)
		return true, faultIf(slices.Contains(s.Tasks, sheet.CopperTub) != (s.Animals.Invertebrates && plants), "%v", s.Tasks)
	}},
	{"what would not live there, or may not be kept, is not planted", "kindness", func(s sheet.Sheet) (bool, string) {
		if s.Planted() {
			return false, ""
		}
		return true, faultIf(slices.ContainsFunc(s.Tasks, plants) || len(s.Days) > 0 || !slices.Contains(s.Tasks, sheet.WriteFirst) && !s.Melt.Seed && !s.NeverCame, "%v, %d days", s.Tasks, len(s.Days))
	}},
	{"gas never goes beyond where the tank is", "a target of 15 mg/L under the 20 of guides to fish medicine", func(s sheet.Sheet) (bool, string) {
		if !s.CO2.Injected() || s.CO2.Now.Best == 0 {
			return false, ""
		}
		now := float64(s.CO2.Now.Best)
		more := s.CO2.Gas == sheet.GasMore || s.CO2.Gas == sheet.GasAim
		return true, faultIf(more && now >= 15 || now > 30 && s.CO2.Gas != sheet.GasLess, "%.1f mg/L now: %s", now, s.CO2.Gas)
	}},
	{"what lies within the error of a test is never outside", "1 °C, 1 dGH, 1 dKH, 0.2 pH: common practice; light: the model's own interval and a tenth for a meter", func(s sheet.Sheet) (bool, string) {
		noise := map[sheet.Parameter]float64{sheet.Temperature: 1, sheet.GH: 1, sheet.KH: 1, sheet.PH: 0.2}
		for _, v := range s.Verdicts {
			if v.Outcome != sheet.Outside || v.Parameter == sheet.CO2 {
				continue
			}
			if v.Parameter == sheet.LightAt && 1.1*v.Value.High >= v.Band.Low && v.Value.Low <= 1.1*v.Band.High || math.Abs(v.By) <= noise[v.Parameter] {
				return true, fmt.Sprintf("%s %+v of %+v", v.Parameter, v.Value, v.Band)
			}
		}
		return true, ""
	}},
	{"one change is one that is outside", "the rule of the verdict", func(s sheet.Sheet) (bool, string) {
		if s.Change.Parameter == "" {
			return false, faultIf(s.Summary == sheet.OneChange && !s.Change.Slowly, "no change is named")
		}
		return true, faultIf(s.Verdicts.Of(s.Change.Parameter).Outcome != sheet.Outside, "%+v", s.Change)
	}},
	{"a raise aims a little above the plant's need, in small steps", "1 dGH and 1 dKH a day at the most: common practice", func(s sheet.Sheet) (bool, string) {
		applies := false
		for p, r := range map[sheet.Parameter]*sheet.Raise{sheet.GH: s.Water.GH, sheet.KH: s.Water.KH} {
			if r == nil {
				continue
			}
			applies = true
			low := s.Verdicts.Of(p).Band.Low
			if r.To > low+1+1e-9 || r.To < low || (r.To-r.From)/float64(r.Days) > 1+1e-9 {
				return true, fmt.Sprintf("%s from %v to %v over %d days, needed %v", p, r.From, r.To, r.Days, low)
			}
		}
		return applies, ""
	}},
	{"a change with soft water lowers KH by 1 dKH and GH by 2 dGH at the most", "common practice where animals live", func(s sheet.Sheet) (bool, string) {
		b := s.Water.Blend
		if b == nil {
			return false, ""
		}
		gh, kh := s.Verdicts.Of(sheet.GH).Value, s.Verdicts.Of(sheet.KH).Value
		return true, faultIf(b.Each*gh.High > 2+1e-9 || b.Each*kh.High > 1+1e-9 || b.Each <= 0 || b.Want > s.Verdicts.Of(b.Of).Band.High, "%+v of GH %v and KH %v", *b, gh.High, kh.High)
	}},
	{"a plant of free CO2 does not pass where none is left", "Plummer & Busenberg 1982: 0.3 mg/L is half of what air keeps in water", func(s sheet.Sheet) (bool, string) {
		w := s.Parcel.Water
		if !w.PH.Known() || !w.KH.Known() || s.Species.Bicarbonate || !s.Species.PH.Known() || w.PH.Mid() < 9.4 || w.KH.Mid() > 12*quantity.DKH || w.PH.Mid() <= s.Species.PH.High()+0.2 {
			return false, ""
		}
		return true, faultIf(s.Summary == sheet.GoodMatch, "pH %v with KH %.1f passes", w.PH.Mid(), w.KH.Mid().DKH())
	}},
	{"a plant of bicarbonate may have a high pH", "Maberly & Madsen 2002: bicarbonate users", func(s sheet.Sheet) (bool, string) {
		v := s.Verdicts.Of(sheet.PH)
		if !s.Species.Bicarbonate || v.Outcome != sheet.Outside || v.By < 0 || s.Verdicts.Of(sheet.KH).Outcome == sheet.NotKnown {
			return false, ""
		}
		return true, faultIf(v.Counts, "pH counts")
	}},
	{"salt is held against what the plant was seen alive in", "PSS-78: about 1.9 mS/cm to the g/kg", func(s sheet.Sheet) (bool, string) {
		w := s.Parcel.Water.Conductivity
		if !w.Known() || w.Below() || s.Species.Salt == 0 {
			return false, ""
		}
		us, _ := quantity.In(w.High(), "uS/cm")
		return true, faultIf(s.Brackish && us < 1000*s.Species.Salt, "%v µS/cm for a plant of %v g/kg", us, s.Species.Salt)
	}},
	{"short light is for a plant that loses its CO2 and takes its share of the tank", "common practice", func(s sheet.Sheet) (bool, string) {
		if len(s.Hours) == 0 {
			return false, ""
		}
		return true, faultIf(s.From.CO2 != journal.Yes || s.Parcel.Tank == nil || s.Parcel.Tank.CO2 != journal.No || s.Species.CO2 == "none" || !s.Kind.Rooted(), "%v", s.Hours)
	}},
	{"root tabs: no more than plants, and one to 400 cm² at first", "common practice", func(s sheet.Sheet) (bool, string) {
		if !s.Tabs.Needed {
			return false, ""
		}
		floor := s.Place.Floor == 0 || float64(s.Tabs.Number) <= max(1, float64(s.Place.Floor)/4)
		return true, faultIf(s.Tabs.Number > max(s.Parcel.Count, 1) || !floor, "%d for %d plants on %v dm²", s.Tabs.Number, s.Parcel.Count, s.Place.Floor)
	}},
	{"only what is planted has a depth", "common practice, by kind", func(s sheet.Sheet) (bool, string) {
		buried := s.Place.Depth.Known()
		wet := s.Kind.Set() == sheet.Planted || s.Kind.Set() == sheet.InAir
		return true, faultIf(buried != wet, "%s has the depth %v", s.Kind, s.Place.Depth)
	}},
	{"what clings goes onto wood, what floats onto the water, and neither is tugged at the root", "common practice, by kind", func(s sheet.Sheet) (bool, string) {
		want := map[sheet.Setting]sheet.Spot{sheet.Fixed: sheet.OnHardscape, sheet.Afloat: sheet.OnSurface}[s.Kind.Set()]
		return want != "", faultIf(want != "" && s.Place.Spot != want, "%s goes %s", s.Kind, s.Place.Spot)
	}},
	{"breakers by country", "IEC 60364-4-41 411.3.3; UL 943 class A (from memory)", func(s sheet.Sheet) (bool, string) {
		country, _, _ := strings.Cut(s.Parcel.Region, "-")
		want := map[string]sheet.Breaker{"": sheet.AnyBreaker, "US": sheet.GFCI, "CA": sheet.GFCI, "GB": sheet.RCD, "DE": sheet.RCD, "AU": sheet.RCD, "CH": sheet.RCD, "NL": sheet.RCD}[country]
		return true, faultIf(s.Breaker != want, "%s in %q", s.Breaker, s.Parcel.Region)
	}},
	{"the first trim goes by their hours of light", "growth goes with the light of a day (our choice)", func(s sheet.Sheet) (bool, string) {
		if !s.Trim.Known || s.Light.Hours == 0 || s.From.LightHours == 0 || s.Light.Hours == s.From.LightHours {
			return false, ""
		}
		other := s.Case
		p, tank := *s.Parcel, *s.Parcel.Tank
		tank.Light = slices.Clone(tank.Light)
		tank.Light[0].Hours = s.From.LightHours
		p.Tank, other.Parcel = &tank, &p
		same := sheet.New(other).Trim
		return true, faultIf(s.Light.Hours < s.From.LightHours && s.Trim.Best < same.Best-1e-9, "%v h give %v days, %v h %v", s.Light.Hours, s.Trim.Best, s.From.LightHours, same.Best)
	}},
	{"it is told as planted on the day by which it is in its place", "the first hour's words", func(s sheet.Sheet) (bool, string) {
		wait := s.Waits()
		if !s.Planted() || wait == sheet.AtOnce {
			return false, ""
		}
		for _, d := range s.Days {
			if slices.Contains(d.Report, "planted") {
				first := map[sheet.Wait]int{sheet.InJar: 7, sheet.InWarm: 1, sheet.InBowl: 3, sheet.InTub: 14}[wait]
				return true, faultIf(d.Day != first, "planted on day %d, out of the %s by %d", d.Day, wait, first)
			}
		}
		return true, "it is never planted"
	}},
	{"evidence from three results on", "our choice", func(s sheet.Sheet) (bool, string) {
		f, ok, against := s.Evidence()
		return ok, faultIf(ok && f.Results() < 3 || against && 2*f.Lost < f.Results(), "%+v", f)
	}},
}

func faultIf(yes bool, format string, args ...any) string {
	if yes {
		return fmt.Sprintf(format, args...)
	}
	return ""
}

// textRules hold on what is on the page, in English and German: a pattern that must not stand there, or must, where the
// rule has a say. Both patterns are for lower-case text without tags.
var textRules = []struct {
	name       string
	applies    func(sheet.Sheet) bool
	never, has *regexp.Regexp
	first      bool // within the first screen, before it comes to the tank's figures
}{
	{"no key without words", always, regexp.MustCompile(`\[(sheet|day|form|outcome|parameter|offers)\.|%!|\{\w+\}`), nil, false},
	{"one word on the bag's water: never the sink, the drain or its old water", always, regexp.MustCompile(`\bsink\b|\bdrain\b|old water|ausguss|altes wasser`), nil, false},
	{"what came damp or in a cup has no bag water", func(s sheet.Sheet) bool { return s.Packing != sheet.Wet }, regexp.MustCompile(`bag’s water|tütenwasser`), nil, false},
	{"what is not planted has no words on planting", func(s sheet.Sheet) bool { return !s.Planted() }, regexp.MustCompile(`plant it (\d|, roots)|pflanz sie,? (wurzeln|\d)|your seven days|deine sieben tage|root tab|düngekugel|first trim:|erster schnitt:`), nil, false},
	{"no tub without pests or copper", func(s sheet.Sheet) bool { return !s.Pests && !s.Copper }, regexp.MustCompile(`keep it in a lit tub|hellen wanne`), nil, false},
	{"what never roots is not tugged, and has no roots to plant", func(s sheet.Sheet) bool { return s.Kind.Course() == sheet.LooseCourse || s.Kind.Set() == sheet.Fixed }, regexp.MustCompile(`tug one|vorsichtig an einer ziehen|roots [\d.,–]+\x{a0}?\w* deep|no root, and`), nil, false},
	{"only what has runners or plantlets of its own is cut there", func(s sheet.Sheet) bool {
		return s.Kind.Is(almanac.PlantletRosette, almanac.Stem, almanac.Moss, almanac.FrondPlantlets, almanac.ClingingStem, almanac.FloatingStem)
	}, regexp.MustCompile(`cut the runner|ausläufer (ab|durch)schneiden`), nil, false},
	{"gas and gasping go together", func(s sheet.Sheet) bool { return !s.CO2.Injected() && s.Planted() }, regexp.MustCompile(`gasp|schnappen|suffocate fish`), nil, false},
	{"where gas is added, that it is off at night, and what to do when they gasp", func(s sheet.Sheet) bool { return s.CO2.Injected() && s.Planted() && !s.Melt.Seed }, nil, regexp.MustCompile(`off at night.*gas off, air on|nachts abstellen.*gas aus, luft an`), false},
	{"where gas is added, people can suffocate too", func(s sheet.Sheet) bool { return s.CO2.Injected() }, nil, regexp.MustCompile(`suffocate people|menschen ersticken`), false},
	{"30 mA is not for the United States", func(s sheet.Sheet) bool { return s.Breaker == sheet.GFCI }, regexp.MustCompile(`30\x{a0}? ?ma\b`), regexp.MustCompile(`gfci`), false},
	{"a GFCI is not for Europe", func(s sheet.Sheet) bool { return s.Breaker == sheet.RCD }, regexp.MustCompile(`gfci`), regexp.MustCompile(`30\x{a0}ma`), false},
	{"bleach, cuts, children and release", always, nil, regexp.MustCompile(`(?s)(bleach with an acid or ammonia|bleiche mit säure oder ammoniak)`), false},
	{"never released", always, nil, regexp.MustCompile(`never release|setz sie nie aus`), false},
	{"a poison that the almanac knows is said", func(s sheet.Sheet) bool { return s.Species.Poison.Known() }, nil, regexp.MustCompile(`irritates skin|poisonous|reizt haut|giftig`), false},
	{"a list that is not held is not said to be clean", func(s sheet.Sheet) bool { return !s.OwnList && s.Parcel.Region != "" }, regexp.MustCompile(`on none of|auf keiner der`), regexp.MustCompile(`not held here|liegt hier nicht vor|no list of|keine liste`), false},
	{"a list that was read in part is not said to be clean", func(s sheet.Sheet) bool { return !s.ReadWhole() }, regexp.MustCompile(`not on the lists? looked at|nicht auf der liste|nicht auf den \d+ listen|nicht auf den listen`), nil, false},
	{"the verdict does not pass over that it mostly died", func(s sheet.Sheet) bool { _, _, against := s.Evidence(); return against && s.Planted() }, regexp.MustCompile(`it should live in your tank|sie sollte in deinem becken`), nil, false},
	{"evidence stands beside the verdict", func(s sheet.Sheet) bool { _, ok, _ := s.Evidence(); return ok && !s.Forbidden }, nil, regexp.MustCompile(`\d of \d+ established|\d von \d+ angewachsen`), false},
	{"pH is not called well inside where it is not", func(s sheet.Sheet) bool { return s.Verdicts.Of(sheet.PH).Outcome != sheet.WellInside }, regexp.MustCompile(`ph (is|are) well inside|ph (liegt|liegen) gut`), nil, false},
	{"what is known is not to be measured", func(s sheet.Sheet) bool { return s.NoProfile() }, regexp.MustCompile(`measure temperature|miss temperatur`), nil, false},
	{"pests that were seen are said at once", func(s sheet.Sheet) bool { return slices.Contains(s.Tasks, sheet.PestFork) }, nil, regexp.MustCompile(`seen on it: |gesehen: `), true},
	{"copper is said where it kills", func(s sheet.Sheet) bool { return slices.Contains(s.Tasks, sheet.CopperTub) }, nil, regexp.MustCompile(`copper was used on it|kam mit kupfer in berührung`), false},
	{"a slow change is said with its days", func(s sheet.Sheet) bool { return slices.Contains(s.Tasks, sheet.GoSlowly) }, nil, regexp.MustCompile(`after 2 and 4 days|nach 2 und 4 tagen`), false},
	{"who eats it is said with the verdict", eaten, nil, regexp.MustCompile(`would eat it|würden sie fressen`), true},
	{"what has its leaves in the air is not eaten, and is in no bed under water", func(s sheet.Sheet) bool { return s.Kind.Set() == sheet.InAir }, regexp.MustCompile(`would eat it|würden sie fressen|(eat plants|fressen pflanzen)\.|roots [\d.,–]+\x{a0}?\w* deep|wurzeln [\d.,–]+\x{a0}?\w* tief`), nil, false},
	{"what waits in a jar, a bowl or a tub is not planted on day 0", func(s sheet.Sheet) bool { return s.Planted() && s.Waits() != sheet.AtOnce }, regexp.MustCompile(`count, rinse, (plant|lay in|tie on)|zählen, spülen, (pflanzen|einlegen|festbinden)`), nil, false},
	{"slowly is said where there is a slow way", func(s sheet.Sheet) bool { return s.Slow == nil }, regexp.MustCompile(`bring it over slowly|brought over slowly|langsam umgewöhn`), nil, false},
	{"nothing is called right that is not known", func(s sheet.Sheet) bool { return s.Summary == sheet.CannotSay }, regexp.MustCompile(`nothing needs to be added|nichts muss dazu`), nil, false},
	{"a substrate that is not known is not praised", func(s sheet.Sheet) bool { return s.Misses(sheet.NoSubstrate) }, regexp.MustCompile(`yours will do|deiner genügt`), nil, false},
	{"a light is only worked out where there is a lamp", func(s sheet.Sheet) bool { return s.Parcel.Tank == nil || len(s.Parcel.Tank.Light) == 0 }, regexp.MustCompile(`worked out from your lamp|aus deiner lampe`), nil, false},
	{"with the law against it nobody near them is offered it", func(s sheet.Sheet) bool { return s.Forbidden }, regexp.MustCompile(`somebody near you|jemand in deiner nähe`), nil, false},
	{"what does not suit is written about", func(s sheet.Sheet) bool { return !s.Planted() && !s.Forbidden && !s.NeverCame && !s.Melt.Seed }, nil, regexp.MustCompile(`write: somebody|and write|schreib`), true},
	{"seeds have no first trim and no depth", func(s sheet.Sheet) bool { return s.Melt.Seed }, regexp.MustCompile(`first trim: |erster schnitt: |\d in deep|zoll tief`), nil, false},
	{"seeds have no leaves to lose", func(s sheet.Sheet) bool { return s.Melt.Seed }, regexp.MustCompile(`the old leaves will go|leaves may go|smaller leaves|alten blätter vergehen|verliert (aber )?(vielleicht )?|kleineren blättern`), nil, true},
	{"a single plant is not counted", func(s sheet.Sheet) bool { return s.Parcel.Count == 1 }, regexp.MustCompile(`count them|zähl sie`), nil, false},
	{"the water is scalded, and not what came in it", always, regexp.MustCompile(`scald it all|überbrüh alles`), nil, false},
	{"a thin substrate is said", func(s sheet.Sheet) bool { return s.Place.Thin && s.Planted() && !s.Melt.Seed }, nil, regexp.MustCompile(`too thin for it|zu dünn für sie`), false},
	{"good is only what was measured", func(s sheet.Sheet) bool {
		return s.Summary == sheet.GoodMatch && s.Verdicts.Of(sheet.Temperature).Outcome == sheet.NotKnown && !s.Verdicts.Of(sheet.Temperature).NoBand
	}, regexp.MustCompile(`[^n] it should live in your tank\.|[^,] sie sollte in deinem becken leben können\.`), nil, true},
	{"who told KH and temperature is not asked for them", func(s sheet.Sheet) bool { return s.CO2.Checker && s.Planted() && !s.Melt.Seed }, regexp.MustCompile(`measure kh and temperature first|miss zuerst kh`), regexp.MustCompile(`drop checker|dauertest`), false},
	{"what is not known is said with the verdict", func(s sheet.Sheet) bool {
		return s.Planted() && s.Summary != sheet.CannotSay && len(s.Parcel.Together) < 2 && slices.ContainsFunc([]sheet.Parameter{sheet.Temperature, sheet.GH, sheet.KH}, func(p sheet.Parameter) bool {
			v := s.Verdicts.Of(p)
			return v.Outcome == sheet.NotKnown && !v.NoBand
		})
	}, nil, regexp.MustCompile(`not known: |nicht bekannt: `), true},
	{"who is to give more light is not warned of more light", func(s sheet.Sheet) bool {
		v := s.Verdicts.Of(sheet.LightAt)
		return v.Outcome == sheet.Outside && v.By < 0
	}, regexp.MustCompile(`more light would feed|mehr licht (nützt|nähme)`), nil, false},
	{"softened water is told of the tap before the softener", func(s sheet.Sheet) bool {
		gh, kh := s.Verdicts.Of(sheet.GH), s.Verdicts.Of(sheet.KH).Value
		return gh.Outcome == sheet.Outside && gh.By < 0 && kh.Best > gh.Value.Best+3 && !s.Forbidden && !s.NeverCame && !s.Melt.Seed && len(s.Parcel.Together) < 2
	}, nil, regexp.MustCompile(`softener|enthärt`), false},
	{"readings that contradict each other are said", func(s sheet.Sheet) bool { // the short form of Plummer & Busenberg 1982, at the ends that mean the least
		w, t := s.Parcel.Water, s.Parcel.Tank
		return t != nil && t.CO2 == journal.No && w.Temperature.Known() && w.PH.Known() && w.PH.Low() >= 5.5 && w.KH.Mid().DKH() <= 20 && w.Conductivity.High() < 3000 && 3.27*(w.KH.Low().DKH()-0.5)*math.Pow(10, 6.9-float64(w.PH.High())) > 36 && !s.Forbidden && !s.NeverCame
	}, nil, regexp.MustCompile(`do not go together|passen nicht zusammen`), false},
	{"who adds gas is not asked to drive it out", func(s sheet.Sheet) bool { return s.CO2.Injected() }, regexp.MustCompile(`bring air into the water|wasser belüft`), nil, false},
	{"what comes down along with the other hardness is said", func(s sheet.Sheet) bool {
		return s.Water.Blend != nil && s.Water.Blend.GH > 0.1 && s.Water.Blend.KH > 0.1 && s.Planted() && !s.Melt.Seed
	}, nil, regexp.MustCompile(`comes down with it|sinkt mit`), false},
	{"what endangers their animals is said first", func(s sheet.Sheet) bool { return (len(s.Foul()) > 0 || s.CO2.Gas == sheet.GasLess) && !s.NeverCame }, nil, regexp.MustCompile(`(in the next hour|after it comes|nächsten stunde|ersten stunde nach der ankunft)\W+(turn the co ?2 down|your animals first|dreh zuerst das co ?2|deine tiere zuerst)`), true},
}

func always(sheet.Sheet) bool { return true }

// eaten reports whether livestock would eat the plant.
func eaten(s sheet.Sheet) bool {
	return len(s.Animals.Eat) > 0 && s.Planted() && !s.Melt.Seed && s.Kind.Firm() != sheet.OnRoot && s.Kind.Set() != sheet.InAir
}

// toItself finds a change to the figure that is there.
var toItself = regexp.MustCompile(`([\d.,]+)(?:\x{a0}\S+)? (?:instead of|statt) ([\d.,]+)|from ([\d.,]+) (?:down )?to ([\d.,]+)|von ([\d.,]+) auf ([\d.,]+)`)

func changesNothing(text string) string {
	for _, m := range toItself.FindAllStringSubmatch(text, -1) {
		for i := 1; i+1 < len(m); i += 2 {
			if m[i] != "" && m[i] == m[i+1] {
				return m[0]
			}
		}
	}
	return ""
}

// drawnKit is what the papers of a drawn parcel are made with.
func drawnKit(t *testing.T, lang string, units quantity.System) papers.Kit {
	t.Helper()
	look, err := theme.Load(themes.Bench(), lang, "")
	if err != nil {
		t.Fatal(err)
	}
	return papers.Kit{Theme: look, Units: units, Grower: "Wren", Site: "The Bench", Region: "GB",
		Frame:    func(kind, addr, title string) theme.Frame { return theme.Frame{Lang: lang, Title: title} },
		Href:     func(from, to string) string { return to },
		Absolute: func(addr string) string { return "https://bench.example" + addr },
		Text:     func(string, journal.Source) template.HTML { return "" },
		Code:     func(string, string) template.HTML { return "" },
		Report: func(lot, taxon, subject, body string) string {
			return "mailto:wren@bench.example?subject=" + url.QueryEscape(subject)
		}}
}

var (
	centimetres = regexp.MustCompile(`\d[\s\x{a0}]cm\b`)
	drawing     = regexp.MustCompile(`(?s)<svg.*?</svg>`)
	spaces      = regexp.MustCompile(`\s+`)
	within      = regexp.MustCompile(`href="#([^"]+)"`)
)

func plainText(page []byte) string {
	text := tags.ReplaceAllString(drawing.ReplaceAllString(string(page), " "), " ")
	return spaces.ReplaceAllString(strings.ToLower(stdhtml.UnescapeString(text)), " ")
}

// held notes which rules had something to say.
type held map[string]int

// figures holds the rules of figures against one plant.
func (h held) figures(t *testing.T, who string, s sheet.Sheet) {
	for _, r := range sheetRules {
		applies, fault := r.check(s)
		if fault != "" {
			t.Errorf("%s: %s: %s", who, r.name, fault)
		}
		if applies {
			h[r.name]++
		}
	}
}

// page holds the rules of words against a whole sheet: what must not stand there must fit none of its plants, what must
// stand there, one of them.
func (h held) page(t *testing.T, who string, kit papers.Kit, plants []sheet.Sheet, made []byte) {
	lang, text := kit.Theme.Words.Lang, plainText(made)
	first, _, _ := strings.Cut(text, map[string]string{"en": "will it suit your tank?", "de": "passt sie in dein becken?"}[lang])
	for _, r := range textRules {
		n := 0
		for _, s := range plants {
			if r.applies(s) {
				n++
			}
		}
		in := text
		if r.first {
			in = first
		}
		if n > 0 {
			h[r.name]++
		}
		if n == len(plants) && r.never != nil && r.never.MatchString(in) {
			t.Errorf("%s, %s: %s: %q", who, lang, r.name, r.never.FindString(in))
		}
		if n > 0 && r.has != nil && !r.has.MatchString(in) {
			t.Errorf("%s, %s: %s: %s is missing", who, lang, r.name, r.has)
		}
	}
	for _, s := range plants {
		for _, a := range s.Animals.Eat {
			named := strings.ToLower(a.Called(lang)) // common names from memory
			if s.Planted() && !s.Melt.Seed && s.Kind.Set() != sheet.InAir && !strings.Contains(text, named) || lang == "en" && strings.Contains(named, "fische") || lang == "de" && strings.Contains(named, "fish") {
				t.Errorf("%s, %s: %q eat plants and are not named, or not in its language", who, lang, named)
			}
		}
	}
	for _, m := range within.FindAllSubmatch(made, -1) {
		if !bytes.Contains(made, []byte(` id="`+string(m[1])+`"`)) {
			t.Errorf("%s: a link to #%s leads to nothing", who, m[1])
		}
	}
	if slices.ContainsFunc(plants, eaten) && len(plants) == 1 && bytes.Contains(made, []byte(`class="verdict"><span class="good">`)) {
		t.Errorf("%s: what would be eaten is marked as good", who)
	}
	if to := changesNothing(text); to != "" {
		t.Errorf("%s: %q is no change", who, to)
	}
	if n := visibleWords(t, made); n > 600 {
		t.Errorf("%s, %s: %d words before unfolding", who, lang, n)
	}
}

// No place of the table of what was read is said to be without a listing, unless all of its lists were read whole.
func TestNoListingIsSaidOnlyOfWhatWasRead(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	table, err := os.ReadFile("../almanac/tables/coverage.csv")
	if err != nil {
		t.Fatal(err)
	}
	kit, clean, looked, every := drawnKit(t, "en", quantity.Metric), 0, 0, 1
	if testing.Short() {
		every = 4
	}
	for i, line := range slices.Collect(strings.Lines(string(table))) {
		region, _, _ := strings.Cut(line, ",")
		if region == "code" || !almanac.KnownRegion(region) || i%every > 0 {
			continue
		}
		species, _ := a.Species("leptochilus-pteropus")
		c := sheet.Case{Parcel: &journal.Parcel{Lot: "LP-1", Count: 1, Region: region}, Lot: &journal.Lot{ID: "LP-1", Form: "portions"}, Species: species, Notices: a.Notices(species.Taxon, region), Coverage: a.Coverage(region), Lists: a.Retrieved()}
		c.Looked, c.OwnList = a.Lists(region)
		made, err := papers.New(kit, papers.Parcel{Sheet: sheet.New(c)}).Sheet()
		if err != nil {
			t.Fatal(err)
		}
		looked++
		says := regexp.MustCompile(`not on the lists? looked at`).MatchString(plainText(made))
		whole := true
		for _, place := range c.Coverage {
			whole = whole && place.Held == "whole"
		}
		if says {
			clean++
		}
		if says && !whole {
			t.Errorf("%s is said to have no listing, and was not read whole", region)
		}
	}
	if looked < 80/every || clean == 0 {
		t.Errorf("%d regions, %d of them clean", looked, clean)
	}
}

// visibleWords counts what is on the page before anything is unfolded.
func visibleWords(t *testing.T, made []byte) int {
	root, err := html.Parse(bytes.NewReader(made))
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	var walk func(*html.Node)
	walk = func(at *html.Node) {
		switch {
		case at.Type == html.TextNode:
			n += len(strings.Fields(at.Data))
		case at.Data == "svg" || at.Data == "head":
			return
		}
		for c := range at.ChildNodes() {
			if at.Data != "details" || c.Data == "summary" {
				walk(c)
			}
		}
	}
	walk(root)
	return n
}

// all reports whether every rule had something to say, of figures ten times and of words five.
func (h held) all(t *testing.T) {
	for _, r := range sheetRules {
		if h[r.name] < 10 {
			t.Errorf("%q came up %d times only", r.name, h[r.name])
		}
	}
	for _, r := range textRules {
		if !testing.Short() && h[r.name] < 5 {
			t.Errorf("%q came up %d times only", r.name, h[r.name])
		}
	}
}

// Every rule holds on 2,000 drawn parcels, of which every fourth is also read as a page, and every rule had something to say
// about some. Every sixth parcel holds two or three plants. No page has more than 600 words before it is unfolded.
func TestRulesHoldOnDrawnParcels(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	kits := []papers.Kit{drawnKit(t, "en", quantity.Metric), drawnKit(t, "de", quantity.Metric), drawnKit(t, "en", quantity.US), drawnKit(t, "de", quantity.US)}
	d := drawer{rand.New(rand.NewPCG(16, 2026)), a, a.All()}
	h, every, several := held{}, 4, 0
	if testing.Short() {
		every = 20
	}
	for i := range 2000 {
		plants := d.plants()
		who := fmt.Sprintf("parcel %d", i)
		for _, s := range plants {
			who += fmt.Sprintf(", %s (%s), %s by %s", s.Species.Taxon, s.Kind, s.Packing, s.Summary)
		}
		for _, s := range plants {
			h.figures(t, who, s)
		}
		if i%every != 0 {
			continue
		}
		kit := kits[i/every%len(kits)]
		all := make([]papers.Parcel, len(plants))
		for k, s := range plants {
			all[k] = papers.Parcel{Sheet: s, Common: template.HTML(s.Species.Common)}
		}
		made, err := papers.New(kit, all[0], all[1:]...).Sheet()
		if err != nil {
			t.Fatal(err)
		}
		h.page(t, who, kit, plants, made)
		kit.Sprig = func(string) template.HTML { return "" }
		label, err := papers.New(kit, all[0], all[1:]...).Label()
		if err != nil {
			t.Fatal(err)
		}
		stripTells(t, who, made, label)
		if twice := saidTwice(label); len(plants) > 1 && twice != "" {
			t.Errorf("%s: a check day says twice: %s", who, twice)
		}
		if len(plants) > 1 {
			several++
		}
		if w := len(made) + len(kit.Theme.Sheet.Data); w > 50_000 {
			t.Errorf("%s, %s: %d bytes with its style", who, kit.Theme.Words.Lang, w)
		}
		if kit.Units == quantity.US && centimetres.MatchString(strings.Split(strings.Split(plainText(made), "in other units")[0], "in anderen einheiten")[0]) {
			t.Errorf("%s: centimetres in US units", who)
		}
	}
	if several == 0 {
		t.Error("no parcel of several plants was read")
	}
	h.all(t)
}

// Two lots of one plant in a parcel are told apart by their numbers wherever one of them is named, on the sheet and where a check day
// says something of one alone; the plant is one in the title.
func TestTwoLotsOfOnePlantAreToldApart(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	d, kit := drawer{rand.New(rand.NewPCG(17, 2026)), a, a.All()}, drawnKit(t, "en", quantity.Metric)
	kit.Sprig = func(string) template.HTML { return "" }
	found := 0
	for range 200 {
		one := d.plants()[0]
		if len(one.Days) == 0 || one.Melt.Seed {
			continue
		}
		other := one
		first, second := *one.Parcel, *one.Parcel
		first.Lot, second.Lot = "AA-1", "BB-2"
		one.Parcel, other.Parcel, one.Pests, other.Pests = &first, &second, true, false
		common := template.HTML(one.Species.Common)
		label, err := papers.New(kit, papers.Parcel{Sheet: one, Common: common}, papers.Parcel{Sheet: other, Common: common}).Label()
		if err != nil {
			t.Fatal(err)
		}
		made, err := papers.New(kit, papers.Parcel{Sheet: one, Common: common}, papers.Parcel{Sheet: other, Common: common}).Sheet()
		if err != nil {
			t.Fatal(err)
		}
		name := stdhtml.EscapeString(one.Species.Common)
		for _, place := range []string{`<a href="#%s"><b>%s (%[1]s)</b></a>`, `<h2><b>%[2]s (%[1]s):</b>`, `<a href="#%[1]s">%s (%[1]s)</a>`, `<span>%[2]s (%[1]s): <b>`} {
			for _, lot := range []string{"AA-1", "BB-2"} {
				if want := fmt.Sprintf(place, lot, name); name != "" && !bytes.Contains(made, []byte(want)) {
					t.Errorf("%s: no %s", one.Species.Taxon, want)
				}
			}
		}
		if bytes.Contains(made, []byte("<title>Care sheet: "+name+" and")) {
			t.Errorf("%s is named twice in the title", name)
		}
		text := ""
		for _, day := range checkDay.FindAllSubmatch(label, -1) {
			text += plainText(day[1])
		}
		if strings.Contains(text, "snails on both sides") {
			found++
			if !strings.Contains(text, "(aa-1): look for snails") && !strings.Contains(text, "(aa-1): a tub") {
				t.Errorf("%s: whose snails? %s", one.Species.Taxon, text)
			}
		}
	}
	if found == 0 {
		t.Error("no strip speaks of snails")
	}
}

var (
	checkDay  = regexp.MustCompile(`<small>(.*?)</small>`)
	sheetDay  = regexp.MustCompile(`<span class="rowhead">.*?<span>(.*?)</span></span></summary>`)
	badEnding = regexp.MustCompile(`[.?!;:] ?[.;]|; \p{Lu}`)
)

// stripTells holds that a check day of the strip says what is to be done as the sheet does, in sentences: the strip hangs at the tank,
// where there is no sheet.
func stripTells(t *testing.T, who string, made, label []byte) {
	heads, days := sheetDay.FindAllSubmatch(made, -1), checkDay.FindAllSubmatch(label, -1)
	if len(heads) != len(days) {
		t.Errorf("%s: %d days on the sheet, %d on the strip", who, len(heads), len(days))
		return
	}
	for i := range heads {
		head, day := tags.ReplaceAllString(string(heads[i][1]), ""), tags.ReplaceAllString(string(days[i][1]), "")
		for part := range strings.SplitSeq(head, " · ") {
			if part == "" || !strings.Contains(day, part) {
				t.Errorf("%s: the strip says %q and not %q", who, day, part)
			}
		}
		if bad := badEnding.FindString(day); bad != "" {
			t.Errorf("%s: %q in %q", who, bad, day)
		}
	}
}

// saidTwice is a sentence that a check day of a strip says of one plant and again of another; "" where there is none.
func saidTwice(label []byte) string {
	for _, day := range checkDay.FindAllSubmatch(label, -1) {
		said := map[string]bool{}
		for _, s := range strings.SplitAfter(plainText(day[1]), ". ") {
			s = strings.TrimSpace(s[strings.LastIndex(s, ": ")+1:])
			if said[s] {
				return s
			}
			said[s] = true
		}
	}
	return ""
}

// The same rules hold on every sheet of the demonstration.
func TestRulesHoldOnTheDemonstration(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	on := quantity.Date{Year: 2026, Month: 11, Day: 29}
	j, complaints, err := journal.Read(context.Background(), os.DirFS("../../content"), a, journal.Options{On: on})
	if err != nil || complaints.Errors() > 0 {
		t.Fatal(err, complaints)
	}
	look, err := theme.Load(themes.Bench(), "en", "")
	if err != nil {
		t.Fatal(err)
	}
	b, h := page.NewSite(j, a, look, on, page.Options{}), held{}
	kinds := map[string]int{}
	for _, p := range b.All.Sheets() {
		spoken, err := look.In(p.Language)
		if err != nil {
			t.Fatal(err)
		}
		made, err := b.Papers(p).Sheet()
		if err != nil {
			t.Fatal(err)
		}
		var plants []sheet.Sheet
		for _, one := range p.Plants() {
			plants = append(plants, b.SheetOf(one))
			h.figures(t, p.Path, plants[len(plants)-1])
		}
		h.page(t, p.Path, papers.Kit{Theme: spoken}, plants, made)
		for kind, says := range kindsOfSheets {
			if says.MatchString(plainText(made)) {
				kinds[kind]++
			}
		}
	}
	for kind := range kindsOfSheets {
		if kinds[kind] == 0 {
			t.Errorf("the demonstration has no sheet of the kind %q", kind)
		}
	}
	t.Logf("%d sheets: %v", len(b.All.Sheets()), kinds)
}

// kindsOfSheets are the kinds that the demonstration shows, by what is on the sheet.
var kindsOfSheets = map[string]*regexp.Regexp{
	"nothing known":        regexp.MustCompile(`nobody can say yet\. your water is not known`),
	"good":                 regexp.MustCompile(`it should live in your tank\. (in|now|where)`),
	"one change":           regexp.MustCompile(`it should live in your tank, once you \S+`),
	"poor":                 regexp.MustCompile(`it will probably not live in your tank as it is:`),
	"not to be kept there": regexp.MustCompile(`stop: the law where you live may forbid this plant`),
	"damp":                 regexp.MustCompile(`open the bag and take off the damp paper`),
	"wet":                  regexp.MustCompile(`pour the bag’s water into a bucket`),
	"seen pests":           regexp.MustCompile(`seen on it: \S+ snails`),
	"several plants":       regexp.MustCompile(`(two|three) plants for your`),
	"US units":             regexp.MustCompile(`\d\x{a0}in deep.*in other units`),
	"German":               regexp.MustCompile(`passt sie in dein becken\?`),
	"lost in the post":     regexp.MustCompile(`it was lost in the post`),
	"by seed":              regexp.MustCompile(`keep the seeds cool and dry`),
	"a jar of mixed water": regexp.MustCompile(`change its water over four days`),
	"gas":                  regexp.MustCompile(`suffocate fish`),
}

// drawer draws parcels: kinds of plants × waters × packing × pests × regions × tanks.
type drawer struct {
	*rand.Rand
	a   *almanac.Almanac
	all []almanac.Species
}

func pickOf[T any](d drawer, from ...T) T { return from[d.IntN(len(from))] }

func (d drawer) between(lo, hi float64) float64 { return math.Round((lo+d.Float64()*(hi-lo))*10) / 10 }

func drawn[T quantity.Scalar](d drawer, lo, hi float64, unit T) quantity.Reading[T] {
	switch d.IntN(8) {
	case 0, 1:
		return quantity.Reading[T]{}
	case 2:
		x := d.between(lo, hi)
		return quantity.Between(T(x)*unit, T(math.Min(x+2, hi))*unit)
	}
	return quantity.Of(T(d.between(lo, hi)) * unit)
}

func (d drawer) water() journal.Parameters {
	kind := d.IntN(14)
	switch kind {
	case 0: // demineralised
		return journal.Parameters{Temperature: drawn[quantity.Temperature](d, 18, 28, 1), GH: quantity.Of(quantity.Hardness(0)), KH: quantity.Of(quantity.Alkalinity(0)), Conductivity: quantity.Of(quantity.Conductivity(d.between(1, 30)))}
	case 1: // brackish
		return journal.Parameters{Temperature: drawn[quantity.Temperature](d, 18, 28, 1), Conductivity: quantity.Of(quantity.Conductivity(d.between(1500, 40000)))}
	case 2: // a pond
		return journal.Parameters{Temperature: quantity.Between(quantity.Temperature(d.between(2, 12)), quantity.Temperature(d.between(18, 31))), GH: drawn(d, 2, 20, quantity.DGH)}
	}
	w := journal.Parameters{Temperature: drawn[quantity.Temperature](d, 14, 32, 1), PH: drawn[quantity.PH](d, 5, 9.9, 1), GH: drawn(d, 0, 30, quantity.DGH), KH: drawn(d, 0, 18, quantity.DKH)}
	if d.IntN(6) == 0 {
		w.Conductivity = quantity.Of(quantity.Conductivity(d.between(100, 30000)))
	}
	switch kind {
	case 4, 5: // softened
		w.GH, w.KH = quantity.Of(quantity.Hardness(0)), quantity.Of(9*quantity.DKH)
	case 6: // a strip's pH beside a drop test's KH
		w.PH, w.KH = quantity.Of[quantity.PH](6), quantity.Of(10*quantity.DKH)
	case 3: // a new tank
		w.Ammonia, w.Nitrite = quantity.Of[quantity.Concentration](0.5), quantity.Of[quantity.Concentration](0.4)
	}
	return w
}

func (d drawer) tank() *journal.Recipient {
	if d.IntN(5) == 0 {
		return nil
	}
	t := &journal.Recipient{CO2: journal.Tristate(d.IntN(3)), Substrate: pickOf(d, nil, []journal.Layer{{Material: "gravel", Depth: quantity.Of[quantity.Length](5), Nutrients: "none"}}, []journal.Layer{{Material: "soil", Nutrients: "rich"}}, []journal.Layer{{Material: "sand", Depth: quantity.Of[quantity.Length](0.5)}})}
	if d.IntN(8) == 0 {
		t.WaterDepth = quantity.Of(quantity.Length(d.between(4, 60)))
	}
	if d.IntN(8) == 0 {
		t.Floating = quantity.Of(quantity.Share(d.between(0, 100) / 100))
	}
	size := pickOf(d, [3]float64{12, 12, 15}, [3]float64{20, 20, 25}, [3]float64{40, 25, 25}, [3]float64{60, 30, 36}, [3]float64{120, 50, 50}, [3]float64{200, 120, 60})
	t.Inside = journal.Inside{Length: quantity.Of(quantity.Length(size[0])), Width: quantity.Of(quantity.Length(size[1])), Height: quantity.Of(quantity.Length(size[2]))}
	if d.IntN(4) > 0 {
		t.Light = []journal.Lamp{{Output: quantity.Of(quantity.LuminousFlux(d.between(200, 6000))), Length: quantity.Of(quantity.Length(size[0] * 0.8)), AboveWater: quantity.Of(quantity.Length(d.between(2, 15))), Hours: float64(d.IntN(13))}}
	}
	t.Livestock = pickOf(d, nil, []journal.Livestock{{Kind: "small tetras", Count: 20}}, []journal.Livestock{{Kind: "goldfish", Count: 4}}, []journal.Livestock{{Kind: "Goldfische", Count: 3}, {Kind: "nerites", Count: 5}}, []journal.Livestock{{Kind: "dwarf shrimp", Count: 30}}, []journal.Livestock{{Kind: "Zwerggarnelen", Count: 9}}, []journal.Livestock{{Kind: "silver dollars"}, {Kind: "corydoras", Count: 8}}, []journal.Livestock{{Kind: "apple snails", Count: 2}}, []journal.Livestock{{Kind: "large cichlids", Count: 2}})
	return t
}

// plants are the sheets of a parcel, most of them of one plant.
func (d drawer) plants() []sheet.Sheet {
	c := d.parcel()
	out := []sheet.Sheet{sheet.New(c)}
	if d.IntN(6) > 0 {
		return out
	}
	together := []*journal.Parcel{c.Parcel}
	for i := range 1 + d.IntN(2) {
		more := d.parcel()
		p, lot := *c.Parcel, *more.Lot
		lot.ID = fmt.Sprintf("YY-010%d", i)
		p.Lot, p.Count = lot.ID, 1+d.IntN(9)
		more.Parcel, more.Lot = &p, &lot
		more.Notices, more.Looked, more.OwnList = d.a.Notices(more.Species.Taxon, p.Region), c.Looked, c.OwnList
		together = append(together, &p)
		out = append(out, sheet.New(more))
	}
	for i := range together {
		together[i].Together = together
	}
	return out
}

func (d drawer) parcel() sheet.Case {
	s := d.all[d.IntN(len(d.all))]
	p := &journal.Parcel{Lot: "XX-0101", Count: 1 + d.IntN(30), How: pickOf(d, "post", "by-hand", ""), Code: "fkhr396j515mxcc735kp7kbam", Region: pickOf(d, "", "US-OH", "US-NY", "CA", "GB", "DE", "AU-QLD", "CH"),
		Water: d.water(), Tank: d.tank(), Sent: quantity.Date{Year: 2026, Month: 4, Day: 22}}
	if d.IntN(5) == 0 {
		p.Sent = quantity.Date{}
	}
	if d.IntN(20) == 0 {
		p.Reports = []journal.Report{{Date: quantity.Date{Year: 2026, Month: 5, Day: 2}, Outcome: journal.LostInPost}}
	}
	lot := &journal.Lot{ID: "XX-0101", Plant: s.ID, Form: pickOf(d, "cuttings", "plantlets", "divisions", "portions", "seeds"), Length: drawn[quantity.Length](d, 2, 40, 1),
		Pests: pickOf(d, "", "none", "none seen", "keine", "bladder snails", "ramshorn snails, planaria", "none >5 mm, snails <3 mm"), Copper: pickOf(d, "", "2026-01", "none", "2026-01"), Dips: pickOf(d, "", "none", "alum, 3 d")}
	c := sheet.Case{Parcel: p, Lot: lot, Species: s, Grown: pickOf(d, "", "submersed", "submersed", "emersed", "culture"), Notices: d.a.Notices(s.Taxon, p.Region), Lists: d.a.Retrieved()}
	c.Looked, c.OwnList = d.a.Lists(p.Region)
	c.Coverage = d.a.Coverage(p.Region)
	if d.IntN(3) == 0 {
		c.Others = &ledger.OutcomeCounts{Sent: 9, Established: d.IntN(5), Lost: d.IntN(4)}
	}
	c.From = sheet.Giver{Tank: "a tank", Water: d.water(), On: p.Sent, CO2: journal.Tristate(d.IntN(3)), LightHours: float64(d.IntN(13))}
	if d.IntN(3) > 0 {
		l := quantity.PhotonFlux(d.between(5, 200))
		c.From.Light = reckon.Range[quantity.PhotonFlux]{Low: l * 0.7, Best: l, High: l * 1.3}
	}
	if d.IntN(2) == 0 {
		r := d.between(0.5, 10) / 100
		c.From.Growth = sheet.Growth{Low: r * 0.8, Best: r, High: r * 1.2, N: 8}
	}
	return c
}

// plants reports whether a step of the first hour sets the plant in its place.
func plants(t sheet.Task) bool {
	return t == sheet.PlantIt || t == sheet.GoSlowly || t == sheet.GoWarm
}
