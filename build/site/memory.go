package site

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
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
	slips   func() []theme.LookFault   // of the look that lies over the theme
	look    fingerprint.Sum            // of the theme's files and language
	sound   map[string]fingerprint.Sum // texts without a fault, by path
	refs    map[page.Ref]bool          // all that they refer to, or did
}

// checked is what came of a look at a text.
type checked struct {
	sound bool
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
	lang := cmp.Or(j.Language, "en")
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

// proseComplaints checks the links and figures in every body, side by side. What was sound, and still is the same, is not
// looked at again as long as all is there that sound texts refer to.
func (m *Memory) proseComplaints(ctx context.Context, b *page.Site, o Options, all *journal.Pile) error {
	texts := b.Texts()
	if !b.Stands(slices.Collect(maps.Keys(m.refs))) {
		m.sound, m.refs = nil, nil
	}
	now := make([]*checked, len(texts))
	var done atomic.Int64
	err := each(ctx, len(texts), o.Workers, func(i int) error {
		o.progress("texts", int(done.Add(1)), len(texts))
		t := texts[i]
		if was, known := m.sound[t.Source.Path]; known && was == t.Source.BodySum {
			return nil
		}
		faults, refs := b.Check(t.Addr(), *t.Source)
		now[i] = &checked{len(faults) == 0, refs}
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
		m.sound, m.refs = make(map[string]fingerprint.Sum, len(texts)), map[page.Ref]bool{}
	}
	for i, t := range texts {
		switch c := now[i]; {
		case c == nil:
		case !c.sound:
			delete(m.sound, t.Source.Path)
		default:
			m.sound[t.Source.Path] = t.Source.BodySum
			for _, r := range c.refs {
				m.refs[r] = true
			}
		}
	}
	if len(m.sound) > len(texts) { // some are gone
		here := make(map[string]bool, len(texts))
		for _, t := range texts {
			here[t.Source.Path] = true
		}
		maps.DeleteFunc(m.sound, func(path string, _ fingerprint.Sum) bool { return !here[path] })
	}
	return nil
}

// recall takes up what an earlier run of the same program left of the texts.
func (m *Memory) recall(s *store) {
	if m.sound != nil {
		return
	}
	m.sound, m.refs = make(map[string]fingerprint.Sum, len(s.Texts)), make(map[page.Ref]bool, len(s.Refs))
	for _, t := range s.Texts {
		var print fingerprint.Sum
		copy(print[:], t.Print)
		m.sound[t.Path] = print
	}
	for _, r := range s.Refs {
		m.refs[r] = true
	}
}

// leave writes down in which texts nothing was wrong, by path, and what they refer to.
func (m *Memory) leave(s *store) {
	for _, p := range slices.Sorted(maps.Keys(m.sound)) {
		print := m.sound[p]
		s.Texts = append(s.Texts, text{p, string(print[:])})
	}
	s.Refs = slices.SortedFunc(maps.Keys(m.refs), func(a, b page.Ref) int {
		return cmp.Or(strings.Compare(a.Scheme, b.Scheme), strings.Compare(a.Name, b.Name))
	})
}
