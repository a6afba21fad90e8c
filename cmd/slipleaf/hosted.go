package main

import (
	_ "embed"
	"regexp"
	"strings"

	"slipleaf/build/change"
)

// hosted is the file by which a host builds the site, with {command} for the line that does it.
//
//go:embed hosted.toml
var hosted string

// sourceName is the address of a repository, or a folder that holds one: nothing that a shell takes for more than a word.
var sourceName = regexp.MustCompile(`^[A-Za-z0-9/.][A-Za-z0-9/._~:@+-]*$`)

// hostedFile is netlify.toml for a journal that lies alone in its repository: its one command fetches the program's source,
// builds it, and publishes what lies beside the file.
func hostedFile(source string) (change.File, error) {
	if !sourceName.MatchString(source) {
		return change.File{}, wrongUse("--hosted: %q is no address of a repository, as in https://git.example/slipleaf.git", source)
	}
	command := `d=$(mktemp -d) && git clone --quiet --depth 1 ` + source + ` "$d" && go build -C "$d" -o "$d/program" ./cmd/slipleaf && "$d/program" publish . --to www`
	return change.File{Path: "netlify.toml", After: []byte(strings.Replace(hosted, "{command}", command, 1))}, nil
}
