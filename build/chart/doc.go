// Package chart makes accessible SVG from plain series: growth with its fit and forecast, a parameter over time, a
// ranking of dots and whiskers, a range with a tick, a year by month, the tree of what was passed on and a tally of marks.
//
// It imports nothing of ours. Days are whole day numbers since 1970-01-01 (see [Day]); every sentence, name of a month and heading
// comes from the caller; the package does no statistics. Every chart comes in two layouts, 576 and 328 units wide, of
// which the page shows one by its style sheet, so that text of 14 units stays readable at 320 px, and with a [Table]
// made from the same series, which the page puts one disclosure away.
//
// The output holds no style attribute, no script and no colour. A page styles it by these classes:
//
//	chart        the svg element; with broad or narrow (which layout) and, for small multiples, compact
//	broad narrow compact
//	inset        a range, a tally or shares: a small svg in running text
//	grid axis    thin lines behind the figures; the base line and its ticks
//	tick lab     text on an axis; text beside a thing
//	strong       text that carries the main figure
//	la           a scientific name
//	inband       text that lies in the tolerance
//	leaf clay slate  voice of a text: what grew, what was cut, what is ahead or is wanted
//	band         interval of the fitted line
//	haze         interval of the line ahead
//	fit ahead    fitted line, dotted line into the forecast
//	drop         dotted line from before a cut to after it
//	pt           a count or reading: a disc with a paper core
//	limit        a reading below what the test can see: a hollow triangle that points down
//	nil          a count of nothing: a cross on the base line
//	trim planted lost  changes on the base line: a tick, a tick with a triangle, a tick with a cross
//	window hatch the hatched window of a forecast, and its hatching
//	goal         the size or value that is wanted
//	now lead     today; a thin line from a text to its thing
//	good-band good-edge  the tolerance behind a parameter, and its limits
//	whisker est  interval and value of a row
//	base ok here there off  a range: its line, the band, the reader's tick, the grower's, and the arrow of a value off the line
//	column none  a month: its bar in one of the voices; a short line where there was nothing
//	trunk bough twig soil  a tree: its trunk, the branch of a plant, the twig of a parcel, what it grows from
//	gap          the free ground behind a mark
//	well gone silent  outcome marks: established, lost, no news
//	bar          a part of a bar of shares, with one of the three above
package chart
