package desk

import (
	"html/template"
	"net/http"
	"time"

	"slipleaf/build/page"
	"slipleaf/build/papers"
)

// Pairing lets the desk be used from other devices at home.
type Pairing interface {
	// Fresh gives an address that pairs one device, once, until then.
	Fresh() (address string, until time.Time)
	Devices() []Device
	Forget(id string)
}

// Device is one that is paired.
type Device struct {
	ID, Name, From string
	At             time.Time
}

// phonePage shows the code that pairs a device, and those that are paired.
type phonePage struct {
	Head
	Code    template.HTML
	Address string
	Until   string
	Devices []deviceRow
}

type deviceRow struct{ ID, Text string }

// phone shows the page; its buttons show a code or forget a device.
func (d *Desk) phone(w http.ResponseWriter, r *http.Request, b *page.Site) {
	v := b.Locale()
	m := phonePage{Head: d.head(b, v.Text("desk.phone"))}
	if r.Method == http.MethodPost {
		if id := r.PostForm.Get("device"); id != "" {
			d.Pairing.Forget(id)
			http.Redirect(w, r, Addr+"phone/", http.StatusSeeOther)
			return
		}
		address, until := d.Pairing.Fresh()
		m.Code, m.Address, m.Until = papers.Code(address, v.Text("desk.phone-code")), address, until.Format("15:04")
	}
	for _, x := range d.Pairing.Devices() {
		m.Devices = append(m.Devices, deviceRow{x.ID, x.At.Format("15:04") + " · " + x.From + " · " + x.Name})
	}
	d.show(w, b, http.StatusOK, "phone.html", m)
}

// pairPage is what an unpaired device sees.
type pairPage struct {
	Head
	Code, Fault string
}

// ShowPair shows the page on which a device pairs itself; without a code it says that the one it had is no good.
func (d *Desk) ShowPair(w http.ResponseWriter, b *page.Site, status int, code string) {
	v := b.Locale()
	m := pairPage{Head: d.head(b, v.Text("desk.pair")), Code: code}
	m.Form, m.Icon = "", "" // nothing of this run is for a device that is not paired
	if status != http.StatusOK || code == "" {
		m.Fault = v.Text("desk.pair-stale")
	}
	d.show(w, b, status, "pair.html", m)
}
