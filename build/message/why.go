package message

// Why is why something that a message says is not taken. Its text is English; other languages say it by its name.
type Why string

// The reasons; Taken is none.
const (
	Taken     Why = ""
	Before    Why = "before"
	Tap       Why = "tap"
	Others    Why = "others"
	Needs     Why = "needs"
	Wish      Why = "wish"
	Elsewhere Why = "elsewhere"
	Season    Why = "season"
	Tanks     Why = "tanks"
	Question  Why = "question"
	Both      Why = "both"
	Corrected Why = "corrected"
	Unclear   Why = "unclear"
	Lots      Why = "lots"
	Which     Why = "which"
	Gone      Why = "gone"
)

// Whys are the texts of all reasons.
var Whys = map[Why]string{Before: "that was before", Tap: "that is the tap's", Others: "that is somebody else's", Needs: "that is what the plant needs", Wish: "that is a wish",
	Elsewhere: "that is not the tank's water", Season: "that is a part of the year", Tanks: "there is more than one tank", Question: "that is a question", Both: "the message says both", Corrected: "the message corrects it",
	Unclear: "not clear", Lots: "there are several lots", Which: "which is meant?", Gone: "no lot has any left"}
