package playing

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// Playing is the order in which the notes of a score are played (DEVELOPERS.md, decision 8). It is not changed once it
// is built, and may be shared.
type Playing struct {
	// Lines are the hands that play, players in order, the right hand of each first.
	Lines []Line
	// Instants are all instants at which a key goes down, in order, with what each hand strikes there.
	Instants []Struck

	parts   []bool          // that are played
	by      []Evidence      // by note; nil: the staff
	spots   []spot          // by note
	rolling []score.Rolling // by note
	piles   []Pile
	piled   map[int]int // by note, the place of its pile in piles
}

// Line is what one hand of one player plays.
type Line struct {
	Player  int
	Hand    score.Hand
	Strokes []Stroke // in playing order
	// Written are all notes of the hand in the order of the document, those tied on included.
	Written []int
	// Taken are the keys that the hand takes over, without striking them, from another hand that ties them on to it: notes
	// of one instant as in a stroke, in playing order. They are not among Strokes.
	Taken []Stroke
}

// Stroke is the keys that one hand strikes at one instant. A rolled chord is one stroke.
type Stroke struct {
	Instant
	Line, Index int   // the stroke is Playing.Lines[Line].Strokes[Index], or Taken[Index]
	Notes       []int // lowest key first; of two notes on one key the first written first
	FromThumb   []int // the same from the side of the thumb: of the left hand highest key first
	// Held are the notes whose keys the hand holds down while it strikes others: struck or taken over before, and written
	// to last longer, ties in the hand included. A key that another voice strikes again in between is held on all the
	// same, as both values together are written. Lowest key first.
	Held []int
}

// Struck is an instant with the strokes of all hands.
type Struck struct {
	Instant
	Strokes []*Stroke // at most one a line, in the order of the lines
}

// spot is where a note is played.
type spot struct {
	line   int32 // index in Lines, notPlayed
	stroke int32 // index in the line's strokes, heldOn or takenOver
}

const (
	notPlayed = -1
	heldOn    = -1 // the key is down already: the same hand has struck it
	takenOver = -2 // … another hand has
)

// New puts the notes that hands play in order. It takes O(n log n) for n notes.
func New(s *score.Score, hands Hands) *Playing {
	p := &Playing{
		parts: hands.Parts, by: hands.By, spots: make([]spot, len(s.Notes)), rolling: rollingOf(s, hands.Rolled),
	}
	p.divide(hands)
	struck, taken := make([]keyDown, 0, len(s.Notes)), []keyDown(nil)
	for n := range s.Notes {
		at := &p.spots[n]
		if at.line == notPlayed {
			continue
		}
		k := keyDown{InstantOf(s, n), at.line, int32(s.Notes[n].Midi), int32(n)}
		if from := s.Notes[n].TiedFrom; from < 0 {
			struck = append(struck, k)
		} else if p.spots[from].line != at.line {
			at.stroke = takenOver
			taken = append(taken, k)
		}
	}
	p.strike(struck)
	p.takeOver(taken)
	for l := range p.Lines {
		p.hold(s, &p.Lines[l])
	}
	return p
}

// By says what tells the hand of a note.
func (p *Playing) By(n int) Evidence {
	if p.by == nil {
		return ByStaff
	}
	return p.by[n]
}

// divide makes the lines, still without strokes, and gives each note its line.
func (p *Playing) divide(hands Hands) {
	type who struct {
		player int
		hand   score.Hand
	}
	played := map[who]int{}
	for n := range hands.Piano {
		if hands.Piano[n] {
			played[who{hands.Player[n], hands.Hand[n]}]++
		}
	}
	for w, notes := range played {
		p.Lines = append(p.Lines, Line{Player: w.player, Hand: w.hand, Written: make([]int, 0, notes)})
	}
	slices.SortFunc(p.Lines, func(a, b Line) int {
		return cmp.Or(cmp.Compare(a.Player, b.Player), cmp.Compare(a.Hand, b.Hand))
	})
	lineOf := map[who]int32{}
	for l := range p.Lines {
		lineOf[who{p.Lines[l].Player, p.Lines[l].Hand}] = int32(l)
	}
	for n := range hands.Piano {
		p.spots[n] = spot{notPlayed, heldOn}
		if hands.Piano[n] {
			line := lineOf[who{hands.Player[n], hands.Hand[n]}]
			p.spots[n].line = line
			p.Lines[line].Written = append(p.Lines[line].Written, n)
		}
	}
}

// keyDown is a note that is struck.
type keyDown struct {
	Instant
	line, key, note int32
}

func (k keyDown) compare(o keyDown) int {
	return cmp.Or(k.Instant.Compare(o.Instant), cmp.Compare(k.line, o.line), cmp.Compare(k.key, o.key),
		cmp.Compare(k.note, o.note))
}

// strike makes the strokes of all lines, and the instants of all strokes.
func (p *Playing) strike(struck []keyDown) {
	chords := chordsOf(struck)
	many := make([]int, len(p.Lines))
	for _, keys := range chords {
		many[keys[0].line]++
	}
	for l := range p.Lines {
		p.Lines[l].Strokes = make([]Stroke, 0, many[l])
	}
	row := make([]*Stroke, 0, len(chords)) // of all hands; each instant has a piece of it
	notes := make([]int, 2*len(struck))
	for _, keys := range chords {
		line := &p.Lines[keys[0].line]
		for _, k := range keys {
			p.spots[k.note].stroke = int32(len(line.Strokes))
		}
		line.Strokes = append(line.Strokes, newStroke(line.Hand, keys, len(line.Strokes), &notes))
		row = append(row, &line.Strokes[len(line.Strokes)-1])
		if n := len(p.Instants); n > 0 && p.Instants[n-1].Instant == keys[0].Instant {
			p.Instants[n-1].Strokes = row[len(row)-1-len(p.Instants[n-1].Strokes):]
		} else {
			p.Instants = append(p.Instants, Struck{keys[0].Instant, row[len(row)-1:]})
		}
	}
}

// takeOver makes what lines take over from other hands.
func (p *Playing) takeOver(taken []keyDown) {
	notes := make([]int, 2*len(taken))
	for _, keys := range chordsOf(taken) {
		line := &p.Lines[keys[0].line]
		line.Taken = append(line.Taken, newStroke(line.Hand, keys, len(line.Taken), &notes))
	}
}

// chordsOf sorts notes and groups those of one instant and line.
func chordsOf(keys []keyDown) [][]keyDown {
	slices.SortFunc(keys, keyDown.compare)
	var out [][]keyDown
	for from, to := 0, 0; from < len(keys); from = to {
		for to = from; to < len(keys) && keys[to].Instant == keys[from].Instant && keys[to].line == keys[from].line; {
			to++
		}
		out = append(out, keys[from:to])
	}
	return out
}

// newStroke lays the notes of a stroke into a slice from which it takes twice their number.
func newStroke(h score.Hand, keys []keyDown, index int, notes *[]int) Stroke {
	n := len(keys)
	st := Stroke{Instant: keys[0].Instant, Line: int(keys[0].line), Index: index, Notes: (*notes)[:n:n]}
	for i, k := range keys {
		st.Notes[i] = int(k.note)
	}
	st.FromThumb = st.Notes
	if h == score.Left {
		st.FromThumb = (*notes)[n : n : 2*n]
		for to := n; to > 0; { // notes on one key keep the order in which they are written
			from := to - 1
			for from > 0 && keys[from-1].key == keys[to-1].key {
				from--
			}
			st.FromThumb = append(st.FromThumb, st.Notes[from:to]...)
			to = from
		}
	}
	*notes = (*notes)[2*n:]
	return st
}
