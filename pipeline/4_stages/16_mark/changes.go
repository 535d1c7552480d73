package mark

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
)

// HandChanges adds a hand sign where the notes of a staff go over to the hand
// of the other staff and print does not say so: neither a sign of the text, nor
// a voice that crosses over, nor the bracket of a decided redistribution. One
// sign stands for all that goes over together, from the chord on that both hands share before it; where the voice is silent for a
// measure, the sign comes again. The way back has its sign within
// a figure; after a rest the reader finds it (common practice). A sign stands
// only where a digit does: it says for which hand the digits are.
func HandChanges(f Fingered, all []fingering.Redistribution, m *score.Marking) {
	if f.Policy.ChangeSigns() == "none" {
		return
	}
	h := &changeFinder{Fingered: f, marks: m, decided: map[int]bool{}, signs: map[signPlace]bool{}}
	for _, d := range f.Score.Directions {
		if d.Kind == score.HandSign && !f.Score.Offered(&d) {
			h.signs[signPlace{d.Part, d.Measure, d.Onset, d.Hand}] = true
		}
	}
	for i := range all {
		for _, n := range all[i].Notes {
			h.decided[n] = h.decided[n] || all[i].Decided
		}
	}
	for _, run := range h.staffVoices() {
		h.follow(run)
	}
}

// AddedSign is a hand sign that the edition adds where notes of a staff go over to the hand of the other one.
type AddedSign struct {
	Note int
	Hand score.Hand // which takes over
	Text string
}

// AddedSigns lists the signs that the edition adds where hands change, in the order of the notes.
func AddedSigns(in Fingered, all []fingering.Redistribution) (out []AddedSign) {
	var marks score.Marking
	Redistributed(in, all, &marks)
	HandChanges(in, all, &marks)
	for i := range marks.Marks {
		for _, d := range marks.Marks[i].Directions {
			if d.Kind == score.MarkSign && d.Change && !d.Decided {
				n := marks.Marks[i].Note
				out = append(out, AddedSign{Note: n, Hand: in.Playing.Hand(n), Text: d.Text})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b AddedSign) int { return a.Note - b.Note })
	return out
}

// signPlace is where a sign stands, on whichever staff.
type signPlace struct {
	part, measure int
	onset         score.Fraction
	hand          score.Hand
}

type changeFinder struct {
	Fingered
	marks   *score.Marking
	decided map[int]bool // notes that a decided redistribution has moved
	signs   map[signPlace]bool
}

// voiceStroke is what a voice strikes at one moment on its own staff.
type voiceStroke struct {
	notes []int
	hand  score.Hand // NoHand where both hands share it
	joins bool       // no rest lies between it and the stroke before
}

// staffVoices gives the strokes of each voice on its own staff, in the order of
// the file, of parts that are written on two staves and played by two hands.
func (h *changeFinder) staffVoices() [][]voiceStroke {
	type voice struct {
		part, staff int
		name        string
	}
	type written struct {
		voice
		strokes []voiceStroke
		end     score.Fraction
	}
	var voices []written // of the few that there are, in the order in which they begin
	last := 0
	hands := make([][3]bool, len(h.Score.Parts)) // of each part, the hands that play there
	for i := range h.Score.Notes {
		n := &h.Score.Notes[i]
		if n.Kind != score.Pitched || n.Cue || n.Hidden || n.Grace > 0 || n.Staff != n.HomeStaff ||
			h.Score.Parts[n.Part].Staves != 2 || !h.Playing.Plays(i) {
			continue
		}
		hand := h.Playing.Hand(i)
		hands[n.Part][hand] = true
		if v := (voice{n.Part, n.Staff, n.Voice}); last >= len(voices) || voices[last].voice != v {
			if last = slices.IndexFunc(voices, func(w written) bool { return w.voice == v }); last < 0 {
				last, voices = len(voices), append(voices, written{voice: v})
			}
		}
		v := &voices[last]
		at := h.Score.At(i)
		to := at.Add(n.Duration)
		if k := len(v.strokes) - 1; k >= 0 && h.Score.At(v.strokes[k].notes[0]).Equal(at) {
			s := &v.strokes[k]
			s.notes = append(s.notes, i)
			if s.hand != hand {
				s.hand = score.NoHand
			}
		} else {
			v.strokes = append(v.strokes, voiceStroke{notes: []int{i}, hand: hand, joins: k >= 0 && !v.end.Less(at)})
		}
		if v.end.Less(to) {
			v.end = to
		}
	}
	var out [][]voiceStroke
	for _, v := range voices {
		if of := hands[v.part]; of[score.NoHand] && (of[score.Right] || of[score.Left]) || of[score.Right] && of[score.Left] {
			out = append(out, v.strokes)
		}
	}
	return out
}

// follow goes along a voice and signs where it changes hands.
func (h *changeFinder) follow(run []voiceStroke) {
	home := score.Right
	if h.Score.Notes[run[0].notes[0]].Staff == 2 {
		home = score.Left
	}
	hand, signed := home, false // signed: the way over has a sign that the way back has to answer
	said := map[int][]change{}
	for k, s := range run {
		first := s.notes[0]
		if s.hand == score.NoHand {
			continue
		}
		if h.Score.Notes[first].TiedFrom >= 0 {
			if s.hand == home { // keys that the hand of the staff holds on: the voice is with it again
				hand, signed = home, false
			}
			continue
		}
		if s.hand == hand && (hand == home || k == 0 || h.Score.Notes[first].Measure-h.Score.Notes[run[k-1].notes[0]].Measure < 2) {
			continue
		}
		hand = s.hand
		if hand != home {
			first = h.fromShared(run[:k+1])
		}
		place := h.placeOf(first, hand)
		m := h.Score.Notes[first].Measure
		switch {
		case h.signs[place]:
			signed = false
			continue
		case hand != home && h.decided[first]: // marked as a redistribution
			signed = h.Policy.RedistributeMarks() == "sign" || h.signAlone(first)
			continue
		case hand != home:
			signed = h.hasDigit(run[k:])
		case !s.joins || !signed:
			signed = false
			continue
		}
		if hand != home && !signed {
			continue
		}
		said[m] = append(said[m], change{place.onset, hand})
		h.sign(first, hand)
		h.sayOnce(run[k:])
		if hand == home {
			signed = false
		}
	}
	h.leaveOutRepeats(run, said)
}

// fromShared gives the note at which a hand takes over with the last of some strokes: of one before it, where both hands share
// what leads to it, the first note that the hand takes there.
func (h *changeFinder) fromShared(run []voiceStroke) int {
	last := len(run) - 1
	first := run[last].notes[0]
	for k := last - 1; k >= 0 && run[k].hand == score.NoHand && run[k+1].joins; k-- {
		own := slices.IndexFunc(run[k].notes, func(n int) bool {
			return h.Playing.Hand(n) == run[last].hand && h.Score.Notes[n].TiedFrom < 0
		})
		if own < 0 {
			break
		}
		first = run[k].notes[own]
	}
	return first
}

// change is a sign within a measure.
type change struct {
	onset score.Fraction
	hand  score.Hand
}

func (h *changeFinder) placeOf(n int, to score.Hand) signPlace {
	note := &h.Score.Notes[n]
	return signPlace{note.Part, note.Measure, note.Onset, to}
}

// hasDigit reports whether a digit is printed, or stands, before the voice changes hands again.
func (h *changeFinder) hasDigit(run []voiceStroke) bool {
	for _, s := range run {
		if s.hand != run[0].hand {
			return false
		}
		for _, n := range s.notes {
			if h.Print[n] || slices.ContainsFunc(h.Score.Notes[n].Indications,
				func(ind score.Indication) bool { return !ind.Hidden }) {
				return true
			}
		}
	}
	return false
}

func (h *changeFinder) sign(n int, to score.Hand) {
	place := score.Above
	if to == score.Left {
		place = score.Below
	}
	note := &h.Score.Notes[n]
	h.marks.Direct(n, score.MarkDirection{
		Kind: score.MarkSign, Change: true, Text: changeWords(h.Policy, to), Style: h.Policy.WordStyle(), Placement: place,
		Staff: note.Staff, Voice: note.Voice,
	})
}

// changeWords is the sign of the hand that takes over, as the house style sets it where the edition adds it.
func changeWords(policy *policies.Policy, to score.Hand) string {
	words := policies.HandSignOf(policy, to)
	if policy.ChangeSigns() == "plain" {
		return words
	}
	return "[" + words + "]"
}

// sayOnce takes the signs and the brackets of decided redistributions out again to which a hand comes that has its sign already.
func (h *changeFinder) sayOnce(run []voiceStroke) {
	begins := map[int]bool{} // brackets, by number
	for _, s := range run {
		if s.hand != run[0].hand {
			return
		}
		for _, n := range s.notes {
			if !h.decided[n] {
				continue
			}
			h.marks.Undirect(n, func(d *score.MarkDirection) bool {
				switch d.Kind {
				case score.MarkSign:
					return d.Change && d.Decided
				case score.MarkBracketStart:
					begins[d.Number] = begins[d.Number] || h.endsWithin(d.Number, run)
					return begins[d.Number]
				case score.MarkBracketStop:
					return begins[d.Number]
				}
				return false
			})
		}
	}
}

// endsWithin says that the bracket of a number ends before a voice changes hands again.
func (h *changeFinder) endsWithin(number int, run []voiceStroke) bool {
	for _, s := range run {
		if s.hand != run[0].hand {
			return false
		}
		for _, n := range s.notes {
			for k := range h.marks.Marks {
				if m := &h.marks.Marks[k]; m.Note == n && slices.ContainsFunc(m.Directions, func(d score.MarkDirection) bool {
					return d.Kind == score.MarkBracketStop && d.Number == number
				}) {
					return true
				}
			}
		}
	}
	return false
}

// leaveOutRepeats takes the signs of a measure out again where the measure
// before it has the same: the figure goes on as it began, whether the way back has a sign or is found without.
func (h *changeFinder) leaveOutRepeats(run []voiceStroke, said map[int][]change) {
	for _, s := range run {
		m := h.Score.Notes[s.notes[0]].Measure
		if len(said[m]) == 0 || !slices.Equal(said[m], said[m-1]) {
			continue
		}
		for _, n := range s.notes {
			h.marks.Undirect(n, func(d *score.MarkDirection) bool {
				return d.Change && !d.Decided && d.Voice == h.Score.Notes[n].Voice
			})
		}
	}
}

// signAlone says that the marks hold a hand sign at a note already, that of a redistribution, and no bracket that ends where
// the voice goes back.
func (h *changeFinder) signAlone(note int) bool {
	for k := range h.marks.Marks {
		if h.marks.Marks[k].Note == note {
			has := func(kind score.MarkDirectionKind) bool {
				return slices.ContainsFunc(h.marks.Marks[k].Directions, func(d score.MarkDirection) bool { return d.Kind == kind })
			}
			return has(score.MarkSign) && !has(score.MarkBracketStart)
		}
	}
	return false
}
