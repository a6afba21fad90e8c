package journal

// doubtful asks about the readings of a tank that can hardly be, each against the last that was not asked about. One that
// is found again is taken for true.
func (l *linker) doubtful(t *Tank) {
	l.doubtAll(t.Source, "tap", &t.Tap)
	l.doubtAll(t.Source, "target", &t.Target)
	var last Parameters
	asked := map[string]*Parameters{} // the reading before, where it was asked about
	changed := false
	for _, e := range t.Entries {
		changed = changed || len(e.Doses) > 0 || e.WaterChange.Share.High() >= 0.4
		if e.Parameters == (Parameters{}) {
			continue
		}
		var here Parameters
		for _, x := range parameters {
			if x.keep(&here, &e.Parameters) == readAbsent {
				continue
			}
			if !again(x, &e.Parameters, asked[x.key]) && l.doubtOne(e.Source, "parameters", x, &e.Parameters, &last, changed) {
				asked[x.key] = &e.Parameters
			} else {
				x.keep(&last, &e.Parameters)
				delete(asked, x.key)
			}
		}
		changed = false
	}
}

// again reports whether a reading is found once more after one that was asked about; before is nil where that was not so.
func again(x parameter, p, before *Parameters) bool {
	if before == nil {
		return false
	}
	why, _ := x.doubt(p, before, false)
	return why == ""
}

// doubtAll asks about what can hardly be of some readings that none was before.
func (l *linker) doubtAll(s Source, at string, p *Parameters) {
	if *p == (Parameters{}) {
		return
	}
	var none Parameters
	for _, x := range parameters {
		l.doubtOne(s, at, x, p, &none, false)
	}
}

func (l *linker) doubtOne(s Source, at string, x parameter, p, last *Parameters, changed bool) bool {
	why, hint := x.doubt(p, last, changed)
	if why != "" {
		l.complain(ruleDoubtful, s, at+"."+x.key, x.key+" "+why, hint)
	}
	return why != ""
}
