package page

import (
	"slipleaf/build/journal"
	"slipleaf/build/sheet"
)

// SheetOf is the sheet of one plant of a parcel, for tests.
func (b *Site) SheetOf(p *journal.Parcel) sheet.Sheet { return b.sheetOf(p) }
