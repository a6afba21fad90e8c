package message

import (
	"regexp"
	"sync"
)

// lazy is a regular expression that is compiled when it is first asked for: reading a message takes a hundred of them,
// and most commands read none.
type lazy = func() *regexp.Regexp

func pattern(text string) lazy {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}
