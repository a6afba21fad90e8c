package topic

import (
	"errors"
	"strings"
	"testing"

	"slipleaf/build/reckon"
)

// ask is Reckon on one line of text.
func ask(line string) (Answer, error) {
	f := strings.Fields(line)
	args, err := ParseArgs(f[1:])
	if err != nil {
		return Answer{}, err
	}
	return Reckon(f[0], args)
}

const lampLine = "light lamp-length=55cm lamp-width=5cm above-water=10cm length=60cm width=30cm water-depth=30cm "

// Each refusal names the value and says why; want holds what the error must say.
func TestRefusals(t *testing.T) {
	tests := []struct {
		name, line string
		kind       reckon.ErrorKind
		want       []string
	}{
		{"a topic misspelt", "waterchange share=30%", reckon.Unknown, []string{`"waterchange"`, "water-change"}},
		{"a key misspelt", "co2 ph=6.8 kh=4dKH temprature=24C", reckon.Unknown, []string{`"temprature"`, "temperature"}},
		{"a key twice", "co2 ph=6.8 ph=7 kh=4dKH temperature=24C", reckon.Contradictory, []string{"ph", "twice"}},
		{"a key missing", "co2 ph=6.8 temperature=24C", reckon.Missing, []string{"kh is missing"}},
		{"a value unknown", "co2 ph=6.8 kh=unknown temperature=24C", reckon.Missing, []string{"kh", "unknown"}},
		{"no unit", "co2 ph=6.8 kh=4 temperature=24C", reckon.WrongUnit, []string{"kh=4", "4 dKH"}},
		{"a unit of another kind", "co2 ph=6.8 kh=4dKH temperature=24cm", reckon.WrongUnit, []string{"temperature=24cm", "length"}},
		{"pH 71", "co2 ph=71 kh=4dKH temperature=24C", reckon.OutOfRange, []string{"ph is 71", "5.5 to 9"}},
		{"KH under the error of a test", "co2 ph=6.8 kh=0.2dKH temperature=24C", reckon.OutOfRange, []string{"kh is 0.2 dKH", "0.5 to 20 dKH", "drop test"}},
		{"boiling water", "co2 ph=6.8 kh=4dKH temperature=95C", reckon.OutOfRange, []string{"temperature is 95 C", "5 to 35 C"}},
		{"sea water", "co2 ph=8 kh=8dKH temperature=25C conductivity=50mS/cm", reckon.OutOfRange, []string{"conductivity is 50000 uS/cm", "fresh water"}},
		{"a CO2 that the KH cannot hold", "target-ph co2=90mg/L kh=0.5dKH temperature=25C", reckon.OutOfRange, []string{"target-ph is 5.2", "5.5 to 9"}},
		{"a salt misspelt", "dose salt=gypsom volume=60L mass=4g", reckon.Unknown, []string{"gypsom", "gypsum"}},
		{"a salt without its hydrate", "dose salt=MgSO4 volume=60L mass=4g", reckon.Unknown, []string{"crystal", "epsom-salt"}},
		{"nothing to raise", "dose salt=gypsum volume=60L", reckon.Missing, []string{"mass", "raise-gh"}},
		{"two things to raise", "dose salt=gypsum volume=60L raise-gh=2dGH raise-ca=10mg/L", reckon.Contradictory, []string{"raise-gh", "raise-ca"}},
		{"what the salt does not have", "dose salt=gypsum volume=60L raise-kh=2dKH", reckon.Contradictory, []string{"raise-kh", "no carbonate"}},
		{"an ion that the salt does not have", "dose salt=gypsum volume=60L raise-k=2mg/L", reckon.Contradictory, []string{"raise-k", "none of it"}},
		{"more gypsum than dissolves", "dose salt=gypsum volume=1L mass=5g", reckon.OutOfRange, []string{"mass is 5 g", "0 to 2.4 g", "dissolve"}},
		{"a dose for a pond", "dose salt=gypsum volume=900000L mass=5g", reckon.OutOfRange, []string{"volume", "20000 L"}},
		{"a blend outside of its waters", "blend kh-a=6dKH kh-b=1dKH want=9dKH", reckon.OutOfRange, []string{"want is 9 dKH", "1 to 6 dKH"}},
		{"a blend of equal waters", "blend kh-a=6dKH kh-b=6dKH want=6dKH", reckon.Contradictory, []string{"same"}},
		{"a blend by both", "blend kh-a=6dKH gh-b=1dGH want=3dKH", reckon.Contradictory, []string{"not by both"}},
		{"a change of more than all", "water-change share=130% times=1 start=40mg/L tap=5mg/L", reckon.OutOfRange, []string{"share is 130 %", "0 to 100 %"}},
		{"no changes", "water-change share=30% times=0 start=40mg/L tap=5mg/L", reckon.OutOfRange, []string{"times is 0"}},
		{"half a change", "water-change share=30% times=1.5 start=40mg/L tap=5mg/L", reckon.WrongUnit, []string{"times=1.5", "whole number"}},
		{"ions and a hardness", "hardness ca=40mg/L mg=5mg/L gh=6dGH", reckon.Contradictory, []string{"not both"}},
		{"calcium alone", "hardness ca=40mg/L", reckon.Missing, []string{"mg is missing"}},
		{"a tank as high as a house", "tank length=60cm width=30cm height=4m", reckon.OutOfRange, []string{"height is 400 cm"}},
		{"depths beyond the height", "tank length=60cm width=30cm height=36cm water-depth=33cm substrate-depth=8cm", reckon.Contradictory, []string{"water-depth 33 cm", "height of 36 cm"}},
		{"depths that do not add up", "tank length=60cm width=30cm height=36cm water-depth=20cm substrate-depth=5cm rim-gap=3cm", reckon.Contradictory, []string{"28 cm", "36 cm"}},
		{"a gap deeper than the tank", "tank length=60cm width=30cm height=36cm rim-gap=40cm", reckon.OutOfRange, []string{"rim-gap is 40 cm"}},
		{"watts without efficacy", lampLine + "lamp-power=20W", reckon.Missing, []string{"lamp-efficacy"}},
		{"lumens without a kind", lampLine + "lamp-output=900lm", reckon.Missing, []string{"lamp-kind", "white led"}},
		{"a red-blue lamp in lumens", lampLine + "lamp-output=900lm lamp-kind=red-blue_led", reckon.NotModelled, []string{"red-blue led", "lumens say nothing"}},
		{"a lens", lampLine + "lamp-output=900lm lamp-kind=led_with_lens", reckon.NotModelled, []string{"lens"}},
		{"an unheard-of lens", lampLine + "lamp-output=900lm lamp-kind=60-degree_lens_led", reckon.NotModelled, []string{"lens"}},
		{"daylight as a lamp", lampLine + "lamp-output=900lm lamp-kind=sunlight", reckon.NotModelled, []string{"daylight"}},
		{"an efficacy beyond physics", lampLine + "lamp-power=20W lamp-efficacy=7umol/J", reckon.OutOfRange, []string{"lamp-efficacy is 7 umol/J", "0.1 to 3.5"}},
		{"a water misspelt", lampLine + "lamp-power=20W lamp-efficacy=2umol/J water=blckwater", reckon.Unknown, []string{"blackwater"}},
		{"a cover misspelt", lampLine + "lamp-power=20W lamp-efficacy=2umol/J cover=clean-glas", reckon.Unknown, []string{"clean-glass"}},
		{"hours beyond a day", lampLine + "lamp-power=20W lamp-efficacy=2umol/J hours=30", reckon.OutOfRange, []string{"hours is 30"}},
		{"more yes than all", "share yes=10 of=9", reckon.OutOfRange, []string{"yes is 10", "0 to 9"}},
		{"no report", "share yes=0 of=0", reckon.OutOfRange, []string{"of is 0"}},
		{"a level of certainty", "share yes=7 of=9 level=100%", reckon.OutOfRange, []string{"level is 100 %"}},
		{"a point misspelt", "growth points=0d:12,7:19", reckon.WrongUnit, []string{"points", "7:19"}},
		{"ammonia in a kiln", "ammonia tan=1mg/L ph=8 temperature=400C", reckon.OutOfRange, []string{"temperature is 400 C"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ask(tt.line)
			var e *reckon.InputError
			if !errors.As(err, &e) {
				t.Fatalf("%s: error %v, want an InputError", tt.line, err)
			}
			if e.Kind != tt.kind {
				t.Errorf("kind %s, want %s", e.Kind, tt.kind)
			}
			for _, w := range tt.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("%q does not say %q", err, w)
				}
			}
		})
	}
}

func TestPendantHigherThanTheTankIsWide(t *testing.T) {
	_, err := ask("light lamp-power=45W lamp-efficacy=2umol/J lamp-length=20cm lamp-width=10cm above-water=45cm length=60cm width=30cm water-depth=30cm")
	var e *reckon.InputError
	if !errors.As(err, &e) || e.Kind != reckon.NotModelled || !strings.Contains(err.Error(), "pendant") {
		t.Errorf("error %v", err)
	}
}
