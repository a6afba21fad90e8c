package page

import (
	"strings"
	"testing"

	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
	"slipleaf/build/words"
	"slipleaf/themes"
)

func german(t *testing.T) words.Locale {
	t.Helper()
	w, err := words.Load(themes.Bench(), "de")
	if err != nil {
		t.Fatal(err)
	}
	return words.Locale{Words: w}
}

// Whatever a tank's file says of its measures and lamps, what a page tells of the sums is no English.
func TestSumsSpeakTheLanguage(t *testing.T) {
	v := german(t)
	told := 0
	for _, shape := range shapes() {
		told++
		if m, err := shape.Measure(); err != nil {
			inGerman(t, []string{words.Refusal(v, err)}, []string{err.Error()})
		} else {
			spoken(t, v, m.Working, m.Cautions...)
		}
	}
	for _, setting := range settings() {
		told++
		if m, err := setting.Model(); err != nil {
			inGerman(t, []string{words.Refusal(v, err)}, []string{err.Error()})
		} else {
			spoken(t, v, m.Working, m.Cautions...)
		}
	}
	if told < 1000 {
		t.Errorf("only %d tanks were looked at", told)
	}
}

func spoken(t *testing.T, v words.Locale, w reckon.Working, all ...reckon.Caution) {
	inGerman(t, words.WorkingLines(v, w), w.Lines())
	for _, i := range w.Inputs {
		if !v.Has(words.Sums + "input-" + i.Name) {
			t.Errorf("no German for the input %s", i.Name)
		}
	}
	inGerman(t, []string{words.SourceOf(v, w)}, []string{w.Equation.Source})
	for _, c := range all {
		inGerman(t, words.Cautions(v, c), []string{c.Text})
	}
}

// inGerman refuses lines that are the sum's own English, and English words in the others.
func inGerman(t *testing.T, got, english []string) {
	if len(got) != len(english) {
		t.Fatalf("%d lines for %d", len(got), len(english))
	}
	for i, line := range got {
		if line == english[i] || strings.Contains(line, "[") {
			t.Errorf("not put into German: %s", line)
		}
		for _, word := range strings.Fields(strings.Map(lettersOnly, strings.ToLower(line))) {
			switch word {
			case "the", "of", "not", "given", "depth", "water", "lamp", "length", "width", "height", "assumed", "outside", "is", "range", "gap":
				t.Errorf("English in German: %s", line)
			}
		}
	}
}

func lettersOnly(r rune) rune {
	if strings.ContainsRune("abcdefghijklmnopqrstuvwxyzäöüß", r) {
		return r
	}
	return ' '
}

// shapes are tanks of sound and unsound measures, told in full and in part.
func shapes() (out []reckon.TankShape) {
	absent := quantity.Reading[quantity.Length]{}
	is := func(cm quantity.Length) quantity.Reading[quantity.Length] { return quantity.Between(cm, cm) }
	for _, length := range []quantity.Length{60, 3, 500} {
		for _, height := range []quantity.Length{36, 200} {
			for _, water := range []quantity.Reading[quantity.Length]{absent, is(28), is(35), is(150)} {
				for _, ground := range []quantity.Reading[quantity.Length]{absent, is(5), is(34), is(90)} {
					out = append(out, reckon.TankShape{Length: length, Width: 30, Height: height, WaterDepth: water, Substrate: ground},
						reckon.TankShape{Length: 60, Width: length, Height: height, WaterDepth: water, Substrate: ground})
				}
			}
		}
	}
	return out
}

// settings are lamps over a tank, of every kind, told in full and in part.
func settings() []reckon.LightSetting {
	out := []reckon.LightSetting{{Length: 60, Width: 30, WaterDepth: 28}, {Length: 60, Width: 30, WaterDepth: 28, Lamps: make([]reckon.Lamp, 21)}}
	for _, kind := range append(reckon.LampKinds(), "", "candle", "led with lens") {
		for told := range 1 << 8 {
			has := func(bit int) bool { return told>>bit&1 == 1 }
			l, set := reckon.Lamp{Kind: kind}, reckon.LightSetting{Length: 60, Width: 30, WaterDepth: 28}
			if has(0) {
				l.Power = quantity.Between(quantity.Power(40), 40)
			}
			if has(1) {
				l.Efficacy = quantity.Between(quantity.Efficacy(2), 2)
			}
			if has(2) {
				l.Output = quantity.Between(quantity.LuminousFlux(3000), 3000)
			}
			if has(3) {
				l.Length, l.Width = quantity.Between(quantity.Length(50), 50), quantity.Between(quantity.Length(8), 8)
			}
			if has(4) {
				l.AboveWater = quantity.Between(quantity.Length(10), 10)
			}
			if has(5) {
				l.Share, l.Hours = quantity.Between(quantity.Share(0.5), 0.5), 8
			}
			if has(6) {
				set.Measured, set.Floating = quantity.Between(quantity.PhotonFlux(40), 40), quantity.Between(quantity.Share(0.2), 0.2)
			}
			if has(7) { // out of range, one way or another
				l.AboveWater, l.Output = quantity.Between(quantity.Length(45), 45), quantity.Between(quantity.LuminousFlux(900000), 900000)
				if has(4) {
					l.Output = quantity.Between(quantity.LuminousFlux(300), 300)
				}
			}
			set.Lamps = []reckon.Lamp{l}
			out = append(out, set)
		}
	}
	return out
}
