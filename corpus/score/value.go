package score

// Value gives the length in quarters that a note's printed value stands for:
// its type with dots, within its tuplet. known is false where the file names
// no type, or none of MusicXML's.
func (n *Note) Value() (value Fraction, known bool) {
	length, known := noteValues[n.Type]
	if !known {
		return Fraction{}, false
	}
	value = length
	for range n.Dots {
		length = length.Mul(Frac(1, 2))
		value = value.Add(length)
	}
	if n.Tuplet.Actual > 0 && n.Tuplet.Normal > 0 {
		value = value.Mul(Frac(int64(n.Tuplet.Normal), int64(n.Tuplet.Actual)))
	}
	return value, true
}

// noteValues are the names of MusicXML's note-type-value with their lengths.
var noteValues = map[string]Fraction{
	"breve": Whole(8), "whole": Whole(4), "half": Whole(2), "quarter": Whole(1), "eighth": Frac(1, 2),
	"16th": Frac(1, 4), "32nd": Frac(1, 8), "64th": Frac(1, 16), "128th": Frac(1, 32), "256th": Frac(1, 64),
}
