package reckon

import (
	"math"

	"slipleaf/build/quantity"
)

// AirLimit is a limit of CO2 in the air that people breathe.
type AirLimit struct {
	Body   string
	Period string
	PPM    float64
	Source string
}

// AirLimits lists workplace limits of CO2 for comparison; a home has none of its own.
func AirLimits() []AirLimit {
	return []AirLimit{
		{"OSHA PEL", "8 h", 5000, "29 CFR 1910.1000 table Z-1"},
		{"HSE EH40", "8 h", 5000, "EH40/2005"},
		{"HSE EH40", "15 min", 15000, "EH40/2005"},
		{"ACGIH TLV-STEL", "15 min", 30000, "ACGIH threshold limit values"},
		{"NIOSH IDLH", "at once", 40000, "NIOSH, immediately dangerous to life or health"},
	}
}

// RoomCO2 reckons the rise in a closed room, as a part of its air, when a cylinder of CO2 empties into it at 25 °C and 1
// atm: mass/44.009 × 24.4654 L/mol over the room. Mass to 50 kg, rooms of 1 to 2000 m³. Workplace limits: 5000 ppm over
// 8 h (OSHA, 29 CFR 1910.1000 table Z-1; HSE EH40), 40 000 ppm at once dangerous (NIOSH).
func RoomCO2(mass quantity.Mass, room quantity.Volume) (float64, error) {
	err := first(within("mass", mass, 0, 50000, "g", "a cylinder that a hobby uses is meant"), within("room", room, 1000, 2e6, "L", "a room in cubic metres is meant"))
	if err != nil {
		return 0, err
	}
	return math.Min(float64(mass)/molarMassCO2*molarVolume25/float64(room), 1), nil
}

const molarVolume25 = 8.314462618 * (25 + zeroCelsius) / 101.325 // L/mol of an ideal gas at 25 °C and 1 atm
