package main

import (
	"bufio"
	"maps"
	"slices"
	"strings"
	"testing"
)

func TestFiguresOfTests(t *testing.T) {
	got, events := figures{}, `{"Action":"attr","Test":"A","Key":"figure","Value":"kills survived, of send: 25"}
{"Action":"attr","Test":"A","Key":"other","Value":"x: 3"}
{"Action":"attr","Test":"A","Key":"figure","Value":"nothing"}
{"Action":"output","Test":"A","Output":"x: 4"}
no JSON
`
	addFigures(got, []byte(events))
	var said strings.Builder
	if (&checker{out: &said}).count(bufio.NewScanner(strings.NewReader(events))); said.String() != "   kills survived, of send: 25\n   nothing\n   no JSON\n" {
		t.Errorf("the checks print %q", said.String())
	}
	if want := (figures{"kills survived, of send": 25}); !maps.Equal(got, want) {
		t.Errorf("%v", got)
	}
	packages, err := countingPackages()
	if err != nil || len(packages) != 1 || !slices.Contains(packages[0].tests, "TestHostileAddressesAreRefused") || slices.Contains(packages[0].tests, "TestFiguresOfTests") {
		t.Errorf("%v, %v", packages, err)
	}
}

func TestTableOfFigures(t *testing.T) {
	got := tableOf(map[string]figures{
		"build/y": {"b": 1234567, "a": 12}, "build/z": {"c": 100}, fuzzInputs: {"build/x FuzzA": 1000, "build/gone FuzzB": 5}, fuzzSeconds: {"build/x FuzzA": 600},
	}, []target{{"./build/x", "FuzzA"}, {"./build/x", "FuzzNew"}})
	want := "\n| counted | |\n|---|---|\n| a | 12 |\n| b | 1,234,567 |\n| c | 100 |\n" +
		"\n| fuzz target | inputs tried | in |\n|---|---|---|\n| `FuzzA` in `build/x` | 1,000 | 10 min |\n| all | 1,000 | |\n\n"
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
