// Package register keeps all corrections of a volume with what became of each,
// from proof to proof: a file that people read, that git merges, and that a
// reader's marks are merged into.
package register

import (
	"cmp"
	"maps"
	"slices"
	"strings"
)

// State is what became of a correction.
type State string

// The states.
const (
	Open   State = "open"   // asked for in the latest proof for the first time
	Missed State = "missed" // asked for before, and the latest proof has not got it
	Done   State = "done"   // the latest proof reads as approved
	Kept   State = "kept"   // a reader let the proof's reading stand
)

// States lists them in the order of reports: what is to be done first.
func States() []State { return []State{Missed, Open, Done, Kept} }

// Entry is one correction: what the proof is to be made to read at a place.
type Entry struct {
	ID    string `yaml:"id"` // the same for the same correction of every proof
	Piece string `yaml:"piece"`
	At    string `yaml:"at"`            // in words, by the measures of the latest proof that was wrong
	Ask   string `yaml:"ask,omitempty"` // what the engraver is asked to do
	What  string `yaml:"what"`
	Reads string `yaml:"reads,omitempty"`  // what the proof has, empty for nothing
	Want  string `yaml:"should,omitempty"` // what it is to have, empty for nothing
	// Now is what the latest proof has in the stead of a kept reading, nil where it has that, or reads as approved; a
	// reader decides on it.
	Now   *string `yaml:"reads_now,omitempty"`
	State State   `yaml:"state"`
	// First is the number of the piece's proof in which it was first wrong, Done
	// of the one that had it right; 0 for none.
	First int `yaml:"first_in,omitempty"`
	Done  int `yaml:"done_in,omitempty"`
	// Past is when it was asked for and done before it was wrong again, the earliest first.
	Past    []Spell `yaml:"before,omitempty"`
	Comment string  `yaml:"comment,omitempty"`
	By      string  `yaml:"by,omitempty"` // initials of who decided that it is kept, or commented
	// Site and Part find the correction again: its place in the approved copy's
	// music, and the part of the note that it is about.
	Site string `yaml:"site,omitempty"`
	Part string `yaml:"part,omitempty"`
}

// Spell is from the proof in which something was wrong to the one that had it right.
type Spell struct {
	First int `yaml:"first_in"`
	Done  int `yaml:"done_in"`
}

// Proof is a typeset proof that was compared.
type Proof struct {
	Name string `yaml:"name"` // its folder or score as it is found from the register, with slashes
	// Pieces that were compared of it, each with a sum of its text, empty for one that it lacks or has alone. The same proof
	// compared again is no new one, and a volume may be read piece by piece. A piece that came back as it was is a new
	// proof of that piece all the same: nothing that was asked for was done.
	Pieces map[string]string `yaml:"pieces"`
	// NotCompared is what was not looked at in a piece, in any comparison of this proof: classes, kinds, and measures
	// of the approved copy. A piece that is not named was looked at wholly.
	NotCompared map[string][]string `yaml:"not_compared,omitempty"`
}

// Register is the corrections of a volume.
type Register struct {
	Approved string `yaml:"approved"`
	// Texts has a sum of each piece's approved text: the places of corrections are those of this text.
	Texts   map[string]string `yaml:"approved_texts,omitempty"`
	Proofs  []Proof           `yaml:"proofs"`
	Entries []Entry           `yaml:"corrections"`
}

// Approve keeps the sums of approved texts, by piece. It gives the pieces, in order, whose approved text is another
// one than that whose corrections are kept, and keeps nothing then.
func (r *Register) Approve(sums map[string]string) (others []string) {
	for piece, sum := range sums {
		if known, has := r.Texts[piece]; has && known != sum {
			others = append(others, piece)
		}
	}
	if len(others) > 0 {
		slices.Sort(others)
		return others
	}
	if r.Texts == nil {
		r.Texts = map[string]string{}
	}
	maps.Copy(r.Texts, sums)
	return nil
}

// readings are the proofs in which a piece was compared, or looked for in vain, in their order.
func (r *Register) readings(piece string) []*Proof {
	var out []*Proof
	for i := range r.Proofs {
		if _, has := r.Proofs[i].Pieces[piece]; has {
			out = append(out, &r.Proofs[i])
		}
	}
	return out
}

// again gives the proof which is read once more, or whose further pieces are read: the latest of its name, where no piece
// has another text than it had then. A folder that was filled anew is another proof, and so is an old text under a new name.
func (r *Register) again(proof Proof) *Proof {
	for i := len(r.Proofs) - 1; i >= 0; i-- {
		known := &r.Proofs[i]
		if !known.holds(proof.Name) {
			continue
		}
		for piece, sum := range proof.Pieces {
			if s, has := known.Pieces[piece]; has && s != sum {
				return nil
			}
		}
		return known
	}
	return nil
}

// holds reports that a name is the proof's, or that of a score in its folder, or of the folder in which it lies.
func (p *Proof) holds(name string) bool {
	return p.Name == name || strings.HasPrefix(name, p.Name+"/") || strings.HasPrefix(p.Name, name+"/")
}

// Number is the number of a piece's proof, from 1: that which it had when it was read before, or the next one.
func (r *Register) Number(proof Proof, piece string) int {
	readings := r.readings(piece)
	if i := slices.Index(readings, r.again(proof)); i >= 0 {
		return i + 1
	}
	return len(readings) + 1
}

// Latest is the number of the latest proof of a piece, 0 where there was none.
func (r *Register) Latest(piece string) int { return len(r.readings(piece)) }

// Later gives the pieces, in order, of which a later proof was read already when this one is read again: what became of
// their corrections is known from that.
func (r *Register) Later(proof Proof) (pieces []string) {
	known := r.again(proof)
	if known == nil {
		return nil
	}
	since := false
	for i := range r.Proofs {
		p := &r.Proofs[i]
		for piece := range proof.Pieces {
			if _, has := p.Pieces[piece]; since && has && !slices.Contains(pieces, piece) {
				pieces = append(pieces, piece)
			}
		}
		since = since || p == known
	}
	slices.Sort(pieces)
	return pieces
}

// Untouched gives the pieces, in order, of a proof that was not read yet whose text is that of the proof before although
// something was asked for in them.
func (r *Register) Untouched(proof Proof) (pieces []string) {
	for piece, sum := range proof.Pieces {
		all := r.readings(piece)
		asked := slices.ContainsFunc(r.Entries, func(e Entry) bool {
			return e.Piece == piece && (e.State == Open || e.State == Missed)
		})
		if n := len(all); asked && n > 0 && r.Number(proof, piece) > n && all[n-1].Pieces[piece] == sum {
			pieces = append(pieces, piece)
		}
	}
	slices.Sort(pieces)
	return pieces
}

// NotCompared is what was not looked at in a piece's proof of a number.
func (r *Register) NotCompared(piece string, number int) []string {
	if readings := r.readings(piece); number > 0 && number <= len(readings) {
		return readings[number-1].NotCompared[piece]
	}
	return nil
}

// Add keeps that pieces of a proof were compared. Of one that is read again it keeps what was not looked at this time
// either.
func (r *Register) Add(proof Proof) {
	if len(proof.Pieces) == 0 {
		return
	}
	known := r.again(proof)
	if known == nil {
		r.Proofs = append(r.Proofs, Proof{proof.Name, map[string]string{}, map[string][]string{}})
		known = &r.Proofs[len(r.Proofs)-1]
	}
	if len(proof.Name) < len(known.Name) { // the folder of a score that was read alone
		known.Name = proof.Name
	}
	if known.NotCompared == nil {
		known.NotCompared = map[string][]string{}
	}
	for piece, sum := range proof.Pieces {
		left := proof.NotCompared[piece]
		if _, has := known.Pieces[piece]; has {
			left = slices.DeleteFunc(known.NotCompared[piece], func(what string) bool { return !slices.Contains(left, what) })
		}
		known.Pieces[piece] = sum
		if delete(known.NotCompared, piece); len(left) > 0 {
			known.NotCompared[piece] = left
		}
	}
}

// Sort puts the entries into the order of the file: by piece, each piece's as
// they were found, which is the order of the music.
func (r *Register) Sort() {
	slices.SortStableFunc(r.Entries, func(p, q Entry) int { return cmp.Compare(p.Piece, q.Piece) })
}

// Find gives the entry of an id, nil where there is none.
func (r *Register) Find(id string) *Entry {
	for i := range r.Entries {
		if r.Entries[i].ID == id {
			return &r.Entries[i]
		}
	}
	return nil
}

// Counts says how many entries there are in each state.
func (r *Register) Counts() map[State]int {
	out := map[State]int{}
	for i := range r.Entries {
		out[r.Entries[i].State]++
	}
	return out
}

// Merge takes the marks of another register, or of a sheet saved from a page,
// into this one: who kept a reading and what was remarked. It gives the entries
// that are in no state to be merged: unknown here, kept by one reader and asked
// for by another, or set on another reading than stands here. A mark that says
// neither its kind nor its reading was written by hand, and is one on whatever stands here.
func (r *Register) Merge(other *Register) (unknown, contradicted, outdated []Entry) {
	for _, mark := range other.Entries {
		mine := r.Find(mark.ID)
		if mine == nil {
			unknown = append(unknown, mark)
			continue
		}
		now := mine.Now != nil && mark.Reads == *mine.Now && mine.State == Kept
		if mine.State != Done && mark.What+mark.Reads != "" && mark.Reads != mine.Reads && !now {
			outdated = append(outdated, mark)
			continue
		}
		comment := joined(mine.Comment, mark.Comment)
		switch {
		case mine.State == Done: // nothing is left to be decided
		case now && mark.Reads != mine.Reads: // a decision on what has come in the kept reading's stead
			if mine.Reads, mine.Now = mark.Reads, nil; mark.State != Kept {
				mine.State = r.asked(mine)
			}
		case mark.State == Kept && mine.State != Kept:
			if mine.By != "" && mine.By != mark.By { // another reader has asked for it
				contradicted = append(contradicted, mark)
				break
			}
			mine.State = Kept
		case mark.State != Kept && mine.State == Kept && mark.By != "" && mark.By != mine.By:
			contradicted = append(contradicted, mark)
			mine.State = r.asked(mine)
		}
		mine.Comment, mine.By = comment, joined(mine.By, mark.By)
	}
	return unknown, contradicted, outdated
}

// asked is the state of a correction that is to be made.
func (r *Register) asked(e *Entry) State {
	if e.First < r.Latest(e.Piece) {
		return Missed
	}
	return Open
}

// joined puts two texts beside each other, each once.
func joined(a, b string) string {
	switch {
	case b == "" || a == b || slices.Contains(strings.Split(a, "; "), b):
		return a
	case a == "":
		return b
	}
	return a + "; " + b
}
