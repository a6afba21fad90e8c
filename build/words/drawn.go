package words

// Drawn is the text alternative of a drawing of a care sheet: what is seen in it. seen is the end of a key below "drawn".
func (v Locale) Drawn(seen, plant string) string { return v.Text("drawn."+seen, "plant", plant) }
