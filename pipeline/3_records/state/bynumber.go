package state

// ByNumber finds the notes of a result by their N.
type ByNumber struct {
	dense  []*Note       // by N
	sparse map[int]*Note // where they are few for their numbers
}

// ByNumber makes the notes of a result known by their N; of two with one the later counts.
func (r *Result) ByNumber() ByNumber {
	most := -1
	for i := range r.Notes {
		most = max(most, r.Notes[i].N)
	}
	var b ByNumber
	if most < 8*len(r.Notes)+64 {
		b.dense = make([]*Note, most+1)
	} else {
		b.sparse = make(map[int]*Note, len(r.Notes))
	}
	for i := range r.Notes {
		switch n := &r.Notes[i]; {
		case b.sparse != nil:
			b.sparse[n.N] = n
		case n.N >= 0:
			b.dense[n.N] = n
		}
	}
	return b
}

// Of gives the note with a number, nil where there is none.
func (b ByNumber) Of(n int) *Note {
	if b.sparse != nil {
		return b.sparse[n]
	}
	if n < 0 || n >= len(b.dense) {
		return nil
	}
	return b.dense[n]
}
