package suggest

import (
	"cmp"
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
// begins up to there.
func UnderSlurs(s *score.Score) []bool {
	type line struct{ part, number int }
	open := openSlurs{}               // by number, the note at which a slur began
	elsewhere := map[line][]int{}     // ends that close nothing in their own voice
	begun := map[line][]int{}         // beginnings that nothing closes in their own voice
	until := map[int]score.Fraction{} // by the note at which a slur began, where it ends in another voice
	for i := range s.Notes {
		n := &s.Notes[i]
		here := open.of(n)
		for _, slur := range n.Slurs {
			if _, is := here[slur.Number]; !slur.Start && !is {
				elsewhere[line{n.Part, slur.Number}] = append(elsewhere[line{n.Part, slur.Number}], i)
			} else if !slur.Start {
				delete(here, slur.Number)
			}
		}
		for _, slur := range n.Slurs {
			if !slur.Start {
				continue
			}
			if was, is := here[slur.Number]; is {
				begun[line{n.Part, slur.Number}] = append(begun[line{n.Part, slur.Number}], was)
			}
			here[slur.Number] = i
		}
	}
	for v, numbers := range open {
		for number, i := range numbers {
			begun[line{v.part, number}] = append(begun[line{v.part, number}], i)
		}
	}
	for l, starts := range begun {
		slices.SortFunc(starts, func(a, b int) int { return cmp.Or(s.At(a).Cmp(s.At(b)), cmp.Compare(a, b)) })
		ends := elsewhere[l]
		slices.SortFunc(ends, func(a, b int) int { return cmp.Or(s.At(a).Cmp(s.At(b)), cmp.Compare(a, b)) })
		for _, i := range starts {
			k := slices.IndexFunc(ends, func(e int) bool { return s.At(e).Cmp(s.At(i)) >= 0 })
			if k >= 0 {
				until[i] = s.At(ends[k])
				ends = slices.Delete(slices.Clone(ends), k, k+1)
			}
		}
	}
	out := make([]bool, len(s.Notes))
	clear(open)
	for i := range s.Notes {
		n := &s.Notes[i]
		here := open.of(n)
		for _, slur := range n.Slurs {
			if !slur.Start {
				delete(here, slur.Number)
			}
		}
		for number, from := range here {
			if end, is := until[from]; is && s.At(i).Cmp(end) >= 0 {
				delete(here, number)
			}
		}
		for _, slur := range n.Slurs {
			if slur.Start {
				here[slur.Number] = i
			}
		}
		for _, from := range here {
			end, is := until[from]
			out[i] = out[i] || !is || s.At(i).Cmp(end) < 0
		}
	}
	return out
}

// voice is a voice of a part.
type voice struct {
	part int
	name string
}

// openSlurs are the slurs that have begun in each voice and go on: by number the note at which one began.
type openSlurs map[voice]map[int]int

// of gives those of a note's voice.
func (o openSlurs) of(n *score.Note) map[int]int {
	v := voice{n.Part, n.Voice}
	if o[v] == nil {
		o[v] = map[int]int{}
	}
	return o[v]
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
