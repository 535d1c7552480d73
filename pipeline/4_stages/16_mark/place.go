package mark

import (
	"slices"

	"fingerproof/corpus/score"
)

// side is where a digit stands: outside the system as a rule, right hand above
// and left hand below (FACTS §5.3); between the staves for the inner voice
// where a hand plays two. The digits of a chord are written each at its own
// note, so that engravers stack them in the order of the notes, the highest
// note's digit on top.
//
// Where the text has digits in the same voice of the measure, all on one side,
// added ones join them there: those of a hand are read in one row. In a chord no
// digit of a higher note stands below the staff while one of a lower note stands
// above it. Those of the text that name no side get the one that ours have.
func side(in Fingered, i int, who score.Responsibility, sides *sides) score.Placement {
	switch in.Policy.PlaceOf(who) {
	case "engraver":
		return score.PlacementUnset
	case "above":
		return score.Above
	case "below":
		return score.Below
	case "inside":
		return other(outside(in.Playing.Hand(i)))
	}
	switch {
	case sides.chord[i] != nil:
		return *sides.chord[i]
	case sides.row[i] != nil:
		return *sides.row[i]
	case sides.inner[i]:
		return other(outside(in.Playing.Hand(i)))
	}
	return outside(in.Playing.Hand(i))
}

// sides is what bears on the side of digits, note by note.
type sides struct {
	inner []bool             // the note belongs to an inner voice
	row   []*score.Placement // where all digits of the text stand in its voice and measure, nil for none or on both sides
	chord []*score.Placement // the only side on which its digit is read as its own in the chord, nil for either
}

func sidesOf(in Fingered) *sides {
	s := &sides{
		inner: innerVoices(in), row: make([]*score.Placement, len(in.Score.Notes)), chord: make([]*score.Placement, len(in.Score.Notes)),
	}
	s.interlaced(in)
	s.together(in)
	s.shared(in)
	s.besideText(in)
	s.lone(in)
	return s
}

// SidesByMusic says on which side an edition would set the digits that stand at the notes of a score, whichever side they have now;
// PlacementUnset where the house style leaves it to the engraver. Lint asks it of a page.
func SidesByMusic(in Fingered) []score.Placement {
	in.Print = make([]bool, len(in.Score.Notes))
	for i := range in.Print {
		in.Print[i] = hasDigit(&in.Score.Notes[i])
	}
	s := &sides{
		inner: innerVoices(in), row: make([]*score.Placement, len(in.Score.Notes)), chord: make([]*score.Placement, len(in.Score.Notes)),
	}
	s.interlaced(in)
	s.together(in)
	s.shared(in)
	s.lone(in)
	out := make([]score.Placement, len(in.Score.Notes))
	for i := range out {
		if in.Playing.Plays(i) && in.Print[i] {
			out[i] = side(in, i, score.Editor, s)
		}
	}
	return out
}

// shared takes the notes out of the inner voices that stand in a measure on a staff on which the other hand plays as well: there
// the right hand has its digits above and the left below, whatever voices each has, or those of one hand stood over or under
// the notes of the other (common practice, no source; seen in a nocturne).
func (s *sides) shared(in Fingered) {
	type place struct{ part, staff, measure int }
	hands := map[place]map[score.Hand]bool{}
	of := func(i int) place {
		n := &in.Score.Notes[i]
		return place{n.Part, n.Staff, n.Measure}
	}
	for i := range in.Score.Notes {
		if hand := in.Playing.Hand(i); in.Playing.Plays(i) && hand != score.NoHand {
			if hands[of(i)] == nil {
				hands[of(i)] = map[score.Hand]bool{}
			}
			hands[of(i)][hand] = true
		}
	}
	for i := range in.Score.Notes {
		s.inner[i] = s.inner[i] && len(hands[of(i)]) < 2
	}
}

// interlaced takes strokes out of the inner voices in which a note of an inner voice lies outside one of an outer voice, as
// where an octave embraces what the other voice strikes: the digits of what a hand strikes at once are read in the order of
// its keys, which two sides would tear.
func (s *sides) interlaced(in Fingered) {
	for l := range in.Playing.Lines {
		line := &in.Playing.Lines[l]
		for k := range line.Strokes {
			notes := line.Strokes[k].Notes
			torn := false
			for _, a := range notes {
				for _, b := range notes {
					further := in.Score.Notes[a].Midi - in.Score.Notes[b].Midi // of the inner note, towards the outer side
					if line.Hand == score.Left {
						further = -further
					}
					torn = torn || s.inner[a] && !s.inner[b] && further > 0
				}
			}
			for _, n := range notes {
				s.inner[n] = s.inner[n] && !torn
			}
		}
	}
}

// together takes strokes out of the inner voices in which both voices strike what is held equally long: that is a chord, however
// its stems are written, and its digits are read as one stack (common practice, no source; a reader called them split). Where
// the outer note shows no digit the inner one's stands inside as before: outside it would be read as the outer note's.
func (s *sides) together(in Fingered) {
	for l := range in.Playing.Lines {
		for k := range in.Playing.Lines[l].Strokes {
			notes := in.Playing.Lines[l].Strokes[k].Notes
			chord := func(a int) bool {
				return slices.ContainsFunc(notes, func(b int) bool {
					x, y := &in.Score.Notes[a], &in.Score.Notes[b]
					return !s.inner[b] && showsDigit(in, b) && x.Staff == y.Staff && x.Part == y.Part && x.Duration.Equal(y.Duration) && x.Duration.Sign() > 0
				})
			}
			var joined []int
			for _, a := range notes {
				if s.inner[a] && chord(a) {
					joined = append(joined, a)
				}
			}
			for _, a := range joined {
				s.inner[a] = false
			}
		}
	}
}

// Sides says on which side the digit of each note of a piece stands, whether it prints or not; PlacementUnset where the house
// style leaves it to the engraver.
func Sides(in Input) []score.Placement {
	f := fingeredOf(in)
	of := sidesOf(f)
	out := make([]score.Placement, len(in.Score.Notes))
	for i := range out {
		if in.Playing.Plays(i) {
			out[i] = side(f, i, creditOf(f, i).Who, of)
		}
	}
	return out
}

// TextSides gives on which side a digit of the text prints that its file leaves to the engraver, note by note.
func TextSides(in Input) []score.Placement {
	f := fingeredOf(in)
	of := sidesOf(f)
	out := make([]score.Placement, len(in.Score.Notes))
	for i := range out {
		for k := range in.Score.Notes[i].Indications {
			if r, _ := restyle(f, i, k, of); r.Placement != score.PlacementUnset {
				out[i] = r.Placement
			}
		}
	}
	return out
}

// voiceIn is a voice of a hand in a measure.
type voiceIn struct {
	part, staff, measure int
	voice                string
	hand                 score.Hand
}

// placed says on which side the digit of the text stands at a note; nil where there is none, or where the file leaves its side
// to the engraver.
func placed(n *score.Note) *score.Placement {
	for k := range n.Indications {
		if ind := &n.Indications[k]; printedFirst(ind) && ind.Placement != score.PlacementUnset {
			return &ind.Placement
		}
	}
	return nil
}

// printedFirst says that an indication is a digit that stands on the page and is offered beside no other.
func printedFirst(ind *score.Indication) bool {
	return !ind.Hidden && !ind.Alternate && len(ind.Fingers) > 0
}

// besideText looks for digits of the text beside each note.
func (s *sides) besideText(in Fingered) {
	with := map[voiceIn][]int{} // notes with digits of the text
	of := func(i int) voiceIn {
		n := &in.Score.Notes[i]
		return voiceIn{n.Part, n.Staff, n.Measure, n.Voice, in.Playing.Hand(i)}
	}
	for i := range in.Score.Notes {
		if placed(&in.Score.Notes[i]) != nil {
			with[of(i)] = append(with[of(i)], i)
		}
	}
	if len(with) == 0 {
		return
	}
	for i := range in.Score.Notes {
		n := &in.Score.Notes[i]
		row := with[of(i)]
		for k, other := range row {
			o := &in.Score.Notes[other]
			by := placed(o)
			if k == 0 && !slices.ContainsFunc(row, func(x int) bool { return *placed(&in.Score.Notes[x]) != *by }) {
				s.row[i] = by
			}
			turned := *by == score.Above && o.Midi < n.Midi || *by == score.Below && o.Midi > n.Midi
			if turned && o.Onset.Equal(n.Onset) && o.Grace == n.Grace {
				s.chord[i] = by
			}
		}
	}
}

func outside(h score.Hand) score.Placement {
	if h == score.Left {
		return score.Below
	}
	return score.Above
}

func other(p score.Placement) score.Placement {
	if p == score.Below {
		return score.Above
	}
	return score.Below
}

// innerVoices finds the notes of voices that lie inside another voice of the
// same hand, measure by measure: below it in the right hand, above it in the
// left. A third voice between two goes inside as well. Where the outer voice has not begun in the measure, or has ended for
// good, a voice has the hand for itself: its digits stand outside as those of any single voice; and so they do in a measure
// in which the outer voice is there for less than half the time, as where one bass note is held under a figure, or its digits would change sides for a beat.
// An outer voice that strikes no key of its own in the measure, as where the bass of an accompaniment has a second stem and is held, makes
// no two voices: its digits would stand now on this side, now on that (common practice, no source; trial 15b-17).
func innerVoices(in Fingered) []bool {
	out := make([]bool, len(in.Score.Notes))
	if !in.Policy.ByVoices() {
		return out
	}
	type span struct {
		part       int
		hand       score.Hand
		voice      string
		sum, notes int
		begin, end score.Fraction
		own        bool // it strikes a key that no other voice of the hand strikes with it
	}
	heights := make([][]span, len(in.Score.Measures)) // of the few voices of each measure
	at := func(n *score.Note) *[]span {
		for n.Measure >= len(heights) {
			heights = append(heights, nil)
		}
		return &heights[n.Measure]
	}
	of := func(n *score.Note, hand score.Hand) func(span) bool {
		return func(s span) bool { return s.part == n.Part && s.hand == hand && s.voice == n.Voice }
	}
	for i := range in.Score.Notes {
		n, hand := &in.Score.Notes[i], in.Playing.Hand(i)
		if n.Kind != score.Pitched || hand == score.NoHand || n.Cue || n.Hidden {
			continue
		}
		voices := at(n)
		k := slices.IndexFunc(*voices, of(n, hand))
		if k < 0 {
			k, *voices = len(*voices), append(*voices, span{part: n.Part, hand: hand, voice: n.Voice, begin: n.Onset})
		}
		if end := n.Onset.Add(n.Duration); (*voices)[k].end.Less(end) {
			(*voices)[k].end = end
		}
		if n.Onset.Less((*voices)[k].begin) {
			(*voices)[k].begin = n.Onset
		}
		(*voices)[k].sum += n.Midi
		(*voices)[k].notes++
		(*voices)[k].own = (*voices)[k].own || !doubled(in, i)
	}
	for i := range in.Score.Notes {
		n, hand := &in.Score.Notes[i], in.Playing.Hand(i)
		voices := *at(n)
		if hand == score.NoHand || len(voices) < 2 {
			continue
		}
		k := slices.IndexFunc(voices, of(n, hand))
		if k < 0 {
			continue
		}
		own := voices[k]
		for _, s := range voices { // any one that lies outside will do
			if s.part != n.Part || s.hand != hand || s.voice == n.Voice || !s.own {
				continue
			}
			// Compared by mean height, without fractions.
			higher := s.sum*own.notes - own.sum*s.notes
			if hand == score.Left {
				higher = -higher
			}
			long := !s.end.Sub(s.begin).Add(s.end.Sub(s.begin)).Less(own.end.Sub(own.begin))
			together := s.begin.Less(n.Onset.Add(n.Duration)) && n.Onset.Less(s.end) || n.Duration.Sign() == 0
			out[i] = out[i] || higher > 0 && long && together
		}
	}
	return out
}

// doubled says that another voice of the hand strikes the key of a note with it.
func doubled(in Fingered, i int) bool {
	n := &in.Score.Notes[i]
	return slices.ContainsFunc(in.Playing.Together(i), func(o int) bool {
		other := &in.Score.Notes[o]
		return other.Midi == n.Midi && other.Part == n.Part && other.Voice != n.Voice && in.Playing.Hand(o) == in.Playing.Hand(i)
	})
}
