package words

import "strings"

// FirstLink keeps an address that a browser can open, and one address alone: rows may hold several.
func FirstLink(s string) string {
	first, _, _ := strings.Cut(s, " ")
	if strings.HasPrefix(first, "https://") || strings.HasPrefix(first, "http://") {
		return strings.TrimSuffix(first, ";")
	}
	return ""
}
