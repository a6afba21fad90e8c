package main

import "time"

// knownZone reports whether there is a timezone of that name.
func knownZone(name string) bool {
	_, err := time.LoadLocation(name)
	return err == nil
}
