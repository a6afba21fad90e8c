package desk

import (
	"html/template"
	"io/fs"
	"net/http"
	"slices"
	"strconv"

	"slipleaf/build/change"
	"slipleaf/build/compose"
	"slipleaf/build/page"
	"slipleaf/build/words"
)

// lot writes down that what is left of a lot is still there, or is not, so that nobody asks for plants that are no more. An
// entry of the tank that the lot is from says it.
func (d *Desk) lot(w http.ResponseWriter, r *http.Request, b *page.Site) {
	v := b.Locale()
	lot, ok := b.All.Ledger.Lot(r.PostForm.Get("lot"))
	if !ok {
		http.NotFound(w, r)
		return
	}
	t, ok := b.All.Journal.Tank(lot.Tank)
	if !ok || lot.Left < 1 || strconv.Itoa(lot.Left) != r.PostForm.Get("count") {
		d.show(w, b, http.StatusConflict, "said.html", said{d.head(b, lot.ID), v.Text("desk.not-done"), []template.HTML{words.Escape(v.Text("desk.meanwhile"))}})
		return
	}
	var e compose.Entry
	switch {
	case r.PostForm.Get("do") == "there" && slices.Contains(lot.Seen, b.All.On): // a second press
		http.Redirect(w, r, Addr, http.StatusSeeOther)
		return
	case r.PostForm.Get("do") == "there":
		e = compose.Entry{Title: v.Text("desk.lot-there-title", "lot", lot.ID), StillThere: []string{lot.ID}}
	case r.PostForm.Get("do") == "gone":
		e = compose.Entry{Title: v.Text("desk.lot-gone-title", "lot", lot.ID), Losses: []compose.Loss{{Lot: lot.ID, Count: strconv.Itoa(lot.Left), Cause: v.Text("desk.lot-gone-cause")}}}
	default:
		http.Error(w, "the form says neither", http.StatusBadRequest)
		return
	}
	newer := d.Rebuilt()
	wrong, err := d.Writer.Write(r.Context(), e.Title, func(now fs.FS) ([]change.File, error) {
		f, err := target(now, t, b.All.On, e)
		return []change.File{f}, err
	})
	switch {
	case err != nil:
		d.show(w, b, http.StatusInternalServerError, "said.html", said{d.head(b, lot.ID), v.Text("desk.not-done"), why(v, err)})
	case len(wrong) > 0:
		d.show(w, b, http.StatusUnprocessableEntity, "said.html", said{d.head(b, lot.ID), v.Text("desk.not-done"), []template.HTML{v.Complaint(wrong[0])}})
	default:
		d.settle(r.Context(), newer)
		http.Redirect(w, r, Addr, http.StatusSeeOther)
	}
}
