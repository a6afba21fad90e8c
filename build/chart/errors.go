package chart

import (
	"errors"
	"fmt"
	"math"
)

// Kinds of error, for errors.Is. What wraps them says where.
var (
	ErrEmpty  = errors.New("nothing to draw")
	ErrNumber = errors.New("not a number that can be drawn")
	ErrDay    = errors.New("day outside the years 1 to 9999")
	ErrOrder  = errors.New("out of order")
	ErrID     = errors.New("not usable as an id: a letter, then letters, figures, - or _")
)

// wrong says which part of a series cannot be drawn; index is -1 where the part is no list.
func wrong(part string, index int, err error) error {
	if index < 0 {
		return fmt.Errorf("chart: %s: %w", part, err)
	}
	return fmt.Errorf("chart: %s[%d]: %w", part, index, err)
}

// Largest is the greatest magnitude that is drawn; smallest the least, below which a value counts as 0. Both are far
// beyond what anyone counts in a tank, and keep every sum finite and every label short.
const (
	Largest  = 1e9
	smallest = 1e-9
)

func checkNumbers(part string, index int, values ...float64) error {
	for _, v := range values {
		if math.IsNaN(v) || math.Abs(v) > Largest {
			return wrong(part, index, ErrNumber)
		}
	}
	return nil
}

func checkDays(part string, index int, days ...float64) error {
	for _, d := range days {
		if math.IsNaN(d) || d < firstDay || d > lastDay {
			return wrong(part, index, ErrDay)
		}
	}
	return nil
}

func checkID(id string) error {
	for i, r := range []byte(id) {
		letter := r|0x20 >= 'a' && r|0x20 <= 'z'
		if !letter && (i == 0 || !(r >= '0' && r <= '9' || r == '-' || r == '_')) {
			return wrong("id", -1, ErrID)
		}
	}
	if id == "" {
		return wrong("id", -1, ErrID)
	}
	return nil
}

// snap takes what is too small to draw for 0.
func snap(v float64) float64 {
	if math.Abs(v) < smallest {
		return 0
	}
	return v
}
