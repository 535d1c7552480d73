package playing

import (
	"slices"

	"fingerproof/corpus/score"
)

// Plays says that some hand plays a note: it is a pitched note of a keyboard part, neither cue nor hidden.
func (p *Playing) Plays(n int) bool { return p.spots[n].line != notPlayed }

// Hand gives the hand that plays a note, NoHand where none does.
func (p *Playing) Hand(n int) score.Hand {
	if l := p.LineOf(n); l != nil {
		return l.Hand
	}
	return score.NoHand
}

// Player gives the number of the player who plays a note, 0 where none does.
func (p *Playing) Player(n int) int {
	if l := p.LineOf(n); l != nil {
		return l.Player
	}
	return 0
}

// LineOf gives the line in which a note is played, nil where no hand plays it.
func (p *Playing) LineOf(n int) *Line {
	if line := p.spots[n].line; line != notPlayed {
		return &p.Lines[line]
	}
	return nil
}

// Line gives what one hand of a player plays, nil where it plays nothing.
func (p *Playing) Line(player int, h score.Hand) *Line {
	i := slices.IndexFunc(p.Lines, func(l Line) bool { return l.Player == player && l.Hand == h })
	if i < 0 {
		return nil
	}
	return &p.Lines[i]
}

// Place gives the place of a note among those written for the hand, -1 where it is not one of them.
func (l *Line) Place(n int) int {
	if k, found := slices.BinarySearch(l.Written, n); found {
		return k
	}
	return -1
}

// Stroke gives the stroke of a note, nil where no key goes down: the note is tied on, or no hand plays it.
func (p *Playing) Stroke(n int) *Stroke {
	if at := p.spots[n]; at.stroke >= 0 {
		return &p.Lines[at.line].Strokes[at.stroke]
	}
	return nil
}

// HeldOn says that a note is tied on from one that the same hand plays.
func (p *Playing) HeldOn(n int) bool {
	return p.spots[n].line != notPlayed && p.spots[n].stroke == heldOn
}

// Together lists the notes that its hand strikes with a note, itself included, lowest key first; nil where it is not
// struck.
func (p *Playing) Together(n int) []int {
	if st := p.Stroke(n); st != nil {
		return st.Notes
	}
	return nil
}

// Parts says of each part by index whether hands play it.
func (p *Playing) Parts() []bool { return p.parts }

// OtherHand gives what the other hand of the player strikes together with a stroke, nil where it strikes nothing.
func (p *Playing) OtherHand(st *Stroke) *Stroke {
	own := &p.Lines[st.Line]
	at, _ := slices.BinarySearchFunc(p.Instants, st.Instant, func(s Struck, at Instant) int { return s.Compare(at) })
	for _, other := range p.Instants[at].Strokes {
		if l := &p.Lines[other.Line]; l.Player == own.Player && l.Hand != own.Hand {
			return other
		}
	}
	return nil
}
