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

// RoomRise is how a cylinder that empties changes the air of a closed room.
type RoomRise struct {
	Rise     float64 // of CO2, as a part of the air; 0.01 is 10 000 ppm
	Working  Working
	Cautions []Caution
}

var equationRoom = Equation{"room-co2", "A cylinder of CO2 that empties into a closed room", "rise = mass/44.009 g/mol × 24.47 L/mol/room", "ideal gas at 25 °C and 1 atm, derived"}

// RoomCO2 is the rise in a closed room when a cylinder empties into it: at most all of its air. Mass to 50 kg, rooms of 1
// to 2000 m³. Ideal gas at 25 °C and 1 atm. Compare it with [AirLimits].
func RoomCO2(mass quantity.Mass, room quantity.Volume) (RoomRise, error) {
	err := FirstError(Within("mass", mass, 0, 50000, "g", "expected a cylinder of the size used in the hobby"), Within("room", room, 1000, 2e6, "L", "expected a room of 1 to 2000 m³"))
	if err != nil {
		return RoomRise{}, err
	}
	return RoomRise{math.Min(float64(mass)/molarMassCO2*molarVolume25/float64(room), 1),
		Working{equationRoom, []Input{Given("mass", mass, "g"), Given("room", room, "L")}, Remarks("nobody airs the room, and the gas mixes evenly; it is heavier than air and gathers near the floor, so low places are worse")},
		[]Caution{CautionCO2Cylinder}}, nil
}

const molarVolume25 = 8.314462618 * (25 + zeroCelsius) / 101.325 // L/mol of an ideal gas at 25 °C and 1 atm
