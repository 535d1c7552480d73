package score

// Item is one thing that stands on the page beside the notes' own keys and
// lengths: a clef, a dynamic, a word, an accidental, a syllable. Readers give
// it in the words of the trade, so that two items that read alike look alike.
type Item struct {
	Kind    ItemKind
	Reading string    // "bass clef", "2 flats", "rit."
	Part    int       // index in Score.Parts, -1 where it stands in the score's head
	Measure int       // index in Score.Measures
	Onset   Fraction  // in the measure; its length for what stands at the right barline
	Staff   int       // 1… within the part, 0 for all staves of the part
	Note    int       // the note it hangs on, -1 for none
	End     *Moment   // where a line ends, nil for what has no extent or no end
	Side    Placement // of the staff, where the file gives one
	Look    string    // italic, bold, a size, an enclosure: how the engraver sets it
	Line    int       // where its tag opens in the file, 1…
}

// Moment is a place in time: a measure and an onset in it.
type Moment struct {
	Measure int
	Onset   Fraction
}

// ItemKind says what an item is. The words are those of files.
type ItemKind string

// The kinds of item that are text.
const (
	ItemTitle            ItemKind = "title" // of work or movement, with its number
	ItemCreator          ItemKind = "creator"
	ItemRights           ItemKind = "rights"
	ItemCredit           ItemKind = "credit" // words set free on a page
	ItemLegend           ItemKind = "legend" // the credit in which an edition explains its digits
	ItemClef             ItemKind = "clef"
	ItemKey              ItemKind = "key"
	ItemMetre            ItemKind = "metre"
	ItemStaff            ItemKind = "staff-details" // how many staves, lines of a staff, its type
	ItemTransposition    ItemKind = "transposition" // how far a staff sounds from what is written
	ItemMeasureSign      ItemKind = "measure-sign"  // rests of many measures, signs of repetition, slashes
	ItemMeasureNumbering ItemKind = "measure-numbering"
	ItemBarline          ItemKind = "barline"
	ItemRepeat           ItemKind = "repeat"
	ItemEnding           ItemKind = "ending"
	ItemJump             ItemKind = "jump" // da capo, segno, coda, fine
	ItemTempo            ItemKind = "tempo"
	ItemMetronome        ItemKind = "metronome"
	ItemWords            ItemKind = "words"
	ItemRehearsal        ItemKind = "rehearsal"
	ItemDynamics         ItemKind = "dynamics"
	ItemHairpin          ItemKind = "hairpin"
	ItemPedal            ItemKind = "pedal"
	ItemOctaveLine       ItemKind = "octave-line"
	ItemLine             ItemKind = "line" // dashes, brackets
	ItemDirection        ItemKind = "direction-sign"
	ItemChordSymbol      ItemKind = "chord-symbol"
	ItemFiguredBass      ItemKind = "figured-bass"
	ItemLyric            ItemKind = "lyric"
	ItemFermata          ItemKind = "fermata"
	ItemAccidental       ItemKind = "accidental"
	ItemNotehead         ItemKind = "notehead"
	ItemTuplet           ItemKind = "tuplet"
	ItemArticulation     ItemKind = "articulation"
	ItemOrnament         ItemKind = "ornament"
	ItemArpeggio         ItemKind = "arpeggio"
	ItemGlissando        ItemKind = "glissando"
	ItemTechnical        ItemKind = "technical" // signs of playing that are no digits
	ItemLetRing          ItemKind = "let-ring"
	ItemNotation         ItemKind = "notation" // a sign at a note that is none of these
	ItemUnpitched        ItemKind = "unpitched-note"
	ItemFurther          ItemKind = "further-notation" // what a format has in the music besides what is read of it, as it writes it
)

// The kinds of item that are layout.
const (
	ItemSystemBreak ItemKind = "system-break"
	ItemPageBreak   ItemKind = "page-break"
	ItemTrillLine   ItemKind = "trill-line"
)
