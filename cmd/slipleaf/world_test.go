package main

import (
	"testing"
	"testing/fstest"
	"time"
)

// Today is the day at the tanks, not where the command runs: late in the evening in London it is tomorrow in Auckland.
func TestTodayIsTheJournalsDay(t *testing.T) {
	now := time.Date(2026, time.June, 10, 22, 30, 0, 0, time.UTC)
	defer func(zone *time.Location) { time.Local = zone }(time.Local)
	time.Local = time.UTC
	w := world{Now: func() time.Time { return now }}
	for journal, want := range map[string]string{
		"title: A\ntimezone: Europe/London\n": "2026-06-10", "title: A\ntimezone: Pacific/Auckland\n": "2026-06-11", "timezone: Pacific/Honolulu\ntitle: A\n": "2026-06-10",
		"title: A\ntimezone: \"Asia/Tokyo\" # here\n": "2026-06-11", "title: A\ntimezone: UTC\n": "2026-06-10",
		"title: A\ntimezone: No/Such\n": "2026-06-10", "title: A\ntimezone: ../../etc/passwd\n": "2026-06-10", "title: A\n": "2026-06-10", "{": "2026-06-10", "": "2026-06-10",
	} {
		day, err := w.day("", fstest.MapFS{"journal.yaml": {Data: []byte(journal)}})
		if err != nil || day.String() != want {
			t.Errorf("%q: %s, %v; want %s", journal, day, err, want)
		}
	}
	if day, err := w.day("2026-01-02", fstest.MapFS{"journal.yaml": {Data: []byte("timezone: Pacific/Auckland\n")}}); err != nil || day.String() != "2026-01-02" {
		t.Error(day, err)
	}
}
