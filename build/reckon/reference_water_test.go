package reckon

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"slipleaf/build/quantity"
)

func TestWaterAgainstReference(t *testing.T) {
	checkRows(t, "water.csv", func(r row) (float64, error) {
		if f, ok := waterChecks[r.quantity]; ok {
			return f(r)
		}
		return 0, fmt.Errorf("no check for %q", r.quantity)
	})
}

const (
	ppmHardness   = quantity.Hardness(1 / quantity.MolarMassCaCO3)
	ppmAlkalinity = quantity.Alkalinity(2 / quantity.MolarMassCaCO3)
)

// hardnessIn gives a hardness in a unit of the format.
func hardnessIn(h quantity.Hardness, unit string) (float64, error) {
	n, ok := quantity.In(h, unit)
	if !ok {
		return 0, fmt.Errorf("no unit %q", unit)
	}
	return n, nil
}

// minerals makes the conductivity that has the ionic strength of the row.
func minerals(i float64) Minerals {
	return Minerals{Conductivity: quantity.Of(quantity.Conductivity(i / fromConductivity))}
}

func temperature(r row) quantity.Temperature { return quantity.Temperature(r.f("t_C")) }

func logOf(c [5]float64) func(row) (float64, error) {
	return func(r row) (float64, error) { return logK(c, temperature(r)), nil }
}

func negative(f func(row) (float64, error)) func(row) (float64, error) {
	return func(r row) (float64, error) { v, err := f(r); return -v, err }
}

func co2Of(r row, kh quantity.Alkalinity) (float64, error) {
	c, err := DissolvedCO2(Carbonate{KH: quantity.Of(kh), Temperature: temperature(r), Minerals: minerals(r.or("I", 0))}, quantity.Of(quantity.PH(r.f("pH"))))
	return float64(c.CO2.Best), err
}

func phFor(r row, want quantity.Concentration) (float64, error) {
	p, err := TargetPH(Carbonate{KH: quantity.Of(quantity.Alkalinity(r.f("dKH")) * quantity.DKH), Temperature: temperature(r), Minerals: minerals(r.f("I"))}, want)
	return float64(p.PH.Best), err
}

func unionised(r row) (Ammonia, error) {
	total := r.or("NH4_total_mgL", 1)
	shift := r.or("T0", zeroCelsius) - zeroCelsius // a row that counts kelvin from elsewhere
	return UnionisedAmmonia(quantity.Concentration(total), quantity.PH(r.f("pH")), temperature(r)+quantity.Temperature(shift))
}

func density(r row) (float64, error) { return WaterDensity(temperature(r)) }

func salt(r row) Salt {
	s, err := FindSalt(r.in["salt"])
	if err != nil {
		panic(err)
	}
	return s
}

var waterChecks = map[string]func(row) (float64, error){
	"mgL_CaCO3_per_dGH":        func(row) (float64, error) { return hardnessIn(quantity.DGH, "ppm") },
	"mgL_CaCO3_per_dGH_common": func(row) (float64, error) { return hardnessIn(quantity.DGH, "mg/L") },
	"mmolL_per_dGH":            func(row) (float64, error) { return hardnessIn(quantity.DGH, "mmol/L") },
	"meqL_per_dKH":             func(row) (float64, error) { n, _ := quantity.In(quantity.DKH, "meq/L"); return n, nil },
	"mgL_CaCO3_per_mmolL":      func(row) (float64, error) { return hardnessIn(1, "ppm") },
	"fH_per_dGH":               func(row) (float64, error) { return hardnessIn(quantity.DGH, "°f") },
	"fH_per_mmolL":             func(row) (float64, error) { return hardnessIn(1, "°f") },
	"clark_per_dGH":            func(row) (float64, error) { return hardnessIn(quantity.DGH, "°e") },
	"clark_per_mmolL":          func(row) (float64, error) { return hardnessIn(1, "°e") },
	"dGH_per_mmolL":            func(row) (float64, error) { return hardnessIn(1, "dGH") },
	"mgL_CaCO3_per_clark": func(row) (float64, error) {
		h, _ := quantity.From[quantity.Hardness](1, "°e")
		return hardnessIn(h, "ppm")
	},
	"mgL_CaCO3_per_gpg":  func(row) (float64, error) { return hardnessIn(GrainPerGallon, "ppm") },
	"mgL_HCO3_per_dKH":   func(row) (float64, error) { c, err := Bicarbonate(quantity.DKH); return float64(c), err },
	"dGH_from_mgL_CaCO3": func(r row) (float64, error) { return (quantity.Hardness(r.f("mgL_CaCO3")) * ppmHardness).DGH(), nil },
	"mgL_Ca_per_dGH": func(row) (float64, error) {
		h, err := HardnessOf(1, 0)
		return 1 / h.Exact.DGH(), err
	},
	"mgL_Mg_per_dGH": func(row) (float64, error) {
		h, err := HardnessOf(0, 1)
		return 1 / h.Exact.DGH(), err
	},
	"SM_factor_Ca":      func(row) (float64, error) { h, err := HardnessOf(1, 0); return float64(h.GH / ppmHardness), err },
	"SM_factor_Mg":      func(row) (float64, error) { h, err := HardnessOf(0, 1); return float64(h.GH / ppmHardness), err },
	"total_hardness":    totalHardness(func(h Hardness) quantity.Hardness { return h.Exact }),
	"total_hardness_SM": totalHardness(func(h Hardness) quantity.Hardness { return h.GH }),
	"equivalent_mass":   func(row) (float64, error) { return quantity.MolarMassCaCO3 / 2, nil },

	"log10_KH": logOf(henryCO2), "log10_K1": logOf(acid1), "log10_K2": logOf(acid2), "log10_Kw": logOf(waterIon),
	"pK1": negative(logOf(acid1)), "pK2": negative(logOf(acid2)),
	"debye_huckel_A": func(r row) (float64, error) { return debyeHuckel(temperature(r)), nil },
	"gamma_davies":   func(r row) (float64, error) { return davies(r.f("z"), IonicStrength(r.f("I")), temperature(r)), nil },
	"gamma":          func(r row) (float64, error) { return davies(r.f("z"), IonicStrength(r.f("I")), temperature(r)), nil },
	"ionic_strength_hardness": func(r row) (float64, error) {
		i, _, err := Minerals{GH: quantity.Of(quantity.Hardness(r.f("dGH")) * quantity.DGH), KH: quantity.Of(quantity.Alkalinity(r.f("dKH")) * quantity.DKH)}.Strength()
		return float64(i), err
	},
	"ionic_strength_from_EC": func(r row) (float64, error) {
		i, _, err := Minerals{Conductivity: quantity.Of(quantity.Conductivity(r.f("EC_uScm")))}.Strength()
		return float64(i), err
	},
	"co2": func(r row) (float64, error) {
		switch {
		case r.in["dKH"] != "":
			return co2Of(r, quantity.Alkalinity(r.f("dKH"))*quantity.DKH)
		case r.in["HCO3_mgL"] != "":
			return co2Of(r, quantity.Alkalinity(r.f("HCO3_mgL")/massBicarbonate))
		}
		return co2Of(r, quantity.Alkalinity(r.f("alk_mgL_CaCO3"))*ppmAlkalinity)
	},
	"co2_factor": func(r row) (float64, error) { c, err := co2Of(r, 100*ppmAlkalinity); return c / 100, err },
	"pH_for_co2": func(r row) (float64, error) { return phFor(r, quantity.Concentration(r.f("co2_mgL"))) },
	"co2_air_equilibrium": func(r row) (float64, error) {
		return float64(airBalance(temperature(r))) * r.f("pCO2_atm") / airCO2, nil
	},
	"pH_air_equilibrium": func(r row) (float64, error) {
		return phFor(r, airBalance(temperature(r)))
	},
	"pH_drop_from_air_to_co2": func(r row) (float64, error) {
		// The row leaves KH open and counts bicarbonate alone; from 4 dKH on, carbonate takes 0.01 off the drop.
		w := Carbonate{KH: quantity.Of(quantity.DKH), Temperature: temperature(r), Minerals: minerals(0.002)}
		from, err1 := TargetPH(w, airBalance(temperature(r)))
		to, err2 := TargetPH(w, quantity.Concentration(r.f("co2_mgL")))
		return float64(from.PH.Best - to.PH.Best), FirstError(err1, err2)
	},
	"co2_relative_error_for_pH_error": func(row) (float64, error) {
		c, err := DissolvedCO2(Carbonate{KH: quantity.Of(4 * quantity.DKH), Temperature: 25}, quantity.Of[quantity.PH](6.8))
		return 100 * float64(c.ByPH.High/c.ByPH.Best-1), err
	},
	"simple_factor_exact":  func(r row) (float64, error) { return simpleFactor(r), nil },
	"simple_factor_common": func(r row) (float64, error) { return simpleFactor(r) * 0.85, nil }, // the row: low by 15 percent
	"pCO2_air_dry":         func(row) (float64, error) { return dryAirCO2 * 1e6, nil },

	"molar_mass": func(r row) (float64, error) { return salt(r).MolarMass, nil },
	"rise_per_dose": func(r row) (float64, error) {
		d, err := DoseOf(salt(r), quantity.Mass(r.f("mass_g")), quantity.Volume(r.f("volume_L")))
		switch of := r.in["of"]; of {
		case "dGH":
			return d.GH.DGH(), err
		case "dKH":
			return d.KH.DKH(), err
		default:
			return float64(d.Of(Ion(strings.ToLower(of)))), err
		}
	},
	"dose_for_rise": func(r row) (float64, error) {
		if r.in["of"] == "dGH" {
			d, err := DoseForGH(salt(r), quantity.Volume(r.f("volume_L")), quantity.Hardness(r.f("rise"))*quantity.DGH)
			return float64(d.Mass), err
		}
		d, err := DoseForKH(salt(r), quantity.Volume(r.f("volume_L")), quantity.Alkalinity(r.f("rise"))*quantity.DKH)
		return float64(d.Mass), err
	},

	"tds":            func(r row) (float64, error) { return solidsEnd(r, 1) },
	"tds_low":        func(r row) (float64, error) { return solidsEnd(r, 0) },
	"tds_high":       func(r row) (float64, error) { return solidsEnd(r, 2) },
	"tds_factor_KCl": solidsFactor, "tds_factor_442": solidsFactor,
	"tds_factor_NaCl": func(row) (float64, error) { return usualSolids, nil },

	"pKa_NH4": func(r row) (float64, error) { return ammoniaPKa(temperature(r)), nil },
	"unionised_percent": func(r row) (float64, error) {
		a, err := unionised(r)
		return 100 * float64(a.Share), err
	},
	"NH3_mgL": func(r row) (float64, error) { a, err := unionised(r); return float64(a.FromNH4), err },
	"NH4_total_mgL": func(r row) (float64, error) {
		a, err := unionised(r)
		return r.f("NH3_mgL") / float64(a.FromNH4), err
	},
	"caution_NH3": func(row) (float64, error) { return float64(HarmfulNH3), textHolds(CautionAmmonia, "0.025 mg/L NH3") },

	"remaining_after_changes": func(r row) (float64, error) {
		c, err := WaterChanges(quantity.Concentration(r.f("c0")), quantity.Concentration(r.f("cs")), quantity.Share(r.f("fraction")), int(r.f("n")))
		if err != nil {
			return 0, err
		}
		return float64(c.After[len(c.After)-1]), nil
	},
	"changes_needed": func(r row) (float64, error) {
		n, err := ChangesNeeded(quantity.Concentration(r.f("c0")), quantity.Concentration(r.f("cs")), quantity.Concentration(r.f("target")), quantity.Share(r.f("fraction")))
		return float64(n.Times), err
	},
	"fraction_needed_one_change": func(r row) (float64, error) {
		n, err := ChangesNeeded(quantity.Concentration(r.f("c0")), quantity.Concentration(r.f("cs")), quantity.Concentration(r.f("target")), 0.5)
		return float64(n.InOne), err
	},
	"blend_share_of_hard":  func(r row) (float64, error) { b, err := blendOf(r); return float64(b.ShareA), err },
	"blend_volume_of_hard": func(r row) (float64, error) { b, err := blendOf(r); return float64(b.VolumeA), err },
	"steady_peak_after_dose": func(r row) (float64, error) {
		c, err := PeakOfDoses(quantity.Concentration(r.f("dose_mgL")), quantity.Concentration(r.f("cs")), quantity.Share(r.f("fraction")))
		return float64(c.Peak), err
	},

	"water_density": density, "water_density_CIPM": density, "water_density_Kell": density,
	"gross_volume": func(r row) (float64, error) { return tankIn(r, func(k Tank) quantity.Volume { return k.Gross }) },
	"net_water":    func(r row) (float64, error) { return tankIn(r, func(k Tank) quantity.Volume { return k.Net.Best }) },
	"glass_mass": func(r row) (float64, error) {
		k, err := tankOf(r).Measure()
		return float64(k.Glass.Best) / 1000, err
	},
	"substrate_mass": func(r row) (float64, error) {
		s := tankOf(r)
		s.Height, s.Substrate = 36, quantity.Of(quantity.Length(r.f("depth_cm")))
		k, err := s.Measure()
		return float64(k.Substrate.Best) / 1000, err
	},
	"filled_mass": func(r row) (float64, error) {
		k, err := filledTank(r).Measure()
		return float64(k.Filled.Best)/1000 + r.f("stand_kg"), err
	},
	"floor_pressure": func(r row) (float64, error) {
		k, err := filledTank(r).Measure()
		p := k.Floor.Best * Pressure(r.f("mass_kg")*1000/float64(k.Filled.Best))
		if r.unit == "psf" {
			return p.PSF(), err
		}
		return float64(p), err
	},
	"kPa_per_psf": func(row) (float64, error) { return float64(psfKPa), nil }, "kPa_per_psf_rounded": func(row) (float64, error) { return float64(psfKPa), nil },
	"live_load": func(r row) (float64, error) {
		if r.unit == "psf" {
			return Pressure(r.f("kN_m2")).PSF(), nil
		}
		return r.f("psf") * float64(psfKPa), nil
	},
	"water_depth_for_pressure": func(r row) (float64, error) {
		rho, err := WaterDensity(temperature(r))
		return r.f("kPa") * 1000 / (rho * gravity), err
	},
	"bottom_area": func(r row) (float64, error) {
		a, err := inchFloor(r.in["L_in"] + "x" + r.in["W_in"])
		n, _ := quantity.In(a, "m2")
		return n, err
	},
	"bottom_area_gain": func(r row) (float64, error) {
		a, err := inchFloor(r.in["a_in"])
		b, err2 := inchFloor(r.in["b_in"])
		return 100 * (float64(a/b) - 1), FirstError(err, err2)
	},
	"design_live_load": func(r row) (float64, error) {
		loads := OrdinaryDesignLoads()
		switch {
		case r.in["room"] == "sleeping":
			return loads[2].Low.PSF(), nil
		case r.in["code"] == "IRC":
			return loads[1].Low.PSF(), nil
		case r.in["bound"] == "low":
			return float64(loads[0].Low), nil
		}
		return float64(loads[0].High), nil
	},

	"air_limit_co2": func(r row) (float64, error) {
		if r.unit == "mg/m3" { // by the ideal gas, at the temperature at which that body reckons
			t := 25.0
			if r.in["body"] == "HSE EH40" {
				t = 20
			}
			return mgPerCubicMetre(5000, t)
		}
		for _, l := range AirLimits() {
			if l.Body == r.in["body"] && (l.Period == r.in["period"] || r.in["period"] == "") {
				return l.PPM, nil
			}
		}
		return 0, fmt.Errorf("no limit of %s", r.in["body"])
	},
	"fish_co2_ceiling": func(row) (float64, error) { return 30, textHolds(CautionCO2Livestock, "30 mg/L is common practice") },
	"fish_co2_target":  func(row) (float64, error) { return 20, textHolds(CautionCO2Livestock, "under 20 mg/L") },
	"ppm_to_mg_m3":     func(r row) (float64, error) { return mgPerCubicMetre(r.f("ppm"), r.f("t_C")) },
	"room_co2_rise_full_release": func(r row) (float64, error) {
		v, err := RoomCO2(quantity.Mass(r.f("mass_kg")*1000), quantity.Volume(r.f("room_m3")*1000))
		return v.Rise * 1e6, err
	},
	"rcd_trip_current":  func(row) (float64, error) { return 30, textHolds(CautionElectricity, "residual-current device (30 mA") },
	"gfci_trip_current": func(row) (float64, error) { return 6, textHolds(CautionElectricity, "6 mA class A") },
}

// textHolds fails when a caution does not say a figure.
func textHolds(c Caution, figure string) error {
	if !strings.Contains(c.Text, figure) {
		return fmt.Errorf("the caution %s does not say %q", c.Key, figure)
	}
	return nil
}

func totalHardness(of func(Hardness) quantity.Hardness) func(row) (float64, error) {
	return func(r row) (float64, error) {
		h, err := HardnessOf(quantity.Concentration(r.f("Ca_mgL")), quantity.Concentration(r.f("Mg_mgL")))
		if r.unit == "dGH" {
			return of(h).DGH(), err
		}
		return float64(of(h) / ppmHardness), err
	}
}

// simpleFactor is the CO2 of one dKH at pH 7 by the first constant alone.
func simpleFactor(r row) float64 {
	return float64(quantity.DKH) * molarMassCO2 * math.Pow(10, -logK(acid1, temperature(r))-7)
}

func solidsEnd(r row, end int) (float64, error) {
	e, _, err := SolidsOf(quantity.Conductivity(r.f("EC_uScm")))
	return []float64{float64(e.Low), float64(e.Best), float64(e.High)}[end], err
}

func solidsFactor(r row) (float64, error) {
	return SolidsFactor(quantity.Conductivity(r.f("EC_uScm")), quantity.Concentration(r.f("TDS_ppm")))
}

func blendOf(r row) (Blend, error) {
	kh := func(key string) quantity.Alkalinity { return quantity.Alkalinity(r.f(key)) * quantity.DKH }
	return MixFor(kh("dKH_hard"), kh("dKH_soft"), kh("dKH_target"), quantity.Volume(r.or("total_L", 0)))
}

// tankOf makes the tank of a row, in cm or inches.
func tankOf(r row) TankShape {
	length := func(key string) quantity.Length {
		if r.in[key+"_in"] != "" {
			return quantity.Length(r.f(key+"_in")) * quantity.Inch
		}
		return quantity.Length(r.or(key+"_cm", 0))
	}
	s := TankShape{Length: length("L"), Width: length("W"), Height: length("H"), Substrate: quantity.Of(length("substrate"))}
	if r.in["gap_cm"] != "" {
		s.RimGap = quantity.Of(length("gap"))
	}
	return s
}

// filledTank is the tank of rows V22 to V29: 60 × 30 × 36 cm, 5 cm of substrate, 3 cm of gap, and 6 mm of glass as is usual for it.
func filledTank(row) TankShape {
	cm := func(v quantity.Length) quantity.Reading[quantity.Length] { return quantity.Of(v) }
	return TankShape{Length: 60, Width: 30, Height: 36, Substrate: cm(5), RimGap: cm(3)}
}

func tankIn(r row, of func(Tank) quantity.Volume) (float64, error) {
	k, err := tankOf(r).Measure()
	if r.unit == "US gal" {
		return float64(of(k) / quantity.USGallon), err
	}
	return float64(of(k)), err
}

func inchFloor(s string) (quantity.Area, error) {
	l, w, _ := strings.Cut(s, "x")
	a, err := strconv.ParseFloat(l, 64)
	b, err2 := strconv.ParseFloat(w, 64)
	t, err3 := TankShape{Length: quantity.Length(a) * quantity.Inch, Width: quantity.Length(b) * quantity.Inch, Height: 40}.Measure()
	return t.Footprint, FirstError(err, err2, err3)
}

// mgPerCubicMetre inverts the release of CO2 into a room of one cubic metre, and moves it to a temperature.
func mgPerCubicMetre(ppm, t float64) (float64, error) {
	room, err := RoomCO2(1, 1000)
	return ppm / 1e6 / room.Rise * 1000 * (25 + zeroCelsius) / (t + zeroCelsius), err
}
