// Package growth turns a journal into facts: how much of each plant stood in each tank and when, how fast it grows, when
// it will next be trimmed, what it yields and which plants deserve the space. It follows the rules of the design's
// chapter on growth; the sums themselves belong to package reckon. It is pure: the day is handed in, and what is drawn
// at random is seeded.
package growth
