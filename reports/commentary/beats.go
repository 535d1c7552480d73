package commentary

import (
	"strconv"

	"fingerproof/corpus/printwords"
	"fingerproof/corpus/score"
)

// BeatsIn names beats in the language of words: "3", "2, third eighth", "2, second of three".
func BeatsIn(w *printwords.Words, s *score.Score) Beats {
	if w.Language == "en" {
		return s.Beat
	}
	ordinal := func(n int64) string {
		if key := "ordinal." + strconv.FormatInt(n, 10); printwords.Has(key) {
			return w.Say(key)
		}
		return w.Say("ordinal", n)
	}
	return func(measure int, onset score.Fraction) string {
		b := s.BeatAt(measure, onset)
		number := strconv.FormatInt(b.Number, 10)
		switch {
		case b.Value > 0:
			return w.Say("beat.value", number, ordinal(b.Ordinal), w.Say("value."+strconv.FormatInt(b.Value, 10)))
		case b.Rest.Sign() != 0:
			return w.Say("beat.rest", number, b.Rest.String())
		case b.Parts > 0:
			parts := strconv.FormatInt(b.Parts, 10)
			if printwords.Has("parts." + parts) {
				parts = w.Say("parts." + parts)
			}
			return w.Say("beat.part", number, ordinal(b.Ordinal), parts)
		}
		return number
	}
}
