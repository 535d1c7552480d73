package compare

import (
	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// Side is one of two things compared: a score, and what a run found for it
// where it comes from a run.
type Side struct {
	Score  *score.Score
	Result *state.Result // nil for a bare score
}

// Place is where a difference stands in one of the two scores.
type Place struct {
	Note    int            `json:"n"` // index among the elements named note, -1 where it is none
	Address *score.Address `json:"address,omitempty"`
	Page    int            `json:"page,omitempty"`
	System  int            `json:"system,omitempty"`
	Measure string         `json:"measure"`
	Index   int            `json:"measure_index"`
	Onset   score.Fraction `json:"onset"`
	Beat    string         `json:"beat"`
	Staff   int            `json:"staff,omitempty"`
	Hand    score.Hand     `json:"hand,omitempty"`
	Pitch   string         `json:"pitch,omitempty"`
	Line    int            `json:"line,omitempty"` // in the score's file
	Was     string         `json:"was,omitempty"`  // the old place in words, where the new score names it otherwise

	beat score.Beat
}

// Change is one difference. Old and New say what stands on each side, in
// print's own signs ("3", "4–3"), empty for nothing.
type Change struct {
	Kind Kind   `json:"kind"`
	Old  string `json:"old,omitempty"`
	New  string `json:"new,omitempty"`
	A    *Place `json:"at,omitempty"`     // in the old score
	B    *Place `json:"at_new,omitempty"` // in the new score

	where *Place // by which it is named, nil where that is B or else A
	order order
	site  string // where in the old score's music, however the new one is numbered
}

// order is the place of a change in the row: by span of measures, onset, staff
// from above, pitch from above, kind, note.
type order struct {
	span  int
	onset score.Fraction
	staff int
	midi  int
	kind  int
	note  int
}

// Piece is the differences of one piece.
type Piece struct {
	ID       string   `json:"piece"`
	Notes    int      `json:"notes"`   // struck notes of both sides
	Covered  int      `json:"covered"` // hundred-thousandths of them that found their counterpart
	Changes  []Change `json:"changes"`
	Problem  string   `json:"problem,omitempty"` // why the piece could not be compared
	OldTitle string   `json:"title,omitempty"`
}

// Diff is the differences of two collections.
type Diff struct {
	Old    string  `json:"old"`
	New    string  `json:"new"`
	Pieces []Piece `json:"pieces"`
}

// Differs reports whether anything differs; Failed whether any piece could not
// be compared.
func (d *Diff) Differs() bool {
	for i := range d.Pieces {
		if len(d.Pieces[i].Changes) > 0 {
			return true
		}
	}
	return false
}

// Failed reports whether any piece could not be compared.
func (d *Diff) Failed() bool {
	for i := range d.Pieces {
		if d.Pieces[i].Problem != "" {
			return true
		}
	}
	return false
}

// Counts gives how many changes there are of each kind, by Kinds' order.
func (p *Piece) Counts() map[Kind]int {
	out := map[Kind]int{}
	for i := range p.Changes {
		out[p.Changes[i].Kind]++
	}
	return out
}

// Scores compares two sides of one piece.
func Scores(id string, a, b Side) Piece {
	al := align.Align(a.Score, b.Score, align.Options{})
	return Aligned(id, a, b, al)
}

// Aligned compares two sides whose alignment is already known.
func Aligned(id string, a, b Side, al *align.Alignment) Piece {
	c := &comparison{al: al, a: newView(a, al.InA), b: newView(b, al.InB)}
	c.a.other, c.a.carry = c.b, al.MomentToB
	c.measures()
	c.notes()
	c.slurs()
	c.chordSigns()
	c.digits()
	c.handSigns()
	if a.Result != nil && b.Result != nil {
		c.results()
	}
	c.sort()
	c.nameAll()
	p := Piece{ID: id, Covered: al.Coverage(), Changes: append([]Change{}, c.changes...), OldTitle: a.Score.Title}
	for _, v := range []*view{c.a, c.b} {
		for i := range v.score.Notes {
			if v.in[i] && v.score.Notes[i].Struck() {
				p.Notes++
			}
		}
	}
	return p
}

// Lone is a piece that one side lacks: its place names no measure.
func Lone(id string, kind Kind) Piece {
	return Piece{ID: id, Changes: []Change{{Kind: kind, B: &Place{Note: -1}}}}
}
