package dynamics

import "math"

// Point is a size that is on a day, as the regression uses it.
type Point struct {
	Day, Size float64
	Left      bool // not counted: what a change of that day left of the count
}

// Segment is a stretch of a series in which nothing was cut, lost or planted.
type Segment []Point

// Segments cuts a series at its changes. A count on the day of a change is before it, and the next segment starts
// that day with what is left; a change on a day without a count starts a segment with no point of its own, and so does
// one that takes as much as was counted or more. A stretch without any point is no segment.
func (s Series) Segments() ([]Segment, error) {
	vs, err := s.visits()
	if err != nil {
		return nil, err
	}
	return segments(vs), nil
}

func segments(vs []visit) []Segment {
	var out []Segment
	var now Segment
	end := func() {
		if len(now) > 0 {
			out = append(out, now)
		}
		now = nil
	}
	for _, v := range vs {
		if v.counted > 0 {
			now = append(now, Point{Day: v.day, Size: math.Exp(v.log)})
		}
		if !v.changed && !v.nothing {
			continue
		}
		end()
		if left := math.Exp(v.log) + v.change; v.counted > 0 && v.changed && left > 0 {
			now = Segment{{Day: v.day, Size: left, Left: true}}
		}
	}
	end()
	return out
}

// SegmentNumbers are the segments, from 1, of the counts and changes of a series: day by day in order of time, the counts of
// a day first, each in the order in which they stand. A change is in the segment that it ends; one before any count is in
// the first.
func (s Series) SegmentNumbers() ([]int, error) {
	vs, err := s.visits()
	if err != nil {
		return nil, err
	}
	lines := map[float64]int{} // of each day
	for _, c := range s.Counts {
		lines[c.Day]++
	}
	for _, c := range s.Changes {
		lines[c.Day]++
	}
	var out []int
	segment, points := 1, 0 // points so far in the segment
	for _, v := range vs {
		for range lines[v.day] {
			out = append(out, segment)
		}
		points += min(v.counted, 1)
		if (v.changed || v.nothing) && points > 0 {
			segment, points = segment+1, 0
			if v.counted > 0 && v.changed && math.Exp(v.log)+v.change > 0 {
				points = 1
			}
		}
	}
	return out, nil
}
