package suggest

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// holdFor is how long a key is held down, of what its note is worth: whole
// where notes are joined, less where the style of the period leaves them apart
// (common practice, no single source; the figures are ours). It bears on keys
// held under others: a key is always held up to the next stroke of its hand.
func holdFor(touch string) score.Fraction {
	switch touch {
	case "non-legato":
		return score.Frac(7, 8)
	case "detached":
		return score.Frac(1, 2)
	}
	return score.Whole(1)
}

// UnderSlurs tells which notes a slur joins to the next one of their voice:
// touch by period does not loosen what the composer has slurred. A slur that
// ends in another voice of its part joins the notes of the voice in which it
// begins up to there. One without an end, or without a beginning, joins
// nothing: how far it goes nobody can tell.
func UnderSlurs(s *score.Score) []bool {
	type voice struct {
		part int
		name string
	}
	type reach struct {
		voice  voice
		note   int            // notes before it are joined
		across bool           // a slur ends in another voice
		at     score.Fraction // and notes before this moment, then
	}
	begun := map[int][]int{} // by the note at which slurs begin, where they end
	for _, x := range s.SlurSpans() {
		if x.From >= 0 && x.To >= 0 {
			from := chordHead(s, x.From)
			begun[from] = append(begun[from], chordHead(s, x.To))
		}
	}
	out := make([]bool, len(s.Notes))
	var open []reach // of the few voices that there are
	last := 0
	for i := range s.Notes {
		v := voice{s.Notes[i].Part, s.Notes[i].Voice}
		if last >= len(open) || open[last].voice != v {
			if last = slices.IndexFunc(open, func(r reach) bool { return r.voice == v }); last < 0 {
				last, open = len(open), append(open, reach{voice: v})
			}
		}
		to := &open[last]
		for _, end := range begun[i] {
			switch at := s.At(end); {
			case s.Notes[end].Voice == v.name:
				to.note = max(to.note, end)
			case to.across:
				to.at = score.Max(to.at, at)
			default:
				to.across, to.at = true, at
			}
		}
		out[i] = i < to.note || to.across && s.At(i).Less(to.at)
	}
	return out
}

// chordHead is the first note of the chord that a note is in.
func chordHead(s *score.Score, i int) int {
	for s.Notes[i].Chord && i > 0 {
		i--
	}
	return i
}

// join tells the engine which notes a slur joins to the next.
func join(in Input, line []fingering.Note) {
	pedal := in.Score.PedalSpans(nil)
	for k := range line {
		n := &in.Score.Notes[line[k].ID]
		at, down := pedal.At(in.Score.At(line[k].ID))
		line[k].Pedalled = down && line[k].End.Compare(moment(at.To)) <= 0
		line[k].Slurred = in.slurred[line[k].ID] &&
			n.Marks&(score.Staccato|score.Staccatissimo|score.DetachedLegato) == 0
	}
}

// loosen shortens what the hand holds by the touch of the period: notes that
// no slur, line or tie marks.
func loosen(in Input, line []fingering.Note) {
	hold := holdFor(in.Touch)
	if hold == score.Whole(1) {
		return
	}
	onsets := make([]score.Fraction, len(line))
	for k := range line {
		onsets[k] = in.Score.At(line[k].ID)
	}
	sorted := slices.Clone(onsets)
	slices.SortFunc(sorted, score.Fraction.Cmp)
	for k := range line {
		n := &in.Score.Notes[line[k].ID]
		if in.slurred[line[k].ID] || n.Marks&score.Tenuto != 0 || n.TieStart || n.Grace > 0 {
			continue
		}
		end, full := onsets[k].Add(n.Duration.Mul(hold)), onsets[k].Add(n.Duration)
		at, _ := slices.BinarySearchFunc(sorted, onsets[k], func(a, b score.Fraction) int {
			if a.Cmp(b) <= 0 {
				return -1
			}
			return 1
		})
		if at < len(sorted) {
			end = score.Max(end, score.Min(sorted[at], full))
		}
		line[k].End = moment(end)
	}
}
