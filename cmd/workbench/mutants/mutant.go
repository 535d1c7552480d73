// Package mutants changes scores at random, as an engraver, a corrector or a careless copyist does, and knows what it changed.
package mutants

import (
	"fmt"
	"math/rand/v2"
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/compare"
)

// mutant is a document being changed. Truths name elements; indices are
// looked up when all is done, since mutations move them.
type Mutant struct {
	Doc     *etree.Document
	old     *score.Score
	Rng     *rand.Rand
	OldN    map[*etree.Element]int // index in the old document
	Notes   []*etree.Element       // candidates: pitched piano notes as they stand now
	touched map[*etree.Element]bool
	closed  map[*etree.Element]bool // measures that were moved, cut or transposed as a whole
	truths  []planted
	after   []func(a, b *score.Score, n map[*etree.Element]int)
	runs    []func(b *state.Result, n map[*etree.Element]int) // changes to what a run found
	Text    string
	name    string
}

type planted struct {
	kind     compare.Kind
	note     *etree.Element // nil where it stands at a measure
	measureA int            // index in the old score, -1
	measureB *etree.Element
}

// truth is one planted difference: its kind and the note (or measure) of the
// old score, or of the new where the old has none.
type Truth struct {
	Kind    compare.Kind
	A, B    int
	Measure bool
}

func New(name string, data []byte, old *score.Score, rng *rand.Rand) (*Mutant, error) {
	src, err := source.Open(name, data, source.DefaultLimits())
	if err != nil {
		return nil, err
	}
	doc := etree.NewDocument()
	doc.ReadSettings.CharsetReader = passThrough
	if err := doc.ReadFromString(src.Text); err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	d := &Mutant{Doc: doc, old: old, Rng: rng, name: name, OldN: map[*etree.Element]int{}, touched: map[*etree.Element]bool{}, closed: map[*etree.Element]bool{}}
	piano := map[int]bool{}
	for _, p := range old.PianoParts() {
		piano[p] = true
	}
	for i, e := range doc.FindElements("//note") {
		d.OldN[e] = i
		if n := &old.Notes[i]; n.Kind == score.Pitched && !n.Cue && !n.Hidden && (len(piano) == 0 || piano[n.Part]) {
			d.Notes = append(d.Notes, e)
		}
	}
	return d, nil
}

// indices gives the notes of the document as it stands, by their index in it.
func (d *Mutant) Indices() map[*etree.Element]int {
	out := map[*etree.Element]int{}
	for i, e := range d.Doc.FindElements("//note") {
		out[e] = i
	}
	return out
}

// pick gives an untouched note that suits and marks it touched, with its
// measure's fitness: notes of one chord and their neighbours are left alone
// afterwards, so that no two differences fall on each other.
func (d *Mutant) pick(suits func(e *etree.Element, n *score.Note) bool) *etree.Element {
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

// touch marks all notes within a moment of the score's timeline.
func (d *Mutant) touch(i int) {
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

func (d *Mutant) plant(kind compare.Kind, e *etree.Element) {
	d.truths = append(d.truths, planted{kind: kind, note: e, measureA: -1})
}

// finish writes and reads the document and looks the truths up.
func (d *Mutant) Finish() (a, b compare.Side, out []Truth, err error) {
	if d.Text, err = d.Doc.WriteToString(); err != nil {
		return a, b, nil, err
	}
	s, err := opendata.ParseScore(d.name, []byte(d.Text))
	if err != nil {
		return a, b, nil, err
	}
	now := d.Indices()
	measures := map[*etree.Element]int{}
	for _, part := range d.Doc.FindElements("//part") {
		for i, m := range part.SelectElements("measure") {
			measures[m] = i
		}
	}
	old := *d.old
	if len(d.after) > 0 {
		old = *CloneNotes(d.old)
		for i := range old.Notes {
			for k := range old.Notes[i].Indications {
				old.Notes[i].Indications[k].Responsibility = score.Composer
			}
		}
		for i := range s.Notes {
			for k := range s.Notes[i].Indications {
				s.Notes[i].Indications[k].Responsibility = score.Composer
			}
		}
		for _, f := range d.after {
			f(&old, s, now)
		}
	}
	for _, p := range d.truths {
		t := Truth{Kind: p.kind, A: -1, B: -1}
		switch {
		case p.note != nil:
			if i, ok := d.OldN[p.note]; ok {
				t.A = i
			}
			if i, ok := now[p.note]; ok {
				t.B = i
			}
		case p.measureA >= 0:
			t.Measure, t.A = true, p.measureA
		default:
			t.Measure, t.B = true, measures[p.measureB]
		}
		out = append(out, t)
	}
	a, b = compare.Side{Score: &old}, compare.Side{Score: s}
	if len(d.runs) > 0 {
		a.Result, b.Result = &state.Result{}, &state.Result{}
		for _, e := range d.Notes {
			i := d.OldN[e]
			n := state.Note{N: i, Hand: score.Right, Finger: 3}
			if old.Notes[i].Staff == 2 {
				n.Hand = score.Left
			}
			a.Result.Notes = append(a.Result.Notes, n)
			if j, ok := now[e]; ok {
				n.N = j
				b.Result.Notes = append(b.Result.Notes, n)
			}
		}
		for _, f := range d.runs {
			f(b.Result, now)
		}
	}
	return a, b, out, nil
}

func CloneNotes(s *score.Score) *score.Score {
	out := *s
	out.Notes = make([]score.Note, len(s.Notes))
	for i, n := range s.Notes {
		n.Indications = append([]score.Indication(nil), n.Indications...)
		out.Notes[i] = n
	}
	return &out
}

// Small tools on note elements.

func FingeringsOf(e *etree.Element) []*etree.Element {
	return e.FindElements("notations/technical/fingering")
}

// technicalOf gives the technical element of a note, made where there is none.
func TechnicalOf(e *etree.Element) *etree.Element {
	if t := e.FindElement("notations/technical"); t != nil {
		return t
	}
	return NotationsOf(e).CreateElement("technical")
}

func NotationsOf(e *etree.Element) *etree.Element {
	if n := e.SelectElement("notations"); n != nil {
		return n
	}
	n := etree.NewElement("notations")
	at := len(e.Child)
	for i, c := range e.Child { // lyric and what follows come after notations
		if x, ok := c.(*etree.Element); ok && (x.Tag == "lyric" || x.Tag == "play" || x.Tag == "listen") {
			at = i
			break
		}
	}
	e.InsertChildAt(at, n)
	return n
}

func intOf(e *etree.Element, tag string) int {
	c := e.SelectElement(tag)
	if c == nil {
		return 0
	}
	n, _ := strconv.Atoi(c.Text())
	return n
}

func setInt(e *etree.Element, tag string, v int) {
	if c := e.SelectElement(tag); c != nil {
		c.SetText(strconv.Itoa(v))
	}
}

// inChord reports whether a note joins a chord or has notes that join it.
func inChord(e *etree.Element) bool {
	if e.SelectElement("chord") != nil {
		return true
	}
	next := nextElement(e)
	return next != nil && next.Tag == "note" && next.SelectElement("chord") != nil
}

func nextElement(e *etree.Element) *etree.Element {
	siblings := e.Parent().Child
	for i := e.Index() + 1; i < len(siblings); i++ {
		if x, ok := siblings[i].(*etree.Element); ok {
			return x
		}
	}
	return nil
}

// sameKey reports whether two notes are one key at one moment.
func SameKey(s *score.Score, i, j int) bool {
	m, n := &s.Notes[i], &s.Notes[j]
	return m.Measure == n.Measure && m.Onset == n.Onset && m.Midi == n.Midi
}
