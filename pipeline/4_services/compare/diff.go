package compare

import (
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// Side is one of two things compared: a score, and what a run found for it
// where it comes from a run.
type Side struct {
	Score  *score.Score
	Result *state.Result // nil for a bare score
}

// Place is where a difference stands in one of the two scores.
type Place struct {
	Note    int            `json:"n"` // index among the elements named note, -1 where it is none
	Address *score.Address `json:"address,omitempty"`
	Page    int            `json:"page,omitempty"`
	System  int            `json:"system,omitempty"`
	Measure string         `json:"measure"`
	Index   int            `json:"measure_index"`
	Onset   score.Fraction `json:"onset"`
	Beat    string         `json:"beat"`
	Staff   int            `json:"staff,omitempty"`
	Hand    score.Hand     `json:"hand,omitempty"`
	Pitch   string         `json:"pitch,omitempty"`
	Line    int            `json:"line,omitempty"` // in the score's file
	Was     string         `json:"was,omitempty"`  // the old place in words, where the new score names it otherwise

	beat score.Beat
	part int // index in the score's parts
}

// Change is one difference. Old and New say what stands on each side, in
// print's own signs ("3", "4–3"), empty for nothing.
type Change struct {
	Kind Kind   `json:"kind"`
	Old  string `json:"old,omitempty"`
	New  string `json:"new,omitempty"`
	A    *Place `json:"at,omitempty"`     // in the old score
	B    *Place `json:"at_new,omitempty"` // in the new score

	old, new int // measures, as Measures gives them

	look  [2]string     // what a change of looks shares with others
	until *score.Moment // where the line ends that came or went

	where *Place // by which it is named, nil where that is B or else A
	order order
	site  string // where in the old score's music, however the new one is numbered
}

// order is the place of a change in the row: by span of measures, onset, staff
// from above, pitch from above, kind, note.
type order struct {
	span  int
	onset score.Fraction
	staff int
	midi  int
	kind  int
	note  int
}

// Piece is the differences of one piece.
type Piece struct {
	ID       string   `json:"piece"`
	Notes    int      `json:"notes"`   // struck notes of both sides
	Covered  int      `json:"covered"` // hundred-thousandths of them that found their counterpart
	Changes  []Change `json:"changes"`
	Causes   []Cause  `json:"causes,omitempty"`  // changes that run through
	Problem  string   `json:"problem,omitempty"` // why the piece could not be compared
	OldTitle string   `json:"title,omitempty"`
	// ByClass counts the lines of each class, one for each cause.
	ByClass map[Class]int `json:"counts,omitempty"`
	NotSaid []string      `json:"not_said,omitempty"` // what is not compared, since a file does not give it

	notLooked []string        // classes, kinds and measures that were not looked at, for lookedAt
	lostNotes map[string]bool // sites of the old score's notes whose part the new one lacks
}

// Diff is the differences of two collections.
type Diff struct {
	Old    string  `json:"old"`
	New    string  `json:"new"`
	Pieces []Piece `json:"pieces"`

	Compared []Class `json:"compared,omitempty"` // fingering and text where none is named
}

// NotCompared names what stands on the page and was not compared.
func (d *Diff) NotCompared() []string {
	classes := d.Compared
	if len(classes) == 0 {
		classes = Usual()
	}
	return NotCompared(classes)
}

// Differs reports whether anything differs; Failed whether any piece could not
// be compared.
func (d *Diff) Differs() bool {
	for i := range d.Pieces {
		if len(d.Pieces[i].Changes) > 0 {
			return true
		}
	}
	return false
}

// Failed reports whether any piece could not be compared.
func (d *Diff) Failed() bool {
	for i := range d.Pieces {
		if d.Pieces[i].Problem != "" {
			return true
		}
	}
	return false
}

// Counts gives how many changes there are of each kind, by Kinds' order.
func (p *Piece) Counts() map[Kind]int {
	out := map[Kind]int{}
	for i := range p.Changes {
		out[p.Changes[i].Kind]++
	}
	return out
}

// Scores compares two sides of one piece: the classes asked for, fingering and
// text where none is. The keyboard parts are aligned by themselves, since
// they decide which measure is which.
func Scores(id string, a, b Side, classes ...Class) Piece {
	x, y := asWritten(a, b)
	keyboards := align.Options{}
	if len(a.Score.Parts) == len(b.Score.Parts) {
		// What a part is called must not decide what is compared.
		for i := range a.Score.Parts {
			if a.Score.Parts[i].Keyboard || b.Score.Parts[i].Keyboard {
				keyboards.PartsA = append(keyboards.PartsA, i)
			}
		}
		keyboards.PartsB = keyboards.PartsA
	}
	return aligned(id, x, y, align.Align(x.Score, y.Score, keyboards), a.Score.Addresses(), b.Score.Addresses(), classes)
}

// Aligned compares two sides of which the keyboard parts are aligned already.
func Aligned(id string, a, b Side, al *align.Alignment, classes ...Class) Piece {
	return aligned(id, a, b, al, a.Score.Addresses(), b.Score.Addresses(), classes)
}

// aligned compares two sides; addresses are those of their notes, by how they sound.
func aligned(id string, a, b Side, al *align.Alignment, ofA, ofB []score.Address, classes []Class) Piece {
	if len(classes) == 0 {
		classes = Usual()
	}
	c := &comparison{al: al, a: newView(a, al.InA, ofA), b: newView(b, al.InB, ofB), restDigits: true}
	c.partOfChange = map[changeForAll]int{}
	c.a.other, c.a.carry = c.b, al.MomentToB
	c.partToB = partsToB(a.Score, b.Score)
	c.al = c.withoutStrangers(al)
	if c.layout = slices.Contains(classes, Layout); c.layout {
		c.a.findBeams()
		c.b.findBeams()
	}
	c.text = slices.Contains(classes, Text)
	c.unsaid()
	c.head()
	c.parts()
	c.measures()
	c.measureNumbers()
	c.ofNotes()
	c.writtenOutAgain()
	c.otherParts()
	c.inLostParts()
	c.rests()
	c.items()
	c.handSigns()
	if a.Result != nil && b.Result != nil {
		c.results()
	} else {
		c.unsaidKinds = append(c.unsaidKinds, string(Redistribution), string(Roll), string(Suggestion))
	}
	c.changes = slices.DeleteFunc(c.changes, func(ch Change) bool { return !slices.Contains(classes, ch.Kind.Class()) })
	c.sort()
	c.nameAll()
	causes := c.causes()
	p := Piece{
		ID: id, Covered: al.Coverage(), Changes: append([]Change{}, c.changes...), OldTitle: a.Score.Title,
		NotSaid: c.notSaid, Causes: causes,
		notLooked: slices.Concat(classesBesides(classes), c.unsaidKinds, c.lostMeasures()),
		lostNotes: c.lostNotes,
	}
	p.ByClass = p.countClasses(classes)
	for _, v := range []*view{c.a, c.b} {
		for i := range v.score.Notes {
			if v.in[i] && v.score.Notes[i].Struck() {
				p.Notes++
			}
		}
	}
	return p
}

// countClasses counts the lines of each class that was compared.
func (p *Piece) countClasses(classes []Class) map[Class]int {
	out := map[Class]int{}
	for _, c := range classes {
		out[c] = 0
	}
	for _, l := range p.Lines() {
		out[l.Kind().Class()]++
	}
	return out
}

// ofNotes compares the notes of the aligned parts with all that hangs on them.
func (c *comparison) ofNotes() {
	c.notes()
	c.slurs()
	c.chordSigns()
	c.digits()
}

// otherParts compares the notes of the parts that are not aligned yet: singers, other instruments.
func (c *comparison) otherParts() {
	var opts align.Options
	taken := map[int]bool{}
	aligned := func(v *view) map[int]bool {
		out := map[int]bool{}
		for i := range v.score.Notes {
			if v.in[i] {
				out[v.score.Notes[i].Part] = true
			}
		}
		return out
	}
	inA, inB := aligned(c.a), aligned(c.b)
	for i := range c.a.score.Parts {
		if to := c.partToB[i]; to >= 0 && !inA[i] && !inB[to] && !taken[to] {
			opts.PartsA, opts.PartsB = append(opts.PartsA, i), append(opts.PartsB, to)
			taken[to] = true
		}
	}
	if len(opts.PartsA) == 0 {
		return
	}
	opts.Measures = c.al
	al, a, b := c.al, *c.a, *c.b
	c.al = c.withoutStrangers(align.Align(a.score, b.score, opts))
	c.a.in, c.b.in = c.al.InA, c.al.InB
	c.ofNotes()
	c.al, c.a.in, c.b.in = al, a.in, b.in
}

// Lone is a piece that one side lacks: its place names no measure.
func Lone(id string, kind Kind) Piece {
	return Piece{
		ID: id, Changes: []Change{{Kind: kind, B: &Place{Note: -1}, old: -1, new: -1}}, notLooked: classesBesides(nil),
	}
}
