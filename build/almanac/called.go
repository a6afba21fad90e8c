package almanac

// Called is the plain name with the scientific one beside it, as in "stargrass (Heteranthera zosterifolia)"; where only one
// of them is known, that one; else the id.
func (s Species) Called() string {
	switch {
	case s.Taxon == "" && s.Common == "":
		return s.ID
	case s.Common == "" || s.Common == s.Taxon:
		return s.Taxon
	case s.Taxon == "":
		return s.Common
	}
	return s.Common + " (" + s.Taxon + ")"
}
