package journal

import "cmp"

// rule names a kind of complaint.
type rule uint8

// Rule is a kind of complaint that the reader makes.
type Rule struct {
	Name     string // stable, kebab-case: the "rule" of proof --json
	Severity Severity
	About    string // when it is made
	Cure     string // what to do, where the place says nothing better
}

const (
	ruleNoJournal rule = iota
	ruleEncoding
	ruleLimit
	ruleBadName
	ruleNameClash
	ruleSymlink
	ruleStray
	ruleNoTankFile
	ruleNoHead
	ruleOpenHead
	ruleEmptyHead
	ruleYAML
	ruleYAMLFeature
	ruleDuplicateKey
	ruleUnknownKey
	ruleMissingKey
	ruleNoValue
	ruleWrongShape
	ruleBadQuantity
	ruleBadNumber
	ruleBadDate
	ruleBadWord
	ruleBadText
	ruleBadAddress
	ruleBadRegion
	ruleBadLanguage
	ruleBadTimezone
	ruleBadCode
	ruleBadLot
	ruleImpossible
	ruleDoubtful
	ruleContradiction
	ruleUnknownPlant
	ruleWhichPlant
	ruleTakenFor
	ruleTaken
	ruleUnknownLot
	ruleBeforeTank
	ruleAfterTank
	ruleFutureDate
	ruleDateOrder
	ruleNoMeasure
	ruleMixedMeasure
	ruleOverTrimmed
	ruleDuplicateLot
	ruleLotChanged
	ruleDuplicateCode
	ruleOvergiven
	ruleNotCounted
	ruleForbidden
	ruleMaybeForbidden
	ruleListedThere
	ruleShownCode
	ruleTooManyAlive
	ruleNoPhoto
	ruleEraseNames
	ruleTakenName
	ruleFriendFile
	ruleUntouched
	ruleCountedTwice
	ruleCount
)

var rules = [ruleCount]Rule{
	ruleNoJournal:      {"no-journal", Error, "there is no journal.yaml", "run slipleaf start DIR to create one"},
	ruleEncoding:       {"encoding", Error, "a file is not UTF-8 text, or holds NUL", "save it as UTF-8 text"},
	ruleLimit:          {"limit", Error, "a file, head, text or the whole journal is larger than the reader takes", "split it into several files"},
	ruleBadName:        {"bad-name", Error, "a file or folder has a name that the format or an operating system refuses", "rename it: use only a-z, 0-9 and hyphens"},
	ruleNameClash:      {"name-clash", Error, "two names in a folder differ only in capitals, or one is of a program's copy of the other", "rename one of them"},
	ruleSymlink:        {"symlink", Error, "a file or folder of the journal is a link or no ordinary file", "put the file itself here"},
	ruleStray:          {"stray", Warning, "a file or folder is where the journal has no use for it", "move it out of the journal, or delete it"},
	ruleNoTankFile:     {"unknown-tank", Error, "diary entries are in a folder without tank.md", "add a tank.md there, or move the entries into the folder of their tank"},
	ruleNoHead:         {"no-head", Error, "a Markdown file does not begin with a head", "begin it with a line of ---, the keys, and another line of ---"},
	ruleOpenHead:       {"open-head", Error, "a head is not closed by a line of ---", "add a line of --- below the last key"},
	ruleEmptyHead:      {"empty-head", Error, "a head has no keys", "add a key, as in title: …"},
	ruleYAML:           {"yaml", Error, "a head is not valid YAML", "check the line for a missing colon, quote or bracket"},
	ruleYAMLFeature:    {"yaml-feature", Error, "a head uses anchors, aliases, tags, directives or several documents", "write the value out in full"},
	ruleDuplicateKey:   {"duplicate-key", Error, "a key appears twice in one mapping", "delete one"},
	ruleUnknownKey:     {"unknown-key", Error, "a key is not one of the format's", "use one of these keys, or delete the line"},
	ruleMissingKey:     {"missing-key", Error, "a key without which the rest means nothing is missing", "add it"},
	ruleNoValue:        {"no-value", Error, "a key has no value", "give a value, or delete the key"},
	ruleWrongShape:     {"wrong-shape", Error, "a list, mapping or plain value is where another is expected", "compare it with an entry that works"},
	ruleBadQuantity:    {"bad-quantity", Error, "a quantity is not NUMBER UNIT with a unit of its kind", "write a number and its unit"},
	ruleBadNumber:      {"bad-number", Error, "a plain number is expected", "write a number without a unit"},
	ruleBadDate:        {"bad-date", Error, "a date is not a day of the calendar written 2026-04-18", "write year, month and day, as in 2026-04-18"},
	ruleBadWord:        {"bad-word", Error, "a value is not one of the words that the key takes", "choose one of these words"},
	ruleBadText:        {"bad-text", Error, "a text holds control characters, or lines where one line is expected", "type it again as plain text"},
	ruleBadAddress:     {"bad-address", Error, "an address is not one of the schemes that the key takes", "write the whole address"},
	ruleBadRegion:      {"bad-region", Error, "a region is not a code of ISO 3166", "write the country's two letters, as in GB"},
	ruleBadLanguage:    {"bad-language", Error, "a language is not a tag of BCP 47", "write en or de"},
	ruleBadTimezone:    {"bad-timezone", Error, "a timezone is not a name of the IANA list", "use a name of the IANA list, as in Europe/London"},
	ruleBadCode:        {"bad-code", Error, "a parcel's code is too short or has a letter that codes do not use", "slipleaf send makes the code; don't type one"},
	ruleBadLot:         {"bad-lot", Error, "a lot's name has letters that lots do not use", "write it as in HZ-0418"},
	ruleImpossible:     {"impossible", Error, "a figure cannot be true", "check the number and its unit"},
	ruleDoubtful:       {"doubtful", Warning, "a reading can hardly be: no aquarium has it, or changes so much from one reading to the next", "check the figure and its unit"},
	ruleContradiction:  {"contradiction", Error, "two keys say what cannot both be so", "correct one of the two"},
	ruleUnknownPlant:   {"unknown-plant", Error, "a plant is neither in the almanac nor under plants/", "correct the name, or add a file in plants/"},
	ruleWhichPlant:     {"which-plant", Error, "a name means several plants, or may mean one that a list of the region names", "write the scientific name"},
	ruleTakenFor:       {"taken-for", Warning, "a plant is written by a name that is misspelt, shortened or only usually its own", "write the scientific name to be exact"},
	ruleTaken:          {"taken", Note, "a line is not in its usual form, and was read as what is plainly meant", "slipleaf proof --fix writes the usual form"},
	ruleUnknownLot:     {"unknown-lot", Error, "a parcel or loss names a lot that no entry has", "correct the lot's name, or add the lot to an entry"},
	ruleBeforeTank:     {"before-tank", Error, "an entry is older than its tank", "correct the entry's date, or began in tank.md"},
	ruleAfterTank:      {"after-tank", Error, "an entry is younger than the end of its tank", "correct the entry's date, or ended in tank.md"},
	ruleFutureDate:     {"future-date", Warning, "a date lies after the day that the site is made for", "correct the date, if it is not planned"},
	ruleDateOrder:      {"date-order", Error, "two dates are in an order that cannot be", "correct one of the two dates"},
	ruleNoMeasure:      {"no-measure", Error, "a count, planting, trim or loss does not say how much", "add how much, as in stems: 12"},
	ruleMixedMeasure:   {"mixed-measure", Warning, "the counts of a plant in a tank share no measure", "count it by one measure throughout"},
	ruleOverTrimmed:    {"over-trimmed", Warning, "more was cut than was counted the same day", "correct the count or the trim"},
	ruleDuplicateLot:   {"duplicate-lot", Error, "two entries both give a count to a lot, announce it when it has one, or spell it in other capitals", "use a new lot name"},
	ruleLotChanged:     {"lot-changed", Error, "a lot has another plant than the entry that announced it says", "use a new lot name, or correct the plant"},
	ruleDuplicateCode:  {"duplicate-code", Error, "two parcels carry one code", "slipleaf send makes a new code for each parcel"},
	ruleOvergiven:      {"overgiven", Error, "a parcel takes, or a loss is of, more than the lot has left", "reduce the count, or correct the count of the lot"},
	ruleNotCounted:     {"not-counted", Error, "plants were sent from a lot that has no count yet, or died of it", "add its count in an entry and remove expected"},
	ruleForbidden:      {"forbidden", Error, "a lot is of a plant that a list in the journal's region forbids", "set withhold: true in the plant's file"},
	ruleMaybeForbidden: {"maybe-forbidden", Warning, "a lot is of a plant that a list in the journal's region may forbid", "check with your local authority"},
	ruleListedThere:    {"listed-there", Warning, "a parcel goes to a region that lists its plant", "check with the authority there before you send"},
	ruleShownCode:      {"shown-code", Error, "the code or address of a care sheet is in something that is published", "take it out: whoever has it can read the sheet"},
	ruleTooManyAlive:   {"too-many-alive", Error, "a report has more plants alive than were sent", "correct alive, or the parcel's count"},
	ruleNoPhoto:        {"no-photo", Error, "a photo is not there", "put it in photos/"},
	ruleEraseNames:     {"erase-names", Warning, "a parcel's private part is older than the journal keeps it", "delete it"},
	ruleTakenName:      {"taken-name", Error, "a page has the name of an address of the site", "rename this page"},
	ruleFriendFile:     {"friend-file", Warning, "a friend's offers file is not valid", "run slipleaf gather to fetch it again"},
	ruleUntouched:      {"untouched", Note, "an entry was begun, and nothing in it is filled in", "fill in what you saw, or delete the file"},
	ruleCountedTwice:   {"counted-twice", Warning, "a plant is counted twice on one day by the same person", "keep one of the two; where two people count, each says so with by"},
}

// Rules lists every rule of the reader, in the order in which a file is looked at.
func Rules() []Rule { return append([]Rule(nil), rules[:]...) }

// complaint makes one about a place of a file, with the cure of its rule where hint has none.
func complaint(r rule, file string, line, column int, message, hint string) Complaint {
	return Complaint{File: file, Line: line, Column: column, Severity: rules[r].Severity, Rule: rules[r].Name, Message: message, Hint: cmp.Or(hint, rules[r].Cure)}
}
