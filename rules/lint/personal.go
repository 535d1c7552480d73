package lint

// Personal is a passage that an editor fingered for their own hand rather than for most: notes in the order of playing,
// with the editor's fingers and those for most hands.
type Personal struct {
	Notes, Own, Many []int
	Says             string // why, behind the fingers: "costs the hands of this edition more in comfort"
}
