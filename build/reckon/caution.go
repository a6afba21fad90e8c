package reckon

// Caution is a warning that belongs beside a result or a page: a key that a file of words can translate, and it in English.
type Caution struct{ Key, Text string }

// The cautions. Sources: the tables and references beside the sums; what has none is common practice.
var (
	CautionCO2Livestock = Caution{"co2-livestock", "CO2 can kill fish and shrimp. 30 mg/L is common practice as a ceiling, not a target; published targets for fish are lower " +
		"(under 20 mg/L). Raise it slowly over days, watch the animals, turn it off at night or add air. If they gasp at the surface: CO2 off, air on."}
	CautionCO2Cylinder = Caution{"co2-cylinder", "A CO2 cylinder is under high pressure, and the gas can suffocate in a closed room. Keep it upright, secured, ventilated and away from heat; " +
		"have it filled and fitted by somebody trained. Workplace limits are 5000 ppm over 8 h; emptying one cylinder can exceed that many times over in a small room. Follow local regulations."}
	CautionCarbonateOnly = Caution{"carbonate-only", "This assumes that all alkalinity is carbonate and that only CO2 lowers the pH, both measured in the same water at the same time. " +
		"Phosphate buffers, humic acids, tannins and acid substrates make the figure too high. Treat it as a range, never as a decimal."}
	CautionElectricity = Caution{"electricity", "Electricity near water can kill. Use a residual-current device (30 mA; 6 mA class A in North America), give every cable a drip loop, " +
		"unplug before hands go into the water. Follow local regulations; ask a licensed electrician."}
	CautionFloor = Caution{"floor-load", "This is the weight, not a judgement of your floor. Span, joist direction, age and damage decide. Follow local regulations; ask a structural engineer above about 200 kg " +
		"on a timber floor (common practice), on any old or damaged floor, or if in doubt."}
	CautionSmallSteps = Caution{"small-steps", "Change hardness, KH and pH in small steps over days when animals live in the tank, and measure after each step."}
	CautionAmmonia    = Caution{"ammonia", "Un-ionised ammonia harms fish at long exposure from about 0.025 mg/L NH3. Opening a closed bag raises the pH, and the toxic share with it: throw bag water away."}
	CautionLightModel = Caution{"light-model", "A light model is accurate to about 40% either way. One measurement in this tank beats it."}
	CautionOxygen     = Caution{"oxygen", "Fish of warm water should not be below 5 mg/L for long, and 3 mg/L harms them (US EPA 1986, Ambient water quality criteria for dissolved oxygen). " +
		"Fish that gasp at the surface need air at once: stop added CO2, move the surface, change part of the water."}
	CautionPureSalt = Caution{"pure-salt", "The grams are for pure, dry salt of the named hydrate and for the net water, not the printed size of the tank. Check the label; a food or laboratory grade is not a medicine."}
)
