package decision

// WithoutTable gives a note as it is without the table of its file: what of it is told from there alone is left out.
func (n NoteRef) WithoutTable() NoteRef {
	n.table, n.row = nil, 0
	return n
}
