package words

import "slipleaf/build/quantity"

// Locale is how pages speak: a language's words and a system of units.
type Locale struct {
	*Words
	Units quantity.System
}
