package desk

import (
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"maps"
	"net/http"
	"path"
	"regexp"
	"slices"
	"strings"

	"slipleaf/build/change"
	"slipleaf/build/compose"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// tank shows a tank's form, and saves it.
func (d *Desk) tank(w http.ResponseWriter, r *http.Request, b *page.Site, id string) {
	t, ok := b.All.Journal.Tank(id)
	if !ok {
		http.NotFound(w, r)
		return
	}
	on := b.All.On
	if day, err := quantity.ParseDate(r.PostForm.Get("day")); err == nil && day == on.Add(-1) {
		on = day // the form was opened before midnight
	}
	m := form(b, t, on)
	m.Head = d.head(b, t.Name+": "+m.Day)
	m.Nonce = rand.Text()
	if r.Method != http.MethodPost {
		d.show(w, b, http.StatusOK, "tank.html", m)
		return
	}
	m.fill(r.PostForm)
	if r.PostForm.Get("do") == "judge" { // while it is filled in: what would be wrong stands beside its field
		d.judge(r, b, t, &m)
		m.placeFaults()
		d.show(w, b, http.StatusOK, "tank.html", m)
		return
	}
	newer := d.Rebuilt()
	status := d.save(r, b, t, &m)
	if status == http.StatusOK {
		d.settle(r.Context(), newer)
		http.Redirect(w, r, Addr+"?saved="+t.ID, http.StatusSeeOther)
		return
	}
	m.placeFaults()
	d.show(w, b, status, "tank.html", m)
}

// save writes a filled form. Whatever keeps it from being saved is said on the form.
func (d *Desk) save(r *http.Request, b *page.Site, t *journal.Tank, m *tankPage) int {
	v := b.Locale()
	add := m.entry(b, t)
	taken := d.takenFor(r, m, v)
	switch {
	case m.Wrong > 0:
		return http.StatusUnprocessableEntity
	case add.Empty() && taken == nil:
		m.fault("", v.Text("desk.nothing-said"))
		return http.StatusUnprocessableEntity
	case !d.once(m.Nonce):
		return http.StatusOK // it came twice: the first was saved
	}
	var file change.File
	cs, err := d.Writer.Write(r.Context(), v.Text("desk.entry-of", "tank", t.Name), func(now fs.FS) ([]change.File, error) {
		var files []change.File
		if taken != nil {
			name, err := taken.freeName(now, t.ID+"-"+m.On.String())
			if err != nil {
				return nil, err
			}
			add.Photos = []compose.Photo{{File: name, Alt: m.Typed["alt"]}}
			files = append(files, change.File{Path: "photos/" + name, After: taken.data})
		}
		var err error
		file, err = target(now, t, m.On, add)
		return append(files, file), err
	})
	if err == nil && len(cs) == 0 {
		return http.StatusOK
	}
	d.again(m.Nonce)
	m.complain(b.Locale(), cs, file)
	var meanwhile *change.MeanwhileError
	switch {
	case errors.As(err, &meanwhile):
		m.fault("", v.Text("desk.meanwhile"))
		return http.StatusConflict
	case err != nil:
		m.fault("", v.Text("desk.disk", "error", err.Error()))
		return http.StatusInternalServerError
	}
	return http.StatusUnprocessableEntity
}

// judge puts what is wrong with a form beside its fields, and writes nothing.
func (d *Desk) judge(r *http.Request, b *page.Site, t *journal.Tank, m *tankPage) {
	add := m.entry(b, t)
	if m.Wrong > 0 || add.Empty() {
		return
	}
	var file change.File
	cs, err := d.Writer.Judge(r.Context(), func(now fs.FS) (files []change.File, err error) {
		file, err = target(now, t, m.On, add)
		return []change.File{file}, err
	})
	if err == nil { // else saving says it
		m.complain(b.Locale(), cs, file)
	}
}

// complain puts complaints beside the fields that made their places in a file.
func (m *tankPage) complain(v words.Locale, cs journal.Complaints, file change.File) {
	for _, c := range cs {
		field := ""
		if c.File == file.Path {
			field = fieldAt(string(file.After), c.Line, c.Column)
		}
		m.mark(field, v.Complaint(c))
	}
}

// takenFor is the photo of a form: the one that came with it, or one that was taken in before; nil for none.
func (d *Desk) takenFor(r *http.Request, m *tankPage, v words.Locale) *photo {
	taken, err := d.tray.take(r)
	kept := r.PostForm.Get("photo-kept")
	switch {
	case err != nil:
		m.mark("photo", v.English(err.Error()))
	case taken == nil && kept != "":
		if taken = d.tray.get(kept); taken == nil {
			m.fault("photo", v.Text("desk.photo-gone"))
		}
	}
	if taken != nil {
		m.PhotoKept = taken.id
		if strings.TrimSpace(m.Typed["alt"]) == "" {
			m.fault("photo", v.Text("desk.alt-missing"))
		}
	}
	return taken
}

// target is the file that an entry of the day goes into: the day's last where a form made it and it can say both, else the
// next free name. What lies at a name and can't be read is no entry of the desk's, and is left alone.
func target(now fs.FS, t *journal.Tank, on quantity.Date, add compose.Entry) (change.File, error) {
	var last []byte
	lastName, unread := "", errors.New("the day has a hundred entries")
	for n := 1; n < 100; n++ {
		name := path.Join("tanks", t.ID, on.String()+".md")
		if n > 1 {
			name = path.Join("tanks", t.ID, fmt.Sprintf("%s-%d.md", on, n))
		}
		data, err := fs.ReadFile(now, name)
		switch {
		case err == nil:
			last, lastName = data, name
			continue
		case !errors.Is(err, fs.ErrNotExist):
			last, lastName, unread = nil, "", err
			continue
		}
		if joined, ok := joined(t, lastName, last, add); ok {
			return change.File{Path: lastName, Before: last, After: []byte(joined.Text())}, nil
		}
		return change.File{Path: name, After: []byte(add.Text())}, nil
	}
	return change.File{}, unread
}

// joined adds to an entry that a form made, which is known by its bytes.
func joined(t *journal.Tank, name string, data []byte, add compose.Entry) (compose.Entry, bool) {
	for _, e := range t.Entries {
		if e.Path != name {
			continue
		}
		if old := compose.Of(e); bytes.Equal([]byte(old.Text()), data) {
			return compose.Join(old, add)
		}
	}
	return add, false
}

var (
	plantOf = regexp.MustCompile(`plant: "?([a-z0-9-]+)`)
	keyAt   = regexp.MustCompile(`([a-z0-9-]+): `)
	listKey = regexp.MustCompile(`^([a-z-]+):`)
)

// fieldAt is the field of the form that made a place of the composed text; "" for none of its own.
func fieldAt(text string, line, column int) string {
	lines := strings.Split(text, "\n")
	if line < 1 || line > len(lines) {
		return ""
	}
	at := lines[line-1]
	before := at[:min(max(column-1, 0), len(at))]
	key := ""
	if m := keyAt.FindAllStringSubmatch(before, -1); m != nil {
		key = m[len(m)-1][1]
	}
	section := ""
	for i := line - 1; i >= 0 && section == ""; i-- {
		if m := listKey.FindStringSubmatch(lines[i]); m != nil {
			section = m[1]
		}
	}
	plant := ""
	if m := plantOf.FindStringSubmatch(at); m != nil {
		plant = m[1]
	}
	switch section {
	case "parameters":
		return "p." + key
	case "counts":
		return plant + ".count"
	case "trims", "lots":
		return plant + ".trim"
	case "plantings":
		return "add"
	case "water-change":
		return "share"
	case "photos":
		return "photo"
	}
	return ""
}

// placeFaults puts faults beside the rows of plants and readings; what has no field to show it is said at the top.
func (m *tankPage) placeFaults() {
	take := func(field string) template.HTML {
		text := m.FieldFaults[field]
		delete(m.FieldFaults, field)
		return text
	}
	for i := range m.Plants {
		m.Plants[i].Fault, m.Plants[i].TrimFault = take(m.Plants[i].ID+".count"), take(m.Plants[i].ID+".trim")
	}
	for _, rows := range [][]readingRow{m.Readings, m.More} {
		for i := range rows {
			rows[i].Fault = take("p." + rows[i].Key)
		}
	}
	for _, field := range slices.Sorted(maps.Keys(m.FieldFaults)) {
		if field != "add" && field != "share" && field != "photo" {
			m.Faults = append(m.Faults, take(field))
		}
	}
}
