package align_test

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// written is a note with a name of its own, by which it is known in whatever becomes of its score.
type written struct {
	id              int
	measure         int
	onset, duration score.Fraction
	staff, key      int
	grace           bool
	tiedTo          int // id of the note that holds it on, 0 for none
}

// piece is music whose every note is known by name: two staves, the upper in eighths, the lower in chords of two
// halves.
type piece struct {
	notes    []written
	measures []score.Fraction // lengths
	next     int
}

func randomPiece(rng *rand.Rand, measures int) *piece {
	p := &piece{next: 1}
	key := 72
	for m := range measures {
		p.measures = append(p.measures, score.Whole(4))
		for i := range 8 {
			key = min(max(key+rng.IntN(11)-5, 62), 84)
			p.add(written{measure: m, onset: score.Frac(int64(i), 2), duration: score.Frac(1, 2), staff: 1, key: key})
		}
		for i := range 2 {
			low := 40 + rng.IntN(12)
			for _, k := range []int{low, low + 7} {
				p.add(written{measure: m, onset: score.Whole(int64(2 * i)), duration: score.Whole(2), staff: 2, key: k})
			}
		}
	}
	return p
}

func (p *piece) add(n written) int {
	n.id = p.next
	p.next++
	p.notes = append(p.notes, n)
	return n.id
}

func (p *piece) clone() *piece {
	return &piece{slices.Clone(p.notes), slices.Clone(p.measures), p.next}
}

func (p *piece) find(id int) *written {
	return &p.notes[slices.IndexFunc(p.notes, func(n written) bool { return n.id == id })]
}

func (p *piece) drop(id int) {
	p.notes = slices.DeleteFunc(p.notes, func(n written) bool { return n.id == id })
}

// score writes the piece down, and gives the index of each note by its name.
func (p *piece) score() (*score.Score, map[int]int) {
	s := &score.Score{Parts: []score.Part{{ID: "P1", Name: "Piano", Staves: 2, Keyboard: true}}}
	start := score.Fraction{}
	for i, length := range p.measures {
		s.Measures = append(s.Measures, score.Measure{
			Index: i, Number: fmt.Sprint(i + 1), Start: start, Length: length, Nominal: length,
			BeatUnit: score.Whole(1),
		})
		start = start.Add(length)
	}
	order := slices.Clone(p.notes)
	slices.SortStableFunc(order, func(a, b written) int {
		return cmp.Or(
			cmp.Compare(a.measure, b.measure), cmp.Compare(a.staff, b.staff), a.onset.Cmp(b.onset),
			cmp.Compare(b2i(b.grace), b2i(a.grace)), cmp.Compare(a.key, b.key),
		)
	})
	at := map[int]int{}
	for i, n := range order {
		at[n.id] = i
		note := score.Note{
			Measure: n.measure, Onset: n.onset, Duration: n.duration, Staff: n.staff, HomeStaff: n.staff,
			Voice: fmt.Sprint(4*n.staff - 3), TiedFrom: -1, TiedTo: -1, Midi: n.key,
			Pitch: score.Pitch{
				Step: "CCDDEFFGGAAB"[n.key%12], Alter: int8(b2i(slices.Contains([]int{1, 3, 6, 8, 10}, n.key%12))),
				Octave: int8(n.key/12 - 1),
			},
		}
		if n.grace {
			note.Grace, note.Duration = 1, score.Fraction{}
		}
		s.Notes = append(s.Notes, note)
	}
	for _, n := range order {
		if n.tiedTo != 0 {
			s.Notes[at[n.id]].TiedTo, s.Notes[at[n.tiedTo]].TiedFrom = at[n.tiedTo], at[n.id]
		}
	}
	return s, at
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// change alters a piece at one of its notes and gives the ways in which notes then differ, by name.
type change struct {
	name  string
	apply func(rng *rand.Rand, p *piece, id int) map[int]align.Kind
}

var changes = []change{
	{"nothing", func(*rand.Rand, *piece, int) map[int]align.Kind { return nil }},
	{"another pitch", func(rng *rand.Rand, p *piece, id int) map[int]align.Kind {
		p.find(id).key += []int{-2, -1, 1, 2}[rng.IntN(4)]
		return map[int]align.Kind{id: align.PitchChanged}
	}},
	{"another octave", func(_ *rand.Rand, p *piece, id int) map[int]align.Kind {
		p.find(id).key += 12
		return map[int]align.Kind{id: align.OctaveMoved}
	}},
	{"missing", func(_ *rand.Rand, p *piece, id int) map[int]align.Kind { p.drop(id); return nil }},
	{"added", func(_ *rand.Rand, p *piece, id int) map[int]align.Kind {
		n := *p.find(id)
		n.key += 15
		p.add(n)
		return nil
	}},
	{"shorter", func(_ *rand.Rand, p *piece, id int) map[int]align.Kind {
		n := p.find(id)
		n.duration = n.duration.Mul(score.Frac(1, 2))
		return map[int]align.Kind{id: align.DurationChanged}
	}},
	{"later", func(_ *rand.Rand, p *piece, id int) map[int]align.Kind {
		n := p.find(id)
		half := n.duration.Mul(score.Frac(1, 2))
		n.onset, n.duration = n.onset.Add(half), half
		return map[int]align.Kind{id: align.OnsetMoved | align.DurationChanged}
	}},
	{"tied instead of one", func(_ *rand.Rand, p *piece, id int) map[int]align.Kind {
		n := p.find(id)
		half := n.duration.Mul(score.Frac(1, 2))
		n.duration = half
		rest := *n
		rest.onset, rest.duration = n.onset.Add(half), half
		tied := p.add(rest)
		p.find(id).tiedTo = tied
		return nil
	}},
	{"on the other staff", func(_ *rand.Rand, p *piece, id int) map[int]align.Kind {
		p.find(id).staff = 3 - p.find(id).staff
		return map[int]align.Kind{id: align.StaffChanged}
	}},
	{"small", func(_ *rand.Rand, p *piece, id int) map[int]align.Kind {
		p.find(id).grace = true
		return map[int]align.Kind{id: align.GraceChanged}
	}},
	{"a measure put in", func(rng *rand.Rand, p *piece, id int) map[int]align.Kind {
		at := p.find(id).measure
		for i := range p.notes {
			if p.notes[i].measure >= at {
				p.notes[i].measure++
			}
		}
		p.measures = append(p.measures, score.Whole(4))
		for i := range 4 {
			p.add(written{
				measure: at, onset: score.Whole(int64(i)), duration: score.Whole(1), staff: 1, key: 88 + rng.IntN(6),
			})
		}
		return nil
	}},
	{"a measure taken out", func(_ *rand.Rand, p *piece, id int) map[int]align.Kind {
		at := p.find(id).measure
		p.notes = slices.DeleteFunc(p.notes, func(n written) bool { return n.measure == at })
		for i := range p.notes {
			if p.notes[i].measure > at {
				p.notes[i].measure--
			}
		}
		p.measures = p.measures[1:]
		return nil
	}},
	{"a barline taken out", func(_ *rand.Rand, p *piece, id int) map[int]align.Kind {
		at := p.find(id).measure
		if at+1 >= len(p.measures) {
			return nil
		}
		for i := range p.notes {
			switch n := &p.notes[i]; {
			case n.measure == at+1:
				n.measure, n.onset = at, n.onset.Add(score.Whole(4))
			case n.measure > at+1:
				n.measure--
			}
		}
		p.measures = slices.Delete(p.measures, at, at+1)
		p.measures[at] = score.Whole(8)
		return nil
	}},
}

// wrongly says how an alignment differs from what is known of every note, "" where it does not.
func wrongly(a, b *piece, kinds map[int]align.Kind) string {
	sa, ia := a.score()
	sb, ib := b.score()
	al := align.Align(sa, sb, align.Options{})
	for _, n := range a.notes {
		want, ok := ib[n.id]
		if !ok {
			want = -1
		}
		if got := al.ToB[ia[n.id]]; got != want {
			return fmt.Sprintf("%s is note %d, found %d", sa.Place(ia[n.id]), want, got)
		}
		if got := al.Kinds[ia[n.id]]; ok && got != kinds[n.id] {
			return fmt.Sprintf("%s differs by %b, found %b", sa.Place(ia[n.id]), kinds[n.id], got)
		}
	}
	return ""
}

// Whatever single thing is changed in a piece, every note of it is found, and told to differ as it does; either way
// round.
func TestEveryNoteIsFoundWhateverIsChanged(t *testing.T) {
	for k, c := range changes {
		failed := 0
		for seed := range uint64(30) {
			rng := rand.New(rand.NewPCG(seed, uint64(k)))
			a := randomPiece(rng, 8)
			b := a.clone()
			id := a.notes[rng.IntN(len(a.notes))].id
			kinds := c.apply(rng, b, id)
			if w := wrongly(a, b, kinds); w != "" {
				failed++
				t.Logf("%s, seed %d, note %d: %s", c.name, seed, id, w)
			}
			if w := wrongly(b, a, kinds); w != "" {
				failed++
				t.Logf("%s the other way, seed %d, note %d: %s", c.name, seed, id, w)
			}
		}
		require.Zero(t, failed, c.name)
	}
}

// Several things changed at once, a measure or more apart.
func TestEveryNoteIsFoundWhateverElseIsChanged(t *testing.T) {
	for seed := range uint64(60) {
		rng := rand.New(rand.NewPCG(seed, 99))
		a := randomPiece(rng, 12)
		b := a.clone()
		all := map[int]align.Kind{}
		said := ""
		for m := 1; m < 12; m += 2 {
			here := slices.DeleteFunc(slices.Clone(a.notes), func(n written) bool { return n.measure != m })
			id := here[rng.IntN(len(here))].id
			c := changes[rng.IntN(len(changes))]
			if m > 1 { // one change of measures is enough
				c = changes[rng.IntN(10)]
			}
			for name, kind := range c.apply(rng, b, id) {
				all[name] = kind
			}
			said += fmt.Sprintf("; m. %d: %s", m+1, c.name)
		}
		require.Empty(t, wrongly(a, b, all), "seed %d%s", seed, said)
		require.Empty(t, wrongly(b, a, all), "the other way, seed %d%s", seed, said)
	}
}

// Notes that find no note of their own are covered where they sound all the same: by the note that was tied, by the
// one stem of a unison.
func TestNotesThatSoundAllTheSame(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	a := randomPiece(rng, 6)
	b := a.clone()
	split, unison := a.notes[17].id, a.notes[29].id
	changes[7].apply(rng, b, split)
	tied := b.find(split).tiedTo
	double := *b.find(unison)
	double.duration = score.Whole(1)
	second := b.add(double)
	sa, ia := a.score()
	sb, ib := b.score()
	al := align.Align(sa, sb, align.Options{})
	require.Equal(t, -1, al.ToA[ib[tied]])
	require.Equal(t, ia[split], al.CoverA[ib[tied]])
	free := second
	if al.ToA[ib[second]] >= 0 {
		free = unison
	}
	require.Equal(t, -1, al.ToA[ib[free]])
	require.Equal(t, ia[unison], al.CoverA[ib[free]])
	require.Equal(t, 100_000, al.Coverage())
	back := align.Align(sb, sa, align.Options{})
	require.Equal(t, ia[split], back.CoverB[ib[tied]])
	require.Equal(t, 100_000, back.Coverage())
}

// Staves that change places are told once, and no note of them differs.
func TestStavesThatChangePlaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	a := randomPiece(rng, 6)
	b := a.clone()
	for i := range b.notes {
		b.notes[i].staff = 3 - b.notes[i].staff
	}
	sa, _ := a.score()
	sb, _ := b.score()
	require.Empty(t, wrongly(a, b, nil))
	require.Equal(t, []int{0, 2, 1}, align.Align(sa, sb, align.Options{}).StaffToB)
}

// Repeats written out, with and without a sign, before and behind.
func TestRepeatsWrittenOutByName(t *testing.T) {
	for seed := range uint64(10) {
		rng := rand.New(rand.NewPCG(seed, 6))
		a := randomPiece(rng, 8)
		b := a.clone()
		from, to := 2, 5
		var again []written
		for i := range b.notes {
			if m := b.notes[i].measure; m >= from && m < to {
				again = append(again, b.notes[i])
			}
			if b.notes[i].measure >= to {
				b.notes[i].measure += to - from
			}
		}
		for _, n := range again {
			n.measure += to - from
			b.add(n)
		}
		b.measures = append(b.measures, b.measures[:to-from]...)
		sa, _ := a.score()
		sb, _ := b.score()
		sa.Measures[from].Repeat.Forward, sa.Measures[to-1].Repeat.Backward = true, true
		al := align.Align(sa, sb, align.Options{})
		require.Len(t, al.Copies, 1)
		c := al.Copies[0]
		require.True(t, c.InB && c.Signed)
		require.Equal(t, align.Range{From: from, To: to}, c.Once)
		require.Contains(t, []align.Range{{From: from, To: to}, {From: to, To: to + to - from}}, c.Again)
		require.Len(t, c.Notes, len(again))
		for _, pair := range c.Notes {
			require.Equal(t, sb.Notes[pair[0]].Midi, sa.Notes[pair[1]].Midi)
			require.Equal(t, pair[1], al.CoverA[pair[0]])
		}
		require.Equal(t, 100_000, al.Coverage())
		sa.Measures[to-1].Repeat.Backward = false
		sa.Measures[from].Repeat.Forward = false
		unsigned := align.Align(sb, sa, align.Options{})
		require.Len(t, unsigned.Copies, 1)
		require.False(t, unsigned.Copies[0].InB || unsigned.Copies[0].Signed)
	}
}
