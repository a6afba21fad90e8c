package journal

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/format"
	"slipleaf/build/quantity"
)

func TestProfileKeysAreTheAlmanacsColumns(t *testing.T) {
	if got := bindings["profile"].Names(); !slices.Equal(got, almanac.Columns()) {
		t.Errorf("%v, the almanac has %v", got, almanac.Columns())
	}
}

func TestEveryMappingIsRead(t *testing.T) {
	for _, m := range format.Mappings() {
		if bindings[m.Name] == nil {
			t.Errorf("nothing reads %s", m.Name)
		}
	}
}

// The values of the good journal, as they must arrive.
func TestWhatIsReadIsWhatIsWritten(t *testing.T) {
	j, _, err := Read(t.Context(), os.DirFS("../../testdata/journals/good"), mustAlmanac(t), Options{On: june})
	if err != nil {
		t.Fatal(err)
	}
	tank, _ := j.Tank("trough")
	first, second := tank.Entries[0], tank.Entries[1]
	plant, _ := j.Plant("anubias-barteri-nana")
	lot, _ := j.Lot("HZ-0418")
	expected, _ := j.Lot("SR-0530")
	parcel, _ := j.ParcelByCode("7f3k9m2p4t6w8x0z1b5c7d9qe")
	for _, row := range []struct{ got, want any }{
		{j.Title, "The Backroom Bench"}, {j.Address, "https://bench.example/"}, {j.Units, quantity.Metric}, {j.TrimWhen.StemLength, "24 cm"},
		{j.Quarantine, "14 d"}, {j.PostMonths, "[3 4 5 6 9 10]"}, {j.PostPays, "recipient"}, {j.WhoGets, "best-match"},
		{j.Requests, "mailto:bench@example.org?subject={lot}%20{plant}"}, {j.Friends, "[{Marsh Lane https://marsh.example/offers.json}]"},
		{len(j.Gathered), 1}, {tank.Began, "2026-01-10"}, {tank.Inside.Length, "118 cm"}, {len(tank.Substrate), 2}, {tank.Substrate[1].Nutrients, "none"},
		{tank.Light[0].Efficacy, "2.3 umol/J"}, {tank.Light[1].Hours, 5.0}, {tank.CO2, Yes}, {tank.Flow.Rate, "400 L/h"}, {tank.Tap.PH, "7.4"},
		{tank.Target.GH, "8 dGH"}, {tank.TrimWhen["heteranthera-zosterifolia"].StemLength, "22 cm"}, {first.Parameters.Nitrate, "<5 mg/L"},
		{*first.Counts[0].Stems, 24}, {first.Counts[0].Where.Along, "20..55 cm"}, {first.Counts[1].Cover, "35 %"}, {*first.Counts[2].Leaves, 41},
		{*first.Trims[0].Replanted, 6}, {*first.Trims[1].Removed.Plantlets, 6}, {first.Losses[0].Cause, "melt"}, {first.Doses[0].Mass, "4 g"},
		{first.WaterChange.Share, "30 %"}, {first.Photos[0].Alt, "The trough from the front, stargrass touching the surface"},
		{second.ID(), "2026-05-30-second"}, {second.Parameters.KH.Asked(), true}, {second.Parameters.GH.Asked(), true}, {second.Parameters.PH, "6.5..6.9"},
		{plant.Profile.CO2, "none"}, {*plant.Profile.Melts, 0}, {plant.TrimWhen.Leaves, 60}, {lot.Count, 12}, {lot.Entry, "2026-04-18"}, {lot.Ready, "2026-04-20"},
		{expected.Expected, true}, {expected.Announced, "2026-05-30"}, {expected.SubmersedFor, "8 wk"}, {expected.Rooted, Yes}, {expected.Copper, "2026-01"},
		{parcel.Units, quantity.US}, {parcel.Tank.Light[0].Kind, "white led"}, {parcel.Tank.CO2, No}, {*parcel.Reports[0].DaysInPost, 3}, {*parcel.Reports[2].Alive, 6},
		{j.Pages[0].Order, 1}, {string(first.Body), "The stargrass reached the surface.\n"}, {first.BodyLine, 23},
	} {
		if fmt.Sprint(row.got) != fmt.Sprint(row.want) {
			t.Errorf("got %v, want %v", row.got, row.want)
		}
	}
}
