package suggestions

import (
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// gripCount counts grips of several keys, held ones included.
type gripCount struct {
	grips    int
	said     int // beyond the hand, with a reason at a struck note
	unsaid   int // beyond the hand without one, and notes that have neither finger nor reason
	changed  int // pairs not looked at: the finger that struck one of the keys changed while it was held
	letGo    int // pairs not looked at: one of the keys is held as written, let go, and its note says so (touch: pedal)
	noFinger int
	notes    int
}

// line counts one hand's line; answer gives the engine's answer for a note's id.
func (c *gripCount) line(h fingering.Hand, notes []fingering.Note, p hand.Profile, answer func(id int) *engine.Fingered) {
	for _, n := range notes {
		c.notes++
		if answer(n.ID).Finger == 0 {
			c.noFinger++
			if answer(n.ID).OutOfReach == "" {
				c.unsaid++
			}
		}
	}
	line := fingering.NewLine(h, notes, p.Fits)
	first := func(s fingering.Sounding) *engine.Fingered { return answer(line.Strikes[s.Strike].IDs[0]) }
	for _, e := range line.Events {
		if len(e.Keys) < 2 {
			continue
		}
		c.grips++
		over, said := false, false
		for i, a := range e.Keys {
			said = said || a.Struck && first(a).OutOfReach != ""
			for _, b := range e.Keys[i+1:] {
				x, y := first(a), first(b)
				switch {
				case x.Substitution != 0 || y.Substitution != 0:
					c.changed++
				case x.Pedal && !a.Struck || y.Pedal && !b.Struck:
					c.letGo++
				case x.Finger != 0 && y.Finger != 0:
					over = over || p.Excess(int(x.Finger), int(y.Finger), hand.Distance(int(a.Key), int(b.Key))) > 0
				}
			}
		}
		switch {
		case over && said:
			c.said++
		case over:
			c.unsaid++
		}
	}
}

// ofLine counts the grips of one line of a piece.
func (c *gripCount) ofLine(w *pipeline.PieceRun, l suggest.LineSum) {
	notes := suggest.NotesOf(w.SuggestInput(), l.Player, l.Hand)
	c.line(fingering.HandOf(l.Hand), notes, w.Profile, func(id int) *engine.Fingered {
		if added, ok := w.Suggestion.Added[id]; ok {
			return &added
		}
		return &w.Suggestion.Notes[id].Fingered
	})
}
