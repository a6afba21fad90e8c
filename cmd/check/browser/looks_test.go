//go:build browser

package browser

import (
	"fmt"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// look is one way of looking at a page: the width in CSS px, and what the reader asked their system and browser for.
type look struct {
	width         int64
	dark, forced  bool
	reducedMotion bool
	print         bool
	large         bool // text at twice the usual size
}

// looks are those in which every kind of page is read through.
var looks = []look{
	{width: 320}, {width: 768}, {width: 1280},
	{width: 360, dark: true}, {width: 1280, dark: true},
	{width: 320, forced: true, reducedMotion: true}, {width: 1280, forced: true, dark: true},
}

func (l look) String() string {
	s := fmt.Sprintf("%d px, light", l.width)
	if l.dark {
		s = fmt.Sprintf("%d px, dark", l.width)
	}
	if l.forced {
		s += ", forced colours"
	}
	if l.print {
		s += ", print"
	}
	return s
}

// usualText is the size of text in a browser that nobody has changed, in CSS px.
const usualText = 16

// set puts a tab into the look, whatever it was in before; phones have no scroll bar of their own.
func (l look) set() chromedp.Action[chromedp.Void] {
	feature := func(name string, on bool, yes, no string) *emulation.MediaFeature {
		if on {
			return &emulation.MediaFeature{Name: name, Value: yes}
		}
		return &emulation.MediaFeature{Name: name, Value: no}
	}
	media := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		feature("prefers-color-scheme", l.dark, "dark", "light"),
		feature("forced-colors", l.forced, "active", "none"),
		feature("prefers-reduced-motion", l.reducedMotion, "reduce", "no-preference"),
	}}
	if l.print {
		media.Media = "print"
	}
	text := int64(usualText)
	if l.large {
		text *= 2
	}
	return chromedp.Steps(
		send(page.SetFontSizes, page.SetFontSizesParams{FontSizes: &page.FontSizes{Standard: text, Fixed: text * 13 / 16}}),
		send(emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: l.width, Height: 800, DeviceScaleFactor: 1, Mobile: l.width < 500}),
		send(emulation.SetEmulatedMedia, media),
	)
}
