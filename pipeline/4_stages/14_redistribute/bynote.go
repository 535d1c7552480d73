package redistribute

// byNote is a number of each note by its id; 0 of notes that have none. Ids lie close together, from 0 on.
type byNote []int32

func (b *byNote) set(id, number int) {
	for id >= len(*b) {
		*b = append(*b, 0)
	}
	(*b)[id] = int32(number) + 1
}

func (b byNote) has(id int) bool { return id >= 0 && id < len(b) && b[id] != 0 }

func (b byNote) of(id int) int {
	if !b.has(id) {
		return 0
	}
	return int(b[id]) - 1
}
