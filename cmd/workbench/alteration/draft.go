// Package alteration changes scores at random, as an engraver, a corrector or a careless copyist does, and knows what
// it changed.
package alteration

import (
	"fmt"
	"io"
	"math/rand/v2"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/state"
)

// Original is a score of which altered drafts are made.
type Original struct {
	Name  string
	Score *score.Score
	doc   *etree.Document
}

// Read reads a score.
func Read(name string, data []byte) (*Original, error) {
	s, err := opendata.ParseScore(name, data)
	if err != nil {
		return nil, err
	}
	return Of(name, data, s)
}

// Of reads the text of a score whose music is read already.
func Of(name string, data []byte, s *score.Score) (*Original, error) {
	src, err := source.Open(name, data, source.DefaultLimits())
	if err != nil {
		return nil, err
	}
	doc := etree.NewDocument()
	// The text is UTF-8 by now, whatever it says of itself.
	doc.ReadSettings.CharsetReader = func(_ string, r io.Reader) (io.Reader, error) { return r, nil }
	if err := doc.ReadFromString(src.Text); err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	return &Original{Name: name, Score: s, doc: doc}, nil
}

// Text writes the score as it is.
func (o *Original) Text() (string, error) { return o.doc.WriteToString() }

// Draft is the document of a score being altered. What was altered names elements; their indices are looked up when
// all is done, since alterations move them.
type Draft struct {
	Doc   *etree.Document
	OldN  map[*etree.Element]int // index in the old document
	Notes []*etree.Element       // candidates: pitched piano notes as they stand now
	Rng   *rand.Rand
	Text  string // as written by Finish

	name        string
	oldMeasures map[*etree.Element]int
	head        map[string]bool // kinds planted above the music
	old         *score.Score
	touched     map[*etree.Element]bool
	closed      map[*etree.Element]bool // measures that were moved, cut or transposed as a whole
	truths      []planted
	after       []func(a, b *score.Score, n map[*etree.Element]int)
	runs        []func(b *state.Result, n map[*etree.Element]int) // changes to what a run found
}

// Draft makes a draft of the score as it is.
func (o *Original) Draft(rng *rand.Rand) *Draft {
	d := &Draft{
		Doc: o.doc.Copy(), Rng: rng, name: o.Name, old: o.Score,
		OldN: map[*etree.Element]int{}, touched: map[*etree.Element]bool{}, closed: map[*etree.Element]bool{},
	}
	d.oldMeasures, d.head = map[*etree.Element]int{}, map[string]bool{}
	for _, part := range d.Doc.FindElements("//part") {
		for i, m := range part.SelectElements("measure") {
			d.oldMeasures[m] = i
		}
	}
	piano := map[int]bool{}
	for _, p := range o.Score.PianoParts() {
		piano[p] = true
	}
	for i, e := range notesOf(&d.Doc.Element, nil) {
		d.OldN[e] = i
		if n := &o.Score.Notes[i]; n.Kind == score.Pitched && !n.Cue && !n.Hidden && (len(piano) == 0 || piano[n.Part]) {
			d.Notes = append(d.Notes, e)
		}
	}
	return d
}

// notesOf appends the note elements below e, in document order.
func notesOf(e *etree.Element, list []*etree.Element) []*etree.Element {
	for _, c := range e.Child {
		x, is := c.(*etree.Element)
		switch {
		case !is:
		case x.Tag == "note":
			list = append(list, x)
		default:
			list = notesOf(x, list)
		}
	}
	return list
}

// Indices gives the notes of the document as it stands, by their index in it.
func (d *Draft) Indices() map[*etree.Element]int {
	out := map[*etree.Element]int{}
	for i, e := range notesOf(&d.Doc.Element, nil) {
		out[e] = i
	}
	return out
}

// pick gives an untouched note that suits and marks it touched, with its
// measure's fitness: notes of one chord and their neighbours are left alone
// afterwards, so that no two differences fall on each other.
func (d *Draft) pick(suits suitable) *etree.Element {
	for range 60 {
		if len(d.Notes) == 0 {
			return nil
		}
		e := d.Notes[d.Rng.IntN(len(d.Notes))]
		i, ok := d.OldN[e]
		if !ok || d.touched[e] || d.closed[e.Parent()] || e.Parent() == nil || !suits(e, &d.old.Notes[i]) {
			continue
		}
		d.touch(i)
		return e
	}
	return nil
}

// suitable says which notes an alteration may be made at.
type suitable func(e *etree.Element, n *score.Note) bool

// change makes a change at a note that suits, and plants the difference there; false where no note suits.
func (d *Draft) change(kind string, suits suitable, make func(e *etree.Element)) bool {
	e := d.pick(suits)
	if e == nil {
		return false
	}
	make(e)
	d.plant(kind, e)
	return true
}

// touch marks all notes within a moment of the score's timeline.
func (d *Draft) touch(i int) {
	at := d.old.At(i)
	end := at.Add(score.Max(d.old.Notes[i].Duration, score.Whole(1)))
	from := at.Sub(score.Whole(1))
	for _, e := range d.Notes {
		j, ok := d.OldN[e]
		if !ok || d.old.Notes[j].Measure > d.old.Notes[i].Measure+1 || d.old.Notes[j].Measure < d.old.Notes[i].Measure-1 {
			continue
		}
		if t := d.old.At(j); !t.Less(from) && !end.Less(t) {
			d.touched[e] = true
		}
	}
}

// touchedAway reports that a note was made by another alteration.
func (d *Draft) touchedAway(e *etree.Element) bool {
	_, ok := d.OldN[e]
	return !ok
}

// free reports that no other note at this moment is near a key.
func (d *Draft) free(i, key, within int) bool {
	n := &d.old.Notes[i]
	for j := range d.old.Notes {
		m := &d.old.Notes[j]
		together := m.Kind == score.Pitched && m.Measure == n.Measure && m.Onset == n.Onset
		if j != i && together && m.Midi >= key-within && m.Midi <= key+within {
			return false
		}
	}
	return true
}

func (d *Draft) plant(kind string, e *etree.Element) {
	d.truths = append(d.truths, planted{kind: kind, note: e, measureA: -1})
}
