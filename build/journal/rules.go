package journal

// rule names a kind of complaint.
type rule uint8

// Rule is a kind of complaint that the reader makes.
type Rule struct {
	Name     string // stable, kebab-case: the "rule" of proof --json
	Severity Severity
	About    string // when it is made
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
	ruleContradiction
	ruleUnknownPlant
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
	ruleTooManyAlive
	ruleNoPhoto
	ruleEraseNames
	ruleTakenName
	ruleFriendFile
	ruleCount
)

var rules = [ruleCount]Rule{
	ruleNoJournal:      {"no-journal", Error, "there is no journal.yaml"},
	ruleEncoding:       {"encoding", Error, "a file is not UTF-8 text, or holds NUL"},
	ruleLimit:          {"limit", Error, "a file, head, text or the whole journal is larger than the reader takes"},
	ruleBadName:        {"bad-name", Error, "a file or folder has a name that the format or an operating system refuses"},
	ruleNameClash:      {"name-clash", Error, "two names in a folder differ by case alone"},
	ruleSymlink:        {"symlink", Error, "a file or folder of the journal is a link or no plain file"},
	ruleStray:          {"stray", Warning, "a file or folder stands where the journal has no use for it"},
	ruleNoTankFile:     {"unknown-tank", Error, "diary entries stand in a folder without tank.md"},
	ruleNoHead:         {"no-head", Error, "a Markdown file does not begin with a head"},
	ruleOpenHead:       {"open-head", Error, "a head is not closed by a line of ---"},
	ruleEmptyHead:      {"empty-head", Error, "a head says nothing"},
	ruleYAML:           {"yaml", Error, "a head is not valid YAML"},
	ruleYAMLFeature:    {"yaml-feature", Error, "a head uses anchors, aliases, tags, directives or several documents"},
	ruleDuplicateKey:   {"duplicate-key", Error, "a key stands twice in one mapping"},
	ruleUnknownKey:     {"unknown-key", Error, "a key is not one of the format's"},
	ruleMissingKey:     {"missing-key", Error, "a key without which the rest means nothing is not there"},
	ruleNoValue:        {"no-value", Error, "a key has no value"},
	ruleWrongShape:     {"wrong-shape", Error, "a list, mapping or plain value stands where another is expected"},
	ruleBadQuantity:    {"bad-quantity", Error, "a quantity is not NUMBER UNIT with a unit of its kind"},
	ruleBadNumber:      {"bad-number", Error, "a plain number is expected"},
	ruleBadDate:        {"bad-date", Error, "a date is not a day of the calendar written 2026-04-18"},
	ruleBadWord:        {"bad-word", Error, "a value is not one of the words that the key takes"},
	ruleBadText:        {"bad-text", Error, "a text holds control characters, or lines where one line is expected"},
	ruleBadAddress:     {"bad-address", Error, "an address is not one of the schemes that the key takes"},
	ruleBadRegion:      {"bad-region", Error, "a region is not a code of ISO 3166"},
	ruleBadLanguage:    {"bad-language", Error, "a language is not a tag of BCP 47"},
	ruleBadTimezone:    {"bad-timezone", Error, "a timezone is not a name of the IANA list"},
	ruleBadCode:        {"bad-code", Error, "a parcel's code is too short or has a letter that codes do not use"},
	ruleBadLot:         {"bad-lot", Error, "a lot's name has letters that lots do not use"},
	ruleImpossible:     {"impossible", Error, "a figure cannot be true"},
	ruleContradiction:  {"contradiction", Error, "two keys say what cannot both be so"},
	ruleUnknownPlant:   {"unknown-plant", Error, "a plant is neither in the almanac nor under plants/"},
	ruleUnknownLot:     {"unknown-lot", Error, "a parcel or loss names a lot that no entry has"},
	ruleBeforeTank:     {"before-tank", Error, "an entry is older than its tank"},
	ruleAfterTank:      {"after-tank", Error, "an entry is younger than the end of its tank"},
	ruleFutureDate:     {"future-date", Warning, "a date lies after the day that the site is made for"},
	ruleDateOrder:      {"date-order", Error, "two dates stand in an order that cannot be"},
	ruleNoMeasure:      {"no-measure", Error, "a count, planting, trim or loss does not say how much"},
	ruleMixedMeasure:   {"mixed-measure", Warning, "the counts of a plant in a tank share no measure"},
	ruleOverTrimmed:    {"over-trimmed", Warning, "more was cut than was counted the same day"},
	ruleDuplicateLot:   {"duplicate-lot", Error, "two entries both give a count to a lot, or announce it when it has one"},
	ruleLotChanged:     {"lot-changed", Error, "a lot has another plant than the entry that announced it says"},
	ruleDuplicateCode:  {"duplicate-code", Error, "two parcels carry one code"},
	ruleOvergiven:      {"overgiven", Error, "a parcel takes, or a loss is of, more than the lot has left"},
	ruleNotCounted:     {"not-counted", Error, "plants were sent from a lot that has no count yet, or died of it"},
	ruleForbidden:      {"forbidden", Error, "a lot is of a plant that a list in the journal's region forbids"},
	ruleMaybeForbidden: {"maybe-forbidden", Warning, "a lot is of a plant that a list in the journal's region may forbid"},
	ruleListedThere:    {"listed-there", Warning, "a parcel goes to a region that lists its plant"},
	ruleTooManyAlive:   {"too-many-alive", Error, "a report has more plants alive than were sent"},
	ruleNoPhoto:        {"no-photo", Error, "a photo is not there"},
	ruleEraseNames:     {"erase-names", Warning, "a parcel's private part is older than the journal keeps it"},
	ruleTakenName:      {"taken-name", Error, "a page has the name of an address of the site"},
	ruleFriendFile:     {"friend-file", Warning, "a friend's offers file does not hold"},
}

// Rules lists every rule of the reader, in the order in which a file is looked at.
func Rules() []Rule { return append([]Rule(nil), rules[:]...) }
