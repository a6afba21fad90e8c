package preview

import (
	"net/http"
	"strconv"
	"strings"
)

// guard answers only what this machine's own browser may ask. A page on the web can make a browser send requests here:
// by another name for this address (the name in Host gives it away), or from its own origin (Sec-Fetch-Site does). The
// rules are those of the Fetch Metadata draft of the W3C and of common practice against DNS rebinding.
func guard(port int, writes bool, next http.Handler) http.Handler {
	return guardAs([]string{"127.0.0.1", "localhost", "[::1]"}, port, writes, next)
}

// guardAs answers to these names alone.
func guardAs(names []string, port int, writes bool, next http.Handler) http.Handler {
	hosts := map[string]bool{}
	for _, name := range names {
		hosts[name+":"+strconv.Itoa(port)] = true
		if port == 80 {
			hosts[name] = true // a browser leaves the usual port out
		}
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Cache-Control", "no-store")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin") // whoever opened a page holds no handle on it
		h.Set("Referrer-Policy", "no-referrer")            // a link out tells neither the port nor a sheet's code
		h.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
		switch {
		case !hosts[strings.ToLower(r.Host)]:
			http.Error(w, "this preview answers only to localhost", http.StatusForbidden)
		case r.Method != http.MethodGet && r.Method != http.MethodHead && !(writes && r.Method == http.MethodPost && strings.HasPrefix(r.URL.Path, deskAddr)):
			h.Set("Allow", "GET, HEAD")
			http.Error(w, "only GET and HEAD", http.StatusMethodNotAllowed)
		case !welcome(r):
			http.Error(w, "this preview is not for other sites", http.StatusForbidden)
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// welcome judges where a request comes from. Another site may link to a page, and that is all: what it embeds is
// refused, and so is every way to the private pages.
func welcome(r *http.Request) bool {
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "none", "same-origin": // "": no browser, or an old one, which the check of Host still holds
		return true
	}
	return !private(r.URL.Path) && r.Header.Get("Sec-Fetch-Mode") == "navigate" && r.Header.Get("Sec-Fetch-Dest") == "document"
}

// private reports whether an address is the preview's own, or leads to a care sheet.
func private(addr string) bool {
	return strings.HasPrefix(addr, ownAddr) || strings.HasPrefix(addr, deskAddr) || strings.HasPrefix(addr, "/sheets/")
}
