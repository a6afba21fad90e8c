package journal

// Keys lists the keys of every mapping of the format, by the mapping's name: the kinds of files (journal, tank, entry,
// plant, sent, page) and the parts within them. Schemas and help are checked against it.
func Keys() map[string][]string {
	return map[string][]string{
		"journal": keysOf(journalFields), "journal.sheet": keysOf(sheetFields), "journal.post": keysOf(postFields),
		"tank": keysOf(tankFields), "entry": keysOf(entryFields), "plant": keysOf(plantFields),
		"sent": keysOf(parcelFields), "page": keysOf(pageFields),
		"count": keysOf(countFields), "planting": keysOf(plantingFields), "trim": keysOf(trimFields),
		"loss": keysOf(lossFields), "dose": keysOf(doseFields), "water-change": keysOf(waterChangeFields),
		"lot": keysOf(lotFields), "photo": keysOf(photoFields), "where": keysOf(whereFields),
		"item": keysOf(itemFields), "report": keysOf(reportFields), "recipient": keysOf(recipientFields), "parameters": keysOf(parameterFields),
		"inside": keysOf(insideFields), "layer": keysOf(layerFields), "lamp": keysOf(lampFields), "co2": keysOf(co2Fields),
		"flow": keysOf(flowFields), "livestock": keysOf(livestockFields), "trim-when": keysOf(trimWhenFields),
		"friend": keysOf(friendFields), "profile": keysOf(profileFields),
	}
}
