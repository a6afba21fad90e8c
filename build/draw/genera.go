package draw

import "strings"

// LeafOf is the leaf of a plant by its name or id ("Rotala rotundifolia", "rotala-rotundifolia"): the species if the
// table knows it, else the genus, else a plain leaf for the habit. Sizes and colours are those of a healthy plant grown
// under water (on or above it, for floating plants). Basis: from memory, common botanical knowledge; good enough for a
// drawing, not for a key.
func LeafOf(habit Habit, taxon string) Leaf {
	words := strings.FieldsFunc(strings.ToLower(taxon), func(r rune) bool { return r == ' ' || r == '-' || r == '_' })
	if len(words) > 2 && (words[1] == "x" || words[1] == "×") {
		words = append(words[:1:1], words[2:]...)
	}
	if len(words) > 1 {
		if l, ok := leaves[words[0]+" "+words[1]]; ok {
			return l
		}
	}
	if len(words) > 0 {
		if l, ok := leaves[words[0]]; ok {
			return l
		}
	}
	return leafOfHabit(habit)
}

func leafOfHabit(habit Habit) Leaf {
	switch habit {
	case Stem:
		return Leaf{Lanceolate, 3, 0.9, 0, 2, Green}
	case Rhizome:
		return Leaf{Ovate, 6, 3.2, 5, 1, Deep}
	case Carpet:
		return Leaf{Linear, 4, 0.3, 0, 1, Fresh}
	case Fern:
		return Leaf{Lanceolate, 16, 2.6, 3, 1, Deep}
	case Moss:
		return Leaf{Sprays, 3, 1, 0, 1, Deep}
	case Floating:
		return Leaf{Round, 1.5, 1.4, 0.3, 1, Fresh}
	case Bulb:
		return Leaf{Strap, 22, 2.5, 5, 1, Green}
	}
	return Leaf{Lanceolate, 10, 2.2, 4, 1, Green}
}

// leaves: shape, length cm, width cm, stalk cm, leaves at a node, tint.
var leaves = map[string]Leaf{
	// stems
	"alternanthera":           {Lanceolate, 4.5, 1.5, 0.3, 2, Red},
	"ammannia":                {Lanceolate, 7, 1.1, 0, 2, Brown},
	"bacopa":                  {Round, 1.6, 1.3, 0, 2, Green},
	"bacopa monnieri":         {Spatulate, 1.4, 0.7, 0, 2, Green},
	"cabomba":                 {Feather, 3, 3.4, 0.4, 2, Green},
	"cabomba furcata":         {Feather, 2.8, 3.2, 0.3, 3, Red},
	"cardamine":               {Round, 2, 2, 1.6, 1, Fresh},
	"ceratophyllum":           {Feather, 2.4, 1.4, 0, 8, Green},
	"egeria":                  {Linear, 2.4, 0.4, 0, 5, Green},
	"elodea":                  {Lanceolate, 1.1, 0.35, 0, 3, Green},
	"heteranthera":            {Linear, 4.5, 0.45, 0, 1, Green},
	"hydrocotyle":             {Notched, 3, 3, 4.5, 1, Fresh},
	"hydrocotyle tripartita":  {Clover, 1.3, 1.3, 2.4, 1, Fresh},
	"hygrophila":              {Lanceolate, 4, 1.1, 0.3, 2, Green},
	"hygrophila corymbosa":    {Lanceolate, 11, 3.2, 1.5, 2, Green},
	"hygrophila difformis":    {Lobed, 8, 5, 1, 2, Fresh},
	"hygrophila pinnatifida":  {Lobed, 9, 3, 0.4, 2, Brown},
	"limnophila":              {Feather, 2.4, 2, 0, 8, Fresh},
	"limnophila aromatica":    {Lanceolate, 4.5, 0.8, 0, 3, Brown},
	"lobelia":                 {Spatulate, 4, 2.2, 1.2, 1, Fresh},
	"ludwigia":                {Elliptic, 3, 1.4, 0.5, 2, Brown},
	"ludwigia arcuata":        {Linear, 2.6, 0.22, 0, 2, Red},
	"ludwigia palustris":      {Elliptic, 2.4, 1.3, 0.6, 2, Red},
	"lysimachia":              {Round, 1.7, 1.6, 0.2, 2, Fresh},
	"micranthemum":            {Round, 0.6, 0.5, 0, 2, Fresh},
	"micranthemum glomeratum": {Elliptic, 0.9, 0.4, 0, 3, Fresh},
	"myriophyllum":            {Feather, 3, 1.8, 0, 5, Fresh},
	"najas":                   {Linear, 2, 0.16, 0, 2, Green},
	"pogostemon":              {Linear, 5, 0.5, 0, 6, Green},
	"pogostemon stellatus":    {Linear, 7, 0.6, 0, 7, Brown},
	"pogostemon helferi":      {Strap, 6, 0.9, 0, 4, Green},
	"proserpinaca":            {Lobed, 3.4, 1.3, 0.1, 1, Brown},
	"rotala":                  {Elliptic, 1.6, 0.6, 0, 2, Red},
	"rotala macrandra":        {Ovate, 2.6, 1.7, 0, 2, Red},
	"rotala wallichii":        {Needle, 1.4, 0.12, 0, 9, Red},
	"shinnersia":              {Lobed, 5, 2.4, 0.6, 2, Green},
	"staurogyne":              {Elliptic, 2.8, 1.1, 0.4, 2, Green},
	"tonina":                  {Lanceolate, 1.4, 0.45, 0, 1, Fresh},
	// rosettes
	"blyxa":                       {Linear, 13, 0.45, 0, 1, Fresh},
	"cryptocoryne":                {Lanceolate, 9, 2.4, 7, 1, Brown},
	"cryptocoryne beckettii":      {Lanceolate, 8, 2.6, 8, 1, Brown},
	"cryptocoryne crispatula":     {Strap, 42, 1.6, 5, 1, Brown},
	"cryptocoryne parva":          {Lanceolate, 2.6, 0.6, 2, 1, Green},
	"cryptocoryne willisii":       {Lanceolate, 5, 1, 4, 1, Green},
	"echinodorus":                 {Elliptic, 22, 5, 9, 1, Green},
	"helanthium":                  {Linear, 12, 0.7, 0, 1, Fresh},
	"helanthium tenellum":         {Linear, 7, 0.22, 0, 1, Green},
	"sagittaria":                  {Linear, 13, 0.5, 0, 1, Fresh},
	"vallisneria":                 {Linear, 60, 0.9, 0, 1, Green},
	"vallisneria americana":       {Linear, 90, 1.6, 0, 1, Green},
	"vallisneria nana":            {Linear, 35, 0.3, 0, 1, Green},
	"aponogeton":                  {Strap, 25, 2.8, 7, 1, Fresh},
	"aponogeton madagascariensis": {Elliptic, 22, 6, 9, 1, Deep},
	"barclaya":                    {Strap, 22, 3, 6, 1, Brown},
	"crinum":                      {Strap, 70, 0.9, 0, 1, Deep},
	"nymphaea":                    {Cordate, 13, 11, 12, 1, Red},
	// rhizomes and ferns
	"anubias":       {Ovate, 7, 4, 6, 1, Deep},
	"bucephalandra": {Elliptic, 4, 1.3, 1.6, 1, Deep},
	"bolbitis":      {Pinnate, 22, 11, 7, 1, Deep},
	"ceratopteris":  {Bipinnate, 26, 16, 5, 1, Fresh},
	"leptochilus":   {Lanceolate, 20, 3, 3, 1, Deep},
	"microsorum":    {Lanceolate, 20, 3, 3, 1, Deep},
	// carpets
	"eleocharis":   {Needle, 7, 0.1, 0, 1, Green},
	"glossostigma": {Spatulate, 0.8, 0.35, 0.4, 2, Fresh},
	"hemianthus":   {Elliptic, 0.35, 0.22, 0, 2, Fresh},
	"lilaeopsis":   {Linear, 5, 0.28, 0, 1, Green},
	"marsilea":     {Clover, 1.5, 1.5, 2.5, 1, Green},
	"utricularia":  {Linear, 4, 0.2, 0, 1, Fresh},
	// mosses and liverworts
	"fissidens":    {Sprays, 1.5, 0.5, 0, 1, Deep},
	"fontinalis":   {Sprays, 20, 1.4, 0, 1, Deep},
	"monosolenium": {Thallus, 3, 0.8, 0, 1, Green},
	"riccia":       {Thallus, 2, 0.15, 0, 1, Fresh},
	"taxiphyllum":  {Sprays, 5, 1.6, 0, 1, Green},
	"vesicularia":  {Sprays, 4, 2, 0, 1, Deep},
	// floating
	"azolla":      {Elliptic, 0.5, 0.35, 0, 2, Red},
	"hydrocharis": {Round, 3, 2.8, 1.5, 1, Fresh},
	"limnobium":   {Round, 3, 2.8, 1.5, 1, Fresh},
	"lemna":       {Elliptic, 0.35, 0.25, 0, 1, Fresh},
	"phyllanthus": {Round, 1.6, 1.5, 0, 1, Red},
	"pistia":      {Spatulate, 8, 5, 0, 1, Fresh},
	"salvinia":    {Round, 1.2, 1, 0, 2, Fresh},
}
