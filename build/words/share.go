package words

import "slipleaf/build/ledger"

// ShareSentence says as much of the share established as its number of results allows.
func ShareSentence(v Locale, f ledger.OutcomeCounts) string {
	pairs := []any{"yes", f.Settled.Established, "n", f.Settled.Results(), "share", Percent(v, f.Share.Value), "low", Percent(v, f.Share.Low), "high", Percent(v, f.Share.High)}
	switch {
	case f.Sent == 0:
		return v.Text("elsewhere.never-sent")
	case f.Results() == 0:
		return v.Text("elsewhere.no-verdict", "sent", f.Sent)
	case f.Settled.Results() == 0:
		return v.Text("elsewhere.too-young", "days", ledger.SettleDays)
	case f.Say == ledger.TooFew:
		return v.Text("elsewhere.too-few", pairs...)
	case f.Say == ledger.CountsAndInterval:
		return v.Text("elsewhere.interval", pairs...)
	}
	return v.Text("elsewhere.percent", pairs...)
}
