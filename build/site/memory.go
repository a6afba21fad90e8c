package site

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"sync"
	"sync/atomic"

	"slipleaf/build/almanac"
	"slipleaf/build/fingerprint"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/theme"
	"slipleaf/themes"
)

// Memory is what one build leaves for the next, so that it does again only what would come out differently: the files as
// they were read, the theme, the fits of the diary, and the texts in which nothing was wrong. A build with a memory gives
// what one without it gives. Use it for one build at a time; the zero Memory knows nothing.
type Memory struct {
	almanac *almanac.Almanac
	reader  *journal.Reader
	diary   growth.Memory
	theme   *theme.Theme
	slips   func() []theme.LookFault // of the look that lies over the theme
	look    fingerprint.Sum          // of the theme's files and language
	sound   map[string]checked       // texts without a fault, by path
	refs    map[page.Ref]bool        // all that they refer to, or did
}

// checked is a text in which nothing was wrong.
type checked struct {
	print fingerprint.Sum
	refs  []page.Ref
}

// open makes ready what depends on nothing.
func (m *Memory) open() error {
	if m.reader != nil {
		return nil
	}
	a, err := almanac.Open()
	if err != nil {
		return fmt.Errorf("almanac: %w", err)
	}
	m.almanac, m.reader = a, journal.NewReader(a)
	return nil
}

// themeOf is the theme of a journal, parsed anew when one of its files has changed.
func (m *Memory) themeOf(fsys fs.FS, j *journal.Journal, o Options) (*theme.Theme, error) {
	look := o.Theme
	if look == nil && j.Look != "" {
		sub, err := themeIn(fsys, j.Look)
		if err != nil {
			return nil, err
		}
		look = sub
	}
	lang := j.Language
	if lang == "" {
		lang = "en"
	}
	print, err := themeHash(look, lang)
	if err != nil {
		return nil, err
	}
	if m.theme != nil && m.look == print {
		return m.theme, nil
	}
	t, err := theme.Load(Over(look, themes.Bench()), lang, codeStyles())
	if err != nil {
		return nil, err
	}
	m.theme, m.look, m.slips = t, print, func() []theme.LookFault { return nil }
	if look != nil {
		m.slips = sync.OnceValue(func() []theme.LookFault { return theme.LookFaults(look, themes.Bench()) })
	}
	return t, nil
}

// themeHash is the fingerprint of a theme that lies over the default one; look is nil where none does.
func themeHash(look fs.FS, lang string) (fingerprint.Sum, error) {
	files := fingerprint.Sum{}
	if look != nil {
		var err error
		if files, err = fingerprint.Files(look); err != nil {
			return fingerprint.Sum{}, err
		}
	}
	return fingerprint.Of(fmt.Appendf(nil, "%s %t %x", lang, look == nil, files)), nil
}

// proseComplaints checks the links and figures in every body, side by side. What was sound, and still
// is the same and leads where it led, is not looked at again.
func (m *Memory) proseComplaints(ctx context.Context, b *page.Site, o Options, all *journal.Pile) error {
	texts := b.Texts()
	now, faulty := make([]*checked, len(texts)), make([]bool, len(texts))
	stand := b.Stands(slices.Collect(maps.Keys(m.refs)))
	var done atomic.Int64
	err := each(ctx, len(texts), o.Workers, func(i int) error {
		o.progress("texts", int(done.Add(1)), len(texts))
		t := texts[i]
		was, known := m.sound[t.Source.Path]
		if known && was.print == t.Source.BodySum && (stand || b.Stands(was.refs)) {
			return nil
		}
		faults, refs := b.Check(t.Addr(), *t.Source)
		now[i], faulty[i] = &checked{t.Source.BodySum, refs}, len(faults) > 0
		for _, f := range faults {
			sev := journal.Error
			if f.Warning {
				sev = journal.Warning
			}
			all.Add(journal.Complaint{File: t.Source.Path, Line: t.Source.BodyLine + f.Line - 1, Column: f.Column, Severity: sev, Rule: f.Rule, Message: f.Message, Hint: f.Hint})
		}
		return nil
	})
	if err != nil {
		return err
	}
	if m.sound == nil {
		m.sound = make(map[string]checked, len(texts))
	}
	for i, t := range texts {
		if faulty[i] {
			delete(m.sound, t.Source.Path)
		} else if now[i] != nil {
			m.remember(t.Source.Path, *now[i])
		}
	}
	if !stand || len(m.sound) > len(texts) { // some are gone
		was := m.sound
		m.sound, m.refs = make(map[string]checked, len(texts)), nil
		for _, t := range texts {
			if c, ok := was[t.Source.Path]; ok {
				m.remember(t.Source.Path, c)
			}
		}
	}
	return nil
}

// remember notes that a text is sound.
func (m *Memory) remember(path string, c checked) {
	m.sound[path] = c
	if m.refs == nil {
		m.refs = map[page.Ref]bool{}
	}
	for _, r := range c.refs {
		m.refs[r] = true
	}
}

// recall takes up what an earlier run of the same program left of the texts.
func (m *Memory) recall(s *store) {
	if m.sound != nil {
		return
	}
	m.sound = make(map[string]checked, len(s.Texts))
	for _, t := range s.Texts {
		c := checked{print: t.Print}
		for i := 0; i+1 < len(t.Refs); i += 2 {
			c.refs = append(c.refs, page.Ref{Scheme: t.Refs[i], Name: t.Refs[i+1]})
		}
		m.remember(t.Path, c)
	}
}

// texts are the texts in which nothing was wrong, by path.
func (m *Memory) texts() []text {
	out := make([]text, 0, len(m.sound))
	for _, p := range slices.Sorted(maps.Keys(m.sound)) {
		t := text{Path: p, Print: m.sound[p].print}
		for _, r := range m.sound[p].refs {
			t.Refs = append(t.Refs, r.Scheme, r.Name)
		}
		out = append(out, t)
	}
	return out
}
