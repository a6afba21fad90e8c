package preview

import (
	"crypto/rand"
	"crypto/subtle"
	"fmt"
	"net/http"
	"strings"

	"slipleaf/build/desk"
	"slipleaf/build/words"
)

// pass opens the desk, to whoever has the token of this run: another user of the machine, or another program, can reach its
// ports as well. The token comes in the address that the terminal shows and goes on as a cookie, which no script and no
// other site sees.
type pass struct{ token, cookie string }

// newPass draws a token of 130 random bits. Cookies know no ports, so that the cookie's name tells one preview from another.
func newPass(port int) pass { return pass{rand.Text(), fmt.Sprintf("slipleaf-desk-%d", port)} }

// guard lets those in who have the token, and has all others refused.
func (p pass) guard(next http.HandlerFunc, refuse func(w http.ResponseWriter, status int, why words.Said)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if given := r.URL.Query().Get("token"); p.is(given) {
			http.SetCookie(w, &http.Cookie{Name: p.cookie, Value: given, Path: deskAddr, HttpOnly: true, SameSite: http.SameSiteStrictMode})
			http.Redirect(w, r, deskAddr, http.StatusSeeOther) // so that the token is in no address that is copied
			return
		}
		if c, err := r.Cookie(p.cookie); err != nil || !p.is(c.Value) {
			refuse(w, http.StatusForbidden, desk.NotOpen)
			return
		}
		next(w, r)
	}
}

// is compares a token in a time that tells nothing of it.
func (p pass) is(given string) bool {
	return p.token != "" && subtle.ConstantTimeCompare([]byte(given), []byte(p.token)) == 1
}

// address is where the desk opens.
func (p pass) address() string { return strings.TrimPrefix(deskAddr, "/") + "?token=" + p.token }
