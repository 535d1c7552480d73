package score

// RowOfSign says how many strokes the first sign of a note stands for that stands for more notes than are written, and which of them
// is the written note itself, from 0; 0 and 0 where no sign does. A turn begins beside the written note, all others but a slide on it.
func (n *Note) RowOfSign() (strokes, written int) {
	if n.Grace > 0 || n.Duration.Sign() <= 0 {
		return 0, 0
	}
	for _, sign := range n.Ornaments {
		switch sign.Kind {
		case "trill", "mordent", "inverted-mordent":
			return 3, 0
		case "turn", "inverted-turn":
			return 4, 1
		case "delayed-turn", "delayed-inverted-turn":
			return 5, 0
		case "schleifer":
			return 3, 2
		}
	}
	return 0, 0
}
