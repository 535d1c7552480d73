package compare

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
)

// fewestNeeded is how many signs the music must ask for before a score that has
// none counts as one whose file does not give them, rather than as one that lost them.
const fewestNeeded = 3

// unsaid finds what a score's file leaves to the engraver: programs that do not
// write accidentals or the numbers of tuplets print them all the same. What one
// side does not say cannot be compared, and the reports name it.
func (c *comparison) unsaid() {
	accidentals := func(v *view) silence { return v.silence(score.ItemAccidental, v.needsAccidental) }
	c.unsaidAccidentals = c.note("printed accidentals", accidentals(c.a), accidentals(c.b), Accidental)
	tuplets := func(v *view) silence {
		return v.silence(score.ItemTuplet, func(n *score.Note) bool { return n.Tuplet.Actual > 0 })
	}
	c.unsaidTuplets = c.note("the numbers of tuplets", tuplets(c.a), tuplets(c.b), Tuplet)
	stems := func(v *view) silence {
		s := silence{}
		for i := range v.score.Notes {
			if n := &v.score.Notes[i]; n.Kind == score.Pitched && stemmed(n) {
				s.needed++
				if n.Stem != "" {
					s.given++
				}
			}
		}
		return s
	}
	c.note("stems", stems(c.a), stems(c.b), Stem, StemOnly)
	values := func(v *view) silence {
		s := silence{}
		for i := range v.score.Notes {
			if n := &v.score.Notes[i]; n.Kind == score.Pitched {
				s.needed++
				if n.Type != "" {
					s.given++
				}
			}
		}
		return s
	}
	c.note("note values beside lengths", values(c.a), values(c.b), NoteValue)
	c.unmarked()
	c.besides()
}

// oneFormat says that both scores stand in files of one format.
func (c *comparison) oneFormat() bool { return c.a.score.Format == c.b.score.Format }

// besides says where a file has what its format alone can say, and the other is of another format.
func (c *comparison) besides() {
	if c.oneFormat() {
		return
	}
	for _, v := range []*view{c.a, c.b} {
		var first *score.Item
		n := 0
		for i := range v.score.Items {
			if it := &v.score.Items[i]; it.Kind == score.ItemFurther {
				if first == nil {
					first = it
				}
				n++
			}
		}
		if first == nil {
			continue
		}
		side := map[bool]string{true: "old", false: "new"}[v == c.a]
		c.notSaid = append(c.notSaid, fmt.Sprintf("what stands in the music of the %s score and is not read, since the other is of another format (%s; the first in m. %s: %s)",
			side, wording.Count(n, "place"), v.score.Measures[first.Measure].Number, first.Reading))
		if !slices.Contains(c.unsaidKinds, string(Further)) {
			c.unsaidKinds = append(c.unsaidKinds, string(Further))
		}
	}
}

// unmarked says where one side is an edition of ours and the other has digits
// and none of its marks, as one that went through another program: whose its
// digits are cannot be compared, and nobody may take them for the composer's.
func (c *comparison) unmarked() {
	for _, pair := range []struct {
		marked, bare *view
		words        string
	}{
		{c.a, c.b, "the new score has %s and none of the marks of the edition that the old one is"},
		{c.b, c.a, "the old score has %s and none of the marks of the edition that the new one is"},
	} {
		digits := 0
		for i := range pair.bare.score.Notes {
			digits += len(pair.bare.score.Notes[i].Indications)
		}
		if pair.marked.score.Edition != nil && pair.bare.score.Edition == nil && digits > 0 {
			c.notSaid = append(c.notSaid, fmt.Sprintf("whose the digits are ("+pair.words+")", wording.Count(digits, "digit")))
			c.unsaidKinds = append(c.unsaidKinds, string(Responsibility))
		}
	}
}

// silence counts how many signs the music of a score needs and how many its file gives.
type silence struct{ needed, given int }

func (s silence) silent() bool { return s.given == 0 && s.needed >= fewestNeeded }

func (v *view) silence(kind score.ItemKind, needs func(n *score.Note) bool) (s silence) {
	for i := range v.score.Items {
		if v.score.Items[i].Kind == kind {
			s.given++
		}
	}
	for i := range v.score.Notes {
		if n := &v.score.Notes[i]; n.Kind == score.Pitched && needs(n) {
			s.needed++
		}
	}
	return s
}

// note keeps that something, of these kinds, is not compared, and says so.
func (c *comparison) note(what string, a, b silence, kinds ...Kind) bool {
	switch {
	case a.silent() && b.silent():
		what += " (neither score gives them)"
	case a.silent():
		what += " (the old score does not give them)"
	case b.silent():
		what += " (the new score does not give them)"
	default:
		return false
	}
	c.notSaid = append(c.notSaid, what)
	for _, k := range kinds {
		c.unsaidKinds = append(c.unsaidKinds, string(k))
	}
	return true
}

// needsAccidental reports that a note is none of its key's.
func (v *view) needsAccidental(n *score.Note) bool {
	return int(n.Pitch.Alter) != keyAlter(v.score.Measures[n.Measure].Fifths, n.Pitch.Step)
}

// orderOfSharps is the order in which signatures add sharps; flats come the other way round.
const orderOfSharps = "FCGDAEB"

// keyAlter is what a signature does to a step, in semitones.
func keyAlter(fifths int, step byte) int {
	for k := range orderOfSharps {
		if orderOfSharps[k] != step {
			continue
		}
		switch {
		case fifths > 0 && k < fifths:
			return 1 + (fifths-1-k)/7
		case fifths < 0 && 6-k < -fifths:
			return -1 - (-fifths-1-(6-k))/7
		}
	}
	return 0
}
