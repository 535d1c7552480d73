package formats

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/score"
)

// loss is what another reading of a score has otherwise in one measure, of one kind. Kinds that run through a whole
// score have the measure -1.
type loss struct {
	kind    string
	measure int
}

// noteKind is a kind of value at notes that a conversion may lose or change.
type noteKind struct {
	name   string
	whole  bool // its numbers mean something only in the whole score
	differ func(x, y *score.Note) bool
	take   func(x, y *score.Note)
}

// field is a kind that is one value of a note.
func field[T comparable](name string, of func(*score.Note) *T) noteKind {
	return noteKind{
		name:   name,
		differ: func(x, y *score.Note) bool { return *of(x) != *of(y) },
		take:   func(x, y *score.Note) { *of(x) = *of(y) },
	}
}

// inWhole lets a kind run through the whole score.
func inWhole(k noteKind) noteKind {
	k.whole = true
	return k
}

// noteKinds are all values of a note that anything behind the reading looks at, but for its ties (tieKind) and slurs
// (losses_slurs.go).
var noteKinds = []noteKind{
	field("pitch", func(n *score.Note) *int { return &n.Midi }),
	field("pitch", func(n *score.Note) *score.Pitch { return &n.Pitch }),
	field("pitch", func(n *score.Note) *score.NoteKind { return &n.Kind }),
	field("onset", func(n *score.Note) *score.Fraction { return &n.Onset }),
	field("onset", func(n *score.Note) *int { return &n.Measure }),
	field("duration", func(n *score.Note) *score.Fraction { return &n.Duration }),
	field("staff", func(n *score.Note) *int { return &n.Staff }),
	field("staff", func(n *score.Note) *int { return &n.HomeStaff }),
	field("grace", func(n *score.Note) *int { return &n.Grace }),
	field("grace", func(n *score.Note) *bool { return &n.GraceAfter }),
	field("grace", func(n *score.Note) *bool { return &n.Slashed }),
	field("small", func(n *score.Note) *bool { return &n.Cue }),
	field("hidden", func(n *score.Note) *bool { return &n.Hidden }),
	field("hidden", func(n *score.Note) *bool { return &n.BySign }),
	field("value", func(n *score.Note) *string { return &n.Type }),
	field("value", func(n *score.Note) *int { return &n.Dots }),
	field("value", func(n *score.Note) *bool { return &n.Chord }),
	field("tuplet", func(n *score.Note) *score.Tuplet { return &n.Tuplet }),
	field("stem", func(n *score.Note) *string { return &n.Stem }),
	field("articulation", func(n *score.Note) *score.Marks { return &n.Marks }),
	field("roll", func(n *score.Note) *score.Arpeggio { return &n.Arpeggio }),
	field("tremolo", func(n *score.Note) *score.Tremolo { return &n.Tremolo }),
	{
		name:   "ornament",
		differ: func(x, y *score.Note) bool { return !slices.Equal(x.Ornaments, y.Ornaments) },
		take:   func(x, y *score.Note) { x.Ornaments = y.Ornaments },
	},
	{
		name:   "digits",
		differ: func(x, y *score.Note) bool { return digits(x) != digits(y) || roles(x) != roles(y) },
		take:   func(x, y *score.Note) { x.Indications = y.Indications },
	},
	inWhole(field("beams", func(n *score.Note) *int { return &n.Beams })),
	inWhole(field("beams", func(n *score.Note) *int { return &n.BeamGroup })),
	inWhole(field("voices", func(n *score.Note) *string { return &n.Voice })),
}

// lostAs says of each kind what becomes of it, in MusicXML's elements.
var lostAs = map[string]string{
	"pitch":        "<pitch> is another",
	"onset":        "the note begins elsewhere (<backup>, <forward>, <grace>)",
	"duration":     "<duration> is another",
	"staff":        "<staff> is another: the voice stands on another staff than it crosses over from",
	"grace":        "<grace> is lost or counts otherwise",
	"small":        `small notes (<type size="cue">) become cue notes (@cue)`,
	"hidden":       "print-object is another",
	"value":        "<type>, <dot> or <chord> is another",
	"tuplet":       "<time-modification> is another",
	"stem":         "<stem> is lost",
	"articulation": "signs in a second <notations> of a note, and breath marks, are lost",
	"roll":         "<arpeggiate> is another, or its number",
	"tremolo":      "<tremolo> has other strokes or none",
	"ornament":     "<ornaments> are others: the end of a <wavy-line> stands at another note",
	"digits":       "<fingering> is another, or no change or alternative any more",
	slurKind:       "a <slur> is joined to another end",
	slurRestKind:   "a <slur> that begins or ends at a rest loses that end, and is joined to another or to none",
	forwardKind:    "a step in time (<forward>) is left out: a voice ends where its notes do",
	backupKind:     "a <backup> goes back too far: MEI has none, each layer begins with its measure",
	unreadableKind: "a value is written that MEI cannot have (@tstamp below 0), or none where one has to be (@dur)",
	"beams":        "<beam> is lost, or beams are parted otherwise",
	"voices":       "<voice> has another name",
	tieKind:        "<tie> is written at one of its two notes only, or at neither",
	lostKind:       "the <note> itself (a hidden rest, mostly) is lost",
	directionKind:  "a <direction> is lost or stands elsewhere",
	measureKind:    "the length, metre or key of a measure, or its signs of repetition",
}

// kinds of loss beside those at notes.
const (
	tieKind       = "tie"
	lostKind      = "lost"
	directionKind = "direction"
	measureKind   = "measure"
)

// readings are a score and what another reading of it has; to says which note of b a note of a is, -1 for none.
type readings struct {
	a, b *score.Score
	to   []int
	back []int

	forwards map[int]bool // measures in which the MusicXML takes a step in time
}

func newReadings(a, b *score.Score, to []int) *readings {
	r := &readings{a: a, b: b, to: to, back: make([]int, len(b.Notes))}
	for i := range r.back {
		r.back[i] = -1
	}
	for i, k := range to {
		if k >= 0 {
			r.back[k] = i
		}
	}
	return r
}

// tied is the note of a that the second reading ties one to, or from; -1 for none.
func (r *readings) tied(k int) int {
	if k < 0 {
		return -1
	}
	return r.back[k]
}

// losses lists what is not the same, each kind and measure once.
func (r *readings) losses() (out []loss) {
	seen := map[loss]bool{}
	add := func(l loss) {
		if !seen[l] {
			seen[l] = true
			out = append(out, l)
		}
	}
	for i := range r.a.Notes {
		x := &r.a.Notes[i]
		if r.to[i] < 0 {
			add(loss{lostKind, x.Measure})
			continue
		}
		y := &r.b.Notes[r.to[i]]
		for k := range noteKinds {
			if kind := &noteKinds[k]; kind.differ(x, y) {
				l := loss{kind.name, x.Measure}
				if kind.whole {
					l.measure = -1
				}
				add(l)
			}
		}
		if x.TieStart != y.TieStart || x.TieStop != y.TieStop ||
			x.TiedFrom != r.tied(y.TiedFrom) || x.TiedTo != r.tied(y.TiedTo) {
			add(loss{tieKind, x.Measure})
		}
	}
	_, slurs := r.slurLosses()
	for _, l := range slurs {
		add(l.loss)
	}
	for i := range min(len(r.a.Measures), len(r.b.Measures)) {
		if fmt.Sprint(directionsIn(r.a, i)) != fmt.Sprint(directionsIn(r.b, i)) {
			add(loss{directionKind, i})
		}
		x, y := r.a.Measures[i], r.b.Measures[i]
		x.Start, x.Number, x.Page, x.System = y.Start, y.Number, y.Page, y.System
		if fmt.Sprint(x) != fmt.Sprint(y) {
			add(loss{measureKind, i})
		}
	}
	return out
}

// directionsIn lists what anything looks at of the directions of a measure.
func directionsIn(s *score.Score, measure int) (out []string) {
	for i := range s.Directions {
		if d := s.Directions[i]; d.Measure == measure {
			out = append(out, fmt.Sprint(d.Part, d.Onset, d.Staff, d.Kind, d.Text, d.Hand, d.Start, d.Stop, d.Change,
				d.MilliQuarters, d.BeatUnit, d.Semitones))
		}
	}
	slices.Sort(out)
	return out
}

// with gives the first reading with losses of the second, and where each of its notes is now (-1: lost).
func (r *readings) with(losses []loss) (*score.Score, []int) {
	has := map[loss]bool{}
	for _, l := range losses {
		has[l] = true
	}
	s := *r.a
	s.Notes, s.Measures = slices.Clone(s.Notes), slices.Clone(s.Measures)
	for i := range s.Notes {
		if r.to[i] < 0 {
			continue
		}
		x, y, measure := &s.Notes[i], &r.b.Notes[r.to[i]], r.a.Notes[i].Measure
		for k := range noteKinds {
			kind := &noteKinds[k]
			if has[loss{kind.name, measure}] || kind.whole && has[loss{kind.name, -1}] {
				kind.take(x, y)
			}
		}
	}
	r.takeSlurs(&s, has)
	r.takeTies(&s, has)
	for i := range min(len(s.Measures), len(r.b.Measures)) {
		if has[loss{measureKind, i}] {
			start := s.Measures[i].Start
			s.Measures[i] = r.b.Measures[i]
			s.Measures[i].Start = start
		}
		if i > 0 {
			s.Measures[i].Start = s.Measures[i-1].Start.Add(s.Measures[i-1].Length)
		}
	}
	r.takeDirections(&s, has)
	r.takePage(&s, has)
	return withoutLost(&s, func(i int) bool { return r.to[i] < 0 && has[loss{lostKind, r.a.Notes[i].Measure}] })
}

func (r *readings) takeTies(s *score.Score, has map[loss]bool) {
	for i := range s.Notes {
		if r.to[i] < 0 || !has[loss{tieKind, r.a.Notes[i].Measure}] {
			continue
		}
		x, y := &s.Notes[i], &r.b.Notes[r.to[i]]
		x.TieStart, x.TieStop = y.TieStart, y.TieStop
		if from := r.tied(y.TiedFrom); from != x.TiedFrom {
			if x.TiedFrom >= 0 {
				s.Notes[x.TiedFrom].TiedTo = -1
			}
			if x.TiedFrom = from; from >= 0 {
				s.Notes[from].TiedTo = i
			}
		}
	}
}

func (r *readings) takeDirections(s *score.Score, has map[loss]bool) {
	var out []score.Direction
	for _, d := range s.Directions {
		if !has[loss{directionKind, d.Measure}] {
			out = append(out, d)
		}
	}
	for _, d := range r.b.Directions {
		if has[loss{directionKind, d.Measure}] {
			out = append(out, d)
		}
	}
	slices.SortStableFunc(out, func(a, b score.Direction) int { return cmp.Or(a.Part-b.Part, a.Measure-b.Measure) })
	s.Directions = out
}

// withoutLost takes notes out of a score.
func withoutLost(s *score.Score, lost func(int) bool) (*score.Score, []int) {
	now := make([]int, len(s.Notes))
	var kept []score.Note
	for i := range s.Notes {
		now[i] = -1
		if !lost(i) {
			now[i] = len(kept)
			kept = append(kept, s.Notes[i])
		}
	}
	follow := func(i int) int {
		if i < 0 {
			return -1
		}
		return now[i]
	}
	for i := range kept {
		kept[i].TiedFrom, kept[i].TiedTo = follow(kept[i].TiedFrom), follow(kept[i].TiedTo)
	}
	s.Notes = kept
	for i := range s.Items {
		s.Items[i].Note = follow(s.Items[i].Note)
	}
	for i := range s.Oddities {
		s.Oddities[i].Note = follow(s.Oddities[i].Note)
	}
	return s, now
}
