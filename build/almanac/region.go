package almanac

import (
	"regexp"
	"slices"
	"strings"
)

// euMembers are the member states of the European Union since 2020-02-01, and Åland, which belongs to Finland (from
// memory). Outermost regions have codes of their own and are left out: the Union list does not bind them (Regulation
// (EU) 1143/2014, article 6; from memory).
var euMembers = strings.Fields("AT AX BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK")

// usParts are the subdivisions of the United States in ISO 3166-2 (from memory). Its territories have codes of their
// own too; the Plant Protection Act counts them as states (7 U.S.C. 7702; from memory).
var usParts = strings.Fields("AL AK AZ AR CA CO CT DE FL GA HI ID IL IN IA KS KY LA ME MD MA MI MN MS MO MT NE NV NH NJ " +
	"NM NY NC ND OH OK OR PA RI SC SD TN TX UT VT VA WA WV WI WY DC " + usTerritories)

const usTerritories = "AS GU MP PR UM VI"

// auParts are the states and territories of Australia in ISO 3166-2 (from memory).
var auParts = strings.Fields("ACT NSW NT QLD SA TAS VIC WA")

var subdivision = regexp.MustCompile(`^[A-Z0-9]{1,3}$`)

// KnownRegion reports whether code is a country of ISO 3166-1 in capitals, alone or with a subdivision of the form that
// ISO 3166-2 gives: GB, US-FL, GB-ENG. For the United States and Australia the subdivision must exist.
func KnownRegion(code string) bool {
	country, part, divided := strings.Cut(code, "-")
	_, known := countries()[country]
	switch {
	case !known:
		return false
	case !divided:
		return true
	case country == "US":
		return slices.Contains(usParts, part)
	case country == "AU":
		return slices.Contains(auParts, part)
	}
	return subdivision.MatchString(part)
}

// parents lists the jurisdictions that hold wherever region does, with region itself.
func parents(region string) []string {
	out := []string{region}
	country, _, divided := strings.Cut(region, "-")
	if divided {
		out = append(out, country)
	}
	switch region {
	case "GB-ENG", "GB-WLS":
		out = append(out, "GB-EAW", "GB-GBN")
	case "GB-SCT", "GB-EAW":
		out = append(out, "GB-GBN")
	case "GB-NIR": // the Union list goes on there under the Windsor Framework (from memory)
		out = append(out, "EU")
	}
	if slices.Contains(euMembers, country) {
		out = append(out, "EU")
	}
	if !divided && slices.Contains(strings.Fields(usTerritories), country) {
		out = append(out, "US", "US-"+country)
	}
	return out
}

// partOf reports whether jurisdiction holds in a part of region only.
func partOf(jurisdiction, region string) bool {
	country, part, divided := strings.Cut(region, "-")
	switch {
	case region == "EU":
		c, _, _ := strings.Cut(jurisdiction, "-")
		return slices.Contains(euMembers, c)
	case !divided, country == "GB" && !slices.Contains([]string{"ENG", "WLS", "SCT", "NIR", "EAW", "GBN"}, part):
		// A county of the United Kingdom does not tell its country by its code.
		return strings.HasPrefix(jurisdiction, country+"-")
	case region == "GB-GBN":
		return jurisdiction == "GB-EAW" || jurisdiction == "GB-ENG"
	case region == "GB-EAW":
		return jurisdiction == "GB-ENG"
	}
	return false
}
