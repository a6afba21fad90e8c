package words

import (
	"testing"

	"slipleaf/build/journal"
)

// What the almanac says in English is marked on pages of other languages, and on none of its own.
func TestEnglishIsMarked(t *testing.T) {
	for _, c := range []struct{ lang, text, want string }{
		{"de", "star & grass", `<span lang="en">star &amp; grass</span>`},
		{"en", "star & grass", `star &amp; grass`}, {"en-GB", "x", "x"}, {"de", "", ""},
	} {
		if got := (Locale{Words: &Words{Lang: c.lang}}).English(c.text); string(got) != c.want {
			t.Errorf("%s %q: %s", c.lang, c.text, got)
		}
	}
}

// A complaint is said in the page's language first. What the reader says of it in English, with its figures, isn't lost.
func TestAComplaintInTwoLanguages(t *testing.T) {
	c := journal.Complaint{Rule: "overgiven", Message: "5 are taken & 2 left", Hint: "reduce the count"}
	german := &Words{Lang: "de", table: map[string]string{"complaint.overgiven": "Zu viele."}}
	for _, x := range []struct {
		words *Words
		want  string
	}{
		{german, `Zu viele. (<span lang="en">5 are taken &amp; 2 left. Reduce the count</span>)`},
		{&Words{Lang: "en"}, `5 are taken &amp; 2 left. Reduce the count`},
	} {
		if got := (Locale{Words: x.words}).Complaint(c); string(got) != x.want {
			t.Errorf("%s: %s", x.words.Lang, got)
		}
	}
	if got := (Locale{Words: &Words{Lang: "en"}}).Complaint(journal.Complaint{Rule: "photo-colours", Message: "colours may differ"}); got != "colours may differ." {
		t.Errorf("without a hint: %q", got)
	}
}
