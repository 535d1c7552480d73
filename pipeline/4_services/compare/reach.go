package compare

import "fingerproof/corpus/score"

// reach says by what the items of a kind find each other.
type reach uint8

const (
	atHead    reach = iota // by what they say, wherever the file keeps them
	atNote                 // by the note
	atChord                // by the chord: files hang them on one of its notes or on each
	atStaff                // by moment and staff
	atSystem               // by moment: they hold for all staves
	atBarline              // the same, at the edges of measures
)

var reaches = map[score.ItemKind]reach{
	score.ItemTitle: atHead, score.ItemCreator: atHead, score.ItemRights: atHead, score.ItemCredit: atHead,
	score.ItemLegend: atHead,

	score.ItemAccidental: atNote, score.ItemNotehead: atNote,

	score.ItemTuplet: atChord, score.ItemArticulation: atChord, score.ItemOrnament: atChord, score.ItemArpeggio: atChord,
	score.ItemGlissando: atChord, score.ItemTechnical: atChord, score.ItemLetRing: atChord, score.ItemNotation: atChord,
	score.ItemTrillLine: atChord,

	score.ItemClef: atStaff, score.ItemKey: atStaff, score.ItemMetre: atStaff, score.ItemStaff: atStaff, score.ItemTransposition: atStaff,
	score.ItemMeasureSign: atStaff, score.ItemWords: atStaff, score.ItemDynamics: atStaff, score.ItemHairpin: atStaff,
	score.ItemOctaveLine: atStaff, score.ItemLine: atStaff, score.ItemDirection: atStaff, score.ItemChordSymbol: atStaff,
	score.ItemFiguredBass: atStaff, score.ItemLyric: atStaff, score.ItemFermata: atStaff, score.ItemUnpitched: atStaff,
	score.ItemFurther: atStaff,

	score.ItemTempo: atSystem, score.ItemMetronome: atSystem, score.ItemRehearsal: atSystem, score.ItemPedal: atSystem,
	score.ItemJump: atSystem,

	score.ItemBarline: atBarline, score.ItemRepeat: atBarline, score.ItemEnding: atBarline,
	score.ItemMeasureNumbering: atBarline, score.ItemPageBreak: atBarline, score.ItemSystemBreak: atBarline,
}

// reachOf says by what an item finds its like. What hangs on a rest is found by its moment.
func (v *view) reachOf(i *score.Item) reach {
	r := reaches[i.Kind]
	if (r == atNote || r == atChord) && (i.Note < 0 || v.score.Notes[i.Note].Kind != score.Pitched) {
		return atStaff
	}
	return r
}

// atEdges are the kinds that stand at the beginning of a measure even where a
// pickup makes its first note come later.
var atEdges = map[score.ItemKind]bool{
	score.ItemClef: true, score.ItemKey: true, score.ItemMetre: true, score.ItemStaff: true, score.ItemMeasureSign: true,
	score.ItemTransposition: true,
	score.ItemBarline:       true, score.ItemRepeat: true, score.ItemEnding: true, score.ItemMeasureNumbering: true,
	score.ItemPageBreak: true, score.ItemSystemBreak: true,
}

// betweenStaves are the kinds that stand as well below the upper staff as above the lower.
var betweenStaves = map[score.ItemKind]bool{
	score.ItemWords: true, score.ItemDynamics: true, score.ItemHairpin: true, score.ItemLine: true, score.ItemDirection: true,
}

// inForce are the kinds that hold until the next of their kind.
var inForce = map[score.ItemKind]bool{score.ItemClef: true, score.ItemKey: true, score.ItemMetre: true}

// forAll are the kinds that all parts of a score have at the same moments.
var forAll = map[score.ItemKind]bool{
	score.ItemKey: true, score.ItemMetre: true, score.ItemBarline: true, score.ItemRepeat: true, score.ItemEnding: true,
	score.ItemJump: true, score.ItemTempo: true, score.ItemMetronome: true, score.ItemRehearsal: true,
	score.ItemMeasureNumbering: true, score.ItemMeasureSign: true, score.ItemPageBreak: true, score.ItemSystemBreak: true,
}

// family puts kinds together that a reader would take for one another: a tempo
// word that became another word.
func familyOf(k score.ItemKind) score.ItemKind {
	switch k {
	case score.ItemTempo, score.ItemJump:
		return score.ItemWords
	}
	return k
}

// timeInA carries a moment of A into B's time; false where B lacks the measure.
// The end of a measure is its end on both sides, whatever its music adds up to.
func (c *comparison) timeInA(measure int, onset score.Fraction, edge bool) (score.Fraction, bool) {
	span := &c.al.Spans[c.al.SpanOfA[measure]]
	if !span.Paired() {
		return score.Fraction{}, false
	}
	m := &c.a.score.Measures[measure]
	switch {
	case edge && onset.Sign() == 0 && measure == span.A.From:
		return c.b.score.Measures[span.B.From].Start, true
	case !onset.Less(m.Length) && measure == span.A.To-1:
		last := &c.b.score.Measures[span.B.To-1]
		return last.Start.Add(last.Length), true
	}
	to, at, ok := c.al.MomentToB(measure, onset)
	if !ok {
		return score.Fraction{}, false
	}
	return c.b.score.Measures[to].Start.Add(at), true
}

// timeInB is the time of a moment of B; false where A lacks the measure.
func (c *comparison) timeInB(measure int, onset score.Fraction) (score.Fraction, bool) {
	if !c.al.Spans[c.al.SpanOfB[measure]].Paired() {
		return score.Fraction{}, false
	}
	m := &c.b.score.Measures[measure]
	return m.Start.Add(score.Min(onset, m.Length)), true
}
