package quantity

// Spellings lists every accepted spelling of the units of k, those that [Units] lists among them.
func Spellings(k Kind) []string {
	var out []string
	for _, u := range units[1:] {
		if u.kind == k {
			out = append(append(out, u.name), u.also...)
		}
	}
	return out
}
