// Package growth turns a journal into facts: how much of each plant stood in each tank and when, how fast it grows, when
// it will next be trimmed, what it yields and which plants earn their space. The calculations themselves are in packages reckon and dynamics.
// It is pure: the date is a parameter, and random draws are seeded.
package growth
