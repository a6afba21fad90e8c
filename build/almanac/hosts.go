package almanac

import (
	"regexp"
)

var addressHost = regexp.MustCompile(`https?://([^/\s"<>;,)]+)`)

// checkHosts holds every address of the tables to the table of hosts, which says for each whether it is an authority, a
// publisher, a flora or a university: no other address is in the almanac.
func checkHosts(hosts *table, all ...*table) {
	unused := map[string]row{}
	for _, r := range hosts.rows {
		r.one("kind", "authority", "publisher", "flora", "university")
		unused[r.must("host")] = r
	}
	known := map[string]bool{}
	for host := range unused {
		known[host] = true
	}
	for _, t := range all {
		for _, r := range t.rows {
			for _, cell := range r.fields {
				for _, m := range addressHost.FindAllStringSubmatch(cell, -1) {
					if !known[m[1]] {
						r.fault("address", "%s is not in hosts.csv", m[1])
					}
					delete(unused, m[1])
				}
			}
		}
	}
	for _, r := range hosts.rows {
		if _, ok := unused[r.text("host")]; ok {
			r.fault("host", "no address is there")
		}
	}
}
