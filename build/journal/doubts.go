package journal

// doubtful asks about the readings of a tank that can hardly be, each against the last that was not asked about. One that
// is found again is taken for true.
func (l *linker) doubtful(t *Tank) {
	l.doubtAll(t.Source, "tap", t.Tap, Parameters{}, false)
	l.doubtAll(t.Source, "target", t.Target, Parameters{}, false)
	var last Parameters
	asked := map[string]Parameters{} // the reading before, where it was asked about
	changed := false
	for _, e := range t.Entries {
		changed = changed || len(e.Doses) > 0 || e.WaterChange.Share.High() >= 0.4
		if e.Parameters == (Parameters{}) {
			continue
		}
		for _, x := range parameters {
			if one := e.Parameters.Only(x.key); one != (Parameters{}) && !l.again(x, one, asked) && l.doubtOne(e.Source, "parameters", x, one, last, changed) {
				asked[x.key] = one
			} else if one != (Parameters{}) {
				x.keep(&last, &one)
				delete(asked, x.key)
			}
		}
		changed = false
	}
}

// again reports whether a reading that was asked about is found once more.
func (l *linker) again(x parameter, one Parameters, asked map[string]Parameters) bool {
	before, was := asked[x.key]
	why, _ := x.doubt(&one, &before, false)
	return was && why == ""
}

// doubtAll asks about what can hardly be of some readings.
func (l *linker) doubtAll(s Source, at string, p, last Parameters, changed bool) {
	if p == (Parameters{}) {
		return
	}
	for _, x := range parameters {
		l.doubtOne(s, at, x, p, last, changed)
	}
}

func (l *linker) doubtOne(s Source, at string, x parameter, p, last Parameters, changed bool) bool {
	why, hint := x.doubt(&p, &last, changed)
	if why != "" {
		l.complain(ruleDoubtful, s, at+"."+x.key, x.key+" "+why, hint)
	}
	return why != ""
}
