package alteration

import (
	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// planted is one difference as it was made.
type planted struct {
	kind     string
	note     *etree.Element // nil where it stands at a measure
	measureA int            // index in the old score, -1
	measureB *etree.Element
	spot     *spot // a moment, for what hangs on no note
	head     bool  // above the music
}

// Version is a score, with what a run found for it where the alterations are of that.
type Version struct {
	Score  *score.Score
	Result *state.Result
}

// Truth is one planted difference: its kind and the note (or measure) of the
// old score, or of the new where the old has none.
type Truth struct {
	Kind    string
	A, B    int
	Measure bool
	// Moment says that A and B are measures of both scores, -1 for none, and Onset the place in them; a negative onset
	// is the right barline.
	Moment bool
	Onset  score.Fraction
	Head   bool // it stands above the music
}

// Finish writes and reads the document and looks the truths up.
func (d *Draft) Finish() (a, b Version, out []Truth, err error) {
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
		t := Truth{Kind: p.kind, A: -1, B: -1, Head: p.head}
		switch {
		case p.head:
		case p.spot != nil:
			t.Moment, t.A, t.Onset = true, d.oldMeasures[p.spot.measure], p.spot.onset
			if p.spot.end {
				t.Onset = score.Whole(-1)
			}
			if m, ok := measures[p.spot.measure]; ok {
				t.B = m
			}
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
	a, b = Version{Score: &old}, Version{Score: s}
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

// CloneNotes copies a score so that the indications of its notes can be changed.
func CloneNotes(s *score.Score) *score.Score {
	out := *s
	out.Notes = make([]score.Note, len(s.Notes))
	for i, n := range s.Notes {
		n.Indications = append([]score.Indication(nil), n.Indications...)
		out.Notes[i] = n
	}
	return &out
}

// SameKey reports whether two notes are one key at one moment.
func SameKey(s *score.Score, i, j int) bool {
	m, n := &s.Notes[i], &s.Notes[j]
	return m.Measure == n.Measure && m.Onset == n.Onset && m.Midi == n.Midi
}
