package commentary

import (
	"strconv"

	"fingerproof/corpus/printwords"
	"fingerproof/corpus/score"
)

// BeatsIn names beats in the language of words: "3", "2, third eighth", "2, second of three".
func BeatsIn(w *printwords.Words, s *score.Score) Beats {
	if w.Language == "en" {
		return func(measure int, onset score.Fraction) string {
			if said := noteOfRun(w, s, measure, onset); said != "" {
				return said
			}
			return s.Beat(measure, onset)
		}
	}
	ordinal := func(n int64) string {
		if key := "ordinal." + strconv.FormatInt(n, 10); printwords.Has(key) {
			return w.Say(key)
		}
		return w.Say("ordinal", n)
	}
	return func(measure int, onset score.Fraction) string {
		if said := noteOfRun(w, s, measure, onset); said != "" {
			return said
		}
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

// noteOfRun names a moment of a free run, in which nobody counts parts of a beat, by its note: "2, note 12 from there", counted
// in its voice from the beat on. Empty where the moment can be counted, or no voice strikes there.
func noteOfRun(w *printwords.Words, s *score.Score, measure int, onset score.Fraction) string {
	b := s.BeatAt(measure, onset)
	if b.Rest.Sign() <= 0 {
		return ""
	}
	from := onset.Sub(b.Rest)
	struck := map[voiceOf]map[score.Fraction]bool{} // moments from the beat on, up to this one
	var at *voiceOf
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Measure != measure || n.Grace != 0 || n.Kind != score.Pitched || n.Onset.Less(from) || onset.Less(n.Onset) {
			continue
		}
		v := voiceOf{n.Part, n.Staff, n.Voice}
		if struck[v] == nil {
			struck[v] = map[score.Fraction]bool{}
		}
		struck[v][n.Onset] = true
		if n.Onset == onset && (at == nil || len(struck[v]) > len(struck[*at])) {
			at = &v
		}
	}
	if at == nil {
		return ""
	}
	return w.Say("beat.note", strconv.FormatInt(b.Number, 10), len(struck[*at]))
}

// voiceOf is a voice on a staff of a part.
type voiceOf struct {
	part, staff int
	voice       string
}
