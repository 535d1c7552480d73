package personal

// Gathered adds passages to a piece and finds those that repeat another.
func Gathered(p *Piece, more ...Passage) []Passage {
	p.Passages = append(p.Passages, more...)
	p.gatherSame()
	return p.Passages
}
