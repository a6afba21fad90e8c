package reckon

import (
	"slices"
	"strings"

	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
)

// Atomic weights, g/mol: IUPAC 2021, abridged (Prohaska et al. 2022, Pure Appl. Chem. 94:573–600, from memory).
const (
	arH  = 1.008
	arC  = 12.011
	arN  = 14.007
	arO  = 15.999
	arNa = 22.990
	arMg = 24.305
	arP  = 30.974
	arS  = 32.06
	arCl = 35.45
	arK  = 39.098
	arCa = 40.078

	massWater       = 2*arH + arO
	massBicarbonate = arH + arC + 3*arO
	massCarbonate   = arC + 3*arO
	massSulfate     = arS + 4*arO
	massNitrate     = arN + 3*arO
	massPhosphate   = arP + 4*arO
)

// Ion is an ion that a salt brings, by the key of the journal.
type Ion string

// The ions of the salts.
const (
	Calcium   Ion = "ca"
	Magnesium Ion = "mg"
	Potassium Ion = "k"
	Sodium    Ion = "na"
	Nitrate   Ion = "no3"
	Phosphate Ion = "po4"
	Sulfate   Ion = "so4"
	Chloride  Ion = "cl"
)

// Salt is a pure salt of known hydrate.
type Salt struct {
	Name      string  // as the journal and the command spell it: epsom-salt
	Chemical  string  // magnesium sulfate heptahydrate
	Formula   string  // MgSO4·7H2O
	MolarMass float64 // g/mol
	Note      string  // what its user should know; "" when nothing

	also []string // other names, in the letters of [plain]
	hard float64  // calcium and magnesium ions in a formula
	acid float64  // equivalents of alkalinity in a formula
	ions []ionPart
	most float64 // g/L that dissolve; 0: more than any dose
}

// ionPart is the mass of an ion in a mole of salt, in g.
type ionPart struct {
	ion  Ion
	mass float64
}

// salts are built from their composition alone. Solubility of gypsum 2.4 g/L at 20 °C: from memory.
var salts = [...]Salt{
	{Name: "gypsum", Chemical: "calcium sulfate dihydrate", Formula: "CaSO4·2H2O", MolarMass: arCa + massSulfate + 2*massWater,
		Note: "dissolves slowly, at most about 2.4 g/L", hard: 1, ions: []ionPart{{Calcium, arCa}, {Sulfate, massSulfate}}, most: 2.4},
	{Name: "calcium-chloride-dihydrate", Chemical: "calcium chloride dihydrate", Formula: "CaCl2·2H2O", MolarMass: arCa + 2*arCl + 2*massWater,
		Note: "draws water from air and warms the solution; the anhydrous salt is stronger by a third", hard: 1, ions: []ionPart{{Calcium, arCa}, {Chloride, 2 * arCl}}},
	{Name: "epsom-salt", Chemical: "magnesium sulfate heptahydrate", Formula: "MgSO4·7H2O", MolarMass: arMg + massSulfate + 7*massWater,
		Note: "loses water in dry air and is then stronger", also: []string{"epsomsalts"}, hard: 1, ions: []ionPart{{Magnesium, arMg}, {Sulfate, massSulfate}}},
	{Name: "calcium-carbonate", Chemical: "calcium carbonate", Formula: "CaCO3", MolarMass: quantity.MolarMassCaCO3,
		Note: "open to the air about 3 dKH of it dissolves and no more, over days to weeks; only added CO2 dissolves more, and the KH falls back when the CO2 goes", hard: 1, acid: 2, ions: []ionPart{{Calcium, arCa}}},
	{Name: "potassium-sulfate", Chemical: "potassium sulfate", Formula: "K2SO4", MolarMass: 2*arK + massSulfate,
		ions: []ionPart{{Potassium, 2 * arK}, {Sulfate, massSulfate}}},
	{Name: "potassium-bicarbonate", Chemical: "potassium hydrogen carbonate", Formula: "KHCO3", MolarMass: arK + massBicarbonate,
		Note: "brings its potassium along", acid: 1, ions: []ionPart{{Potassium, arK}}},
	{Name: "sodium-bicarbonate", Chemical: "sodium hydrogen carbonate", Formula: "NaHCO3", MolarMass: arNa + massBicarbonate,
		Note: "brings its sodium along", also: []string{"bakingsoda", "bicarbonateofsoda"}, acid: 1, ions: []ionPart{{Sodium, arNa}}},
	{Name: "potassium-nitrate", Chemical: "potassium nitrate", Formula: "KNO3", MolarMass: arK + massNitrate,
		also: []string{"saltpeter", "saltpetre"}, ions: []ionPart{{Nitrate, massNitrate}, {Potassium, arK}}},
	{Name: "monopotassium-phosphate", Chemical: "potassium dihydrogen phosphate", Formula: "KH2PO4", MolarMass: arK + 2*arH + massPhosphate,
		Note: "its phosphate spoils the estimate of CO2 from KH", also: []string{"monobasicpotassiumphosphate"}, ions: []ionPart{{Phosphate, massPhosphate}, {Potassium, arK}}},
	{Name: "magnesium-chloride-hexahydrate", Chemical: "magnesium chloride hexahydrate", Formula: "MgCl2·6H2O", MolarMass: arMg + 2*arCl + 6*massWater,
		Note: "draws water from air: keep it shut", hard: 1, ions: []ionPart{{Magnesium, arMg}, {Chloride, 2 * arCl}}},
	{Name: "calcium-nitrate-tetrahydrate", Chemical: "calcium nitrate tetrahydrate", Formula: "Ca(NO3)2·4H2O", MolarMass: arCa + 2*massNitrate + 4*massWater,
		Note: "oxidises: keep it from anything that burns; fertiliser grade is often a double salt with ammonium", hard: 1, ions: []ionPart{{Calcium, arCa}, {Nitrate, 2 * massNitrate}}},
	{Name: "potassium-carbonate", Chemical: "potassium carbonate", Formula: "K2CO3", MolarMass: 2*arK + massCarbonate,
		Note: "caustic, and raises the pH at once: dissolve it first, with gloves and eye protection", acid: 2, ions: []ionPart{{Potassium, 2 * arK}}},
	{Name: "potassium-chloride", Chemical: "potassium chloride", Formula: "KCl", MolarMass: arK + arCl, ions: []ionPart{{Potassium, arK}, {Chloride, arCl}}},
	{Name: "dipotassium-phosphate", Chemical: "dipotassium hydrogen phosphate", Formula: "K2HPO4", MolarMass: 2*arK + arH + massPhosphate,
		Note: "its phosphate spoils the estimate of CO2 from KH", also: []string{"dibasicpotassiumphosphate", "dipotassiumhydrogenphosphate"}, ions: []ionPart{{Phosphate, massPhosphate}, {Potassium, 2 * arK}}},
}

// hydrates are names that leave the hydrate open, with the salt that is probably meant.
var hydrates = map[string]string{
	"calciumsulfate": "gypsum", "caso4": "gypsum", "calciumchloride": "calcium-chloride-dihydrate", "cacl2": "calcium-chloride-dihydrate",
	"magnesiumsulfate": "epsom-salt", "mgso4": "epsom-salt", "magnesiumchloride": "magnesium-chloride-hexahydrate", "mgcl2": "magnesium-chloride-hexahydrate",
	"calciumnitrate": "calcium-nitrate-tetrahydrate", "cano32": "calcium-nitrate-tetrahydrate",
}

// FindSalt knows a salt by its name, chemical name or formula, whatever its case, hyphens and spaces. A name that leaves
// the hydrate open is refused, since the hydrates differ in strength.
func FindSalt(name string) (Salt, error) {
	p := plain(name)
	if p == "" {
		return Salt{}, &InputError{Kind: Missing, Name: "salt"}
	}
	var names []string
	for _, s := range salts {
		if p == plain(s.Name) || p == plain(s.Chemical) || p == plain(s.Formula) || slices.Contains(s.also, p) {
			return s, nil
		}
		names = append(names, s.Name, s.Chemical)
	}
	if meant, open := hydrates[p]; open {
		return Salt{}, &InputError{Kind: Unknown, Name: "salt", Value: spelling.Clip(name), Why: "the name leaves the water of the crystal open", Hint: "did you mean " + meant + "?"}
	}
	return Salt{}, &InputError{Kind: Unknown, Name: "salt", Value: spelling.Clip(name), Hint: nearestSalt(name, names)}
}

// nearestSalt offers a salt for a misspelt name, and none for the name of another substance: each word of what is offered
// must be a misspelling of the word in its place, or copper sulfate would be taken for potassium sulfate.
func nearestSalt(name string, names []string) string {
	words := func(s string) []string {
		return strings.FieldsFunc(strings.ReplaceAll(strings.ToLower(s), "sulph", "sulf"), func(r rune) bool { return r == ' ' || r == '-' || r == '_' })
	}
	got := words(name)
	var like []string
	for _, n := range names {
		want := words(n)
		same := len(want) == len(got)
		for i := 0; same && i < len(want); i++ {
			same = spelling.Edits(got[i], want[i]) <= max(1, len(want[i])/4)
		}
		if same {
			like = append(like, n)
		}
	}
	if len(like) == 0 {
		return "known are " + strings.Join(names, ", ")
	}
	return DidYouMean(name, like)
}

// plain keeps the small letters and digits of a name and writes sulphate as sulfate, bicarbonate as hydrogen carbonate.
func plain(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			return r
		case r >= '₀' && r <= '₉':
			return r - '₀' + '0'
		}
		return -1
	}, strings.ToLower(s))
	s = strings.ReplaceAll(s, "sulph", "sulf")
	return strings.ReplaceAll(s, "hydrogencarbonate", "bicarbonate")
}
