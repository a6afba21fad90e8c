package chart

import (
	"math"
	"strconv"
)

// dayTick is a mark on the time axis, named in full and in short.
type dayTick struct {
	day         int
	long, short string
	under       bool // the name is under the tick, for a day, else beside it, in the month or year that begins
}

// dayTicks marks whole days, weeks (from Monday), months or years in lo..hi: the finest of them whose names fit into
// width, at most most. long reports whether the full names fit.
func dayTicks(lo, hi, width float64, most int, w Words) (ticks []dayTick, long bool) {
	room := func(name func(dayTick) string) bool {
		for i := 1; i < len(ticks); i++ {
			if float64(ticks[i].day-ticks[i-1].day)/(hi-lo)*width < textWidth(name(ticks[i-1]))+10 {
				return false
			}
		}
		return true
	}
	for _, step := range [...]int{1, 2, 7, 14} {
		if (hi-lo)/float64(step) <= float64(most) {
			ticks = weekTicks(lo, hi, step, w)
			if room(func(t dayTick) string { return t.short }) {
				return ticks, false
			}
		}
	}
	for step := 1; ; step = nextMonths(step) {
		if (hi-lo)/(30*float64(step)) > float64(most)+1 {
			continue
		}
		ticks = monthTicks(lo, hi, step, w)
		if len(ticks) > most || !room(func(t dayTick) string { return t.short }) {
			continue
		}
		return ticks, room(func(t dayTick) string { return t.long })
	}
}

func nextMonths(step int) int {
	switch step {
	case 1:
		return 3
	case 3:
		return 6
	case 6:
		return 12
	}
	switch n := step / 12; strconv.Itoa(n)[0] {
	case '2':
		return step / 2 * 5
	default:
		return step * 2
	}
}

func weekTicks(lo, hi float64, step int, w Words) (ticks []dayTick) {
	const monday = 4 // 1970-01-05; ISO 8601 begins weeks on Monday
	for d := monday + step*floorDiv(int(math.Ceil(lo))-monday+step-1, step); float64(d) <= hi; d += step {
		name := w.dayMonth(d)
		ticks = append(ticks, dayTick{d, name, name, true})
	}
	return ticks
}

// monthTicks marks the first of every step-th month; January bears the year where others went before it.
func monthTicks(lo, hi float64, step int, w Words) (ticks []dayTick) {
	y, m, _ := civil(int(math.Floor(lo)))
	at := floorDiv(y*12+m-1, step) * step
	for ; ; at += step {
		y, m = floorDiv(at, 12), at-12*floorDiv(at, 12)+1
		d := Day(y, m, 1)
		if float64(d) > hi {
			return ticks
		}
		if float64(d) < lo {
			continue
		}
		t := dayTick{d, w.Months[m-1], w.ShortMonths[m-1], false}
		if m == 1 && (len(ticks) > 0 || step > 1) {
			t.long = strconv.Itoa(y)
			t.short = t.long
		}
		ticks = append(ticks, t)
	}
}
