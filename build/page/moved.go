package page

// moved makes the page at an address of before. It leads on at once, without a script, and says where to.
func (b *Site) moved(from, now, name string) ([]byte, error) {
	v := b.Locale()
	m := WrittenPage{Frame: b.frame("written", from, v.Text("moved.title", "tank", name)+" · "+b.Journal.Title, v.Text("moved.title", "tank", name)),
		Heading: v.Text("moved.title", "tank", name), Body: v.HTML("moved.text", "page", b.href(from, now))}
	m.Unlisted, m.Moved = true, b.href(from, now)
	if b.Journal.Address != "" {
		m.Canonical = b.absolute(now)
	}
	return b.Theme.Render("written", m)
}
