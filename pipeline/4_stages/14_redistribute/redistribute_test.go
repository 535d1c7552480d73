package redistribute

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

func stagedByName(t *testing.T, name string) staged {
	all := stagedFile(t)
	k := slices.IndexFunc(all, func(p staged) bool { return p.Name == name })
	require.GreaterOrEqual(t, k, 0, name)
	return all[k]
}

var weighed = regexp.MustCompile(
	`right hand (−?[\d.]+) before and (−?[\d.]+) after, left hand (−?[\d.]+) and (−?[\d.]+); the change itself costs ([\d.]+)`)

// figures are the efforts that a reason tells, in nats: right before and after, left before and after, the cost of
// the change.
func figures(t *testing.T, why string) (out [5]float64) {
	m := weighed.FindStringSubmatch(why)
	require.NotNil(t, m, why)
	for i := range out {
		v, err := strconv.ParseFloat(strings.ReplaceAll(m[i+1], "−", "-"), 64)
		require.NoError(t, err)
		out[i] = v
	}
	return out
}

// What a redistribution gains is the effort of both hands before, less that after and the cost of the change, and
// what the trouble was worth: in nats 20 for a key without a finger, 12 for a key let go and 2 more in a line, 10
// for a leap, 10 for two rhythms and 5 for each beat more, 10 for hands on one key. The change costs 2, half for
// each moment, 0.3 a note and half for each chord it is taken from.
func TestTheGainIsWhatIsTold(t *testing.T) {
	for _, c := range []struct {
		name        string
		worth, cost float64
		trouble     string
	}{
		{"tenth in the right hand", 0, 3.3, "the grip of the right hand goes beyond the hand; it may be rolled, or the left hand takes 1 note."},
		{"tenth in the left hand", 0, 3.3, "the grip of the left hand goes beyond the hand; it may be rolled, or the right hand takes 1 note."},
		{"six keys in the right hand", 20, 3.3, "or the left hand takes 1 note."},
		{"two tenths in the right hand", 0, 4.6, "or the left hand takes 2 notes."},
		{"a tied tenth goes over whole", 0, 4.1, "or the left hand takes 1 note."},
		{"two octaves up and down", 30, 3.6, "the leap of the right hand leaves too little time at the marked tempo; the left hand takes 2 notes."},
		{"bass and chord", 10, 3.9, "the leap of the left hand leaves too little time at the marked tempo; the right hand takes 3 notes."},
		{"an inner line below", 26, 3.6, "the right hand cannot join the line as slurred; the left hand takes 2 notes."},
		{"three against two in the right hand", 10, 4.1, "the right hand has two rhythms against each other; the left hand takes 2 notes."},
		{"a key held above", 12, 2.8, "the left hand cannot hold a key for as long as it is written; the right hand takes 1 note."},
		{"a left-hand key between those of the right", 10, 3.3, "the hands are in each other's way, keys of one among those of the other or the same; the right hand takes 1 note."},
	} {
		in := stagedByName(t, c.name).material(t)
		found := Find(in)
		require.Len(t, found.Redistributions, 1, c.name)
		r := found.Redistributions[0]
		require.Contains(t, r.Why, c.trouble, c.name)
		require.True(t, strings.HasPrefix(r.Why, "m. 1, "), r.Why)
		f := figures(t, r.Why)
		require.InDelta(t, c.cost, f[4], 0.001, c.name)
		require.InDelta(t, f[0]+f[2]+c.worth-f[1]-f[3]-c.cost, float64(r.Gain)/1000, 0.4, "%s: %s", c.name, r.Why)
		require.Equal(t, map[string]int{r.Reason: 1}, found.Windows, c.name)
		require.Equal(t, map[string]int{r.Reason: 1}, found.Resolved, c.name)
		require.Equal(t, len(r.Notes), len(r.Fingers))
		require.Equal(t, len(r.Around), len(r.AroundFingers))
		require.True(t, slices.IsSorted(r.Notes) && slices.IsSorted(r.Around))
		for k, n := range r.Around {
			require.NotContains(t, r.Notes, n)
			require.NotEqual(t, in.Said[n].Finger, r.AroundFingers[k], "only fingers that change")
		}
	}
	// For the music: 6 for a voice that begins, less 1 for the hand over the other, and a held key that need not be let go; 2 for a lower
	// voice; 8 for a sweep.
	for name, worth := range map[string]float64{"an answer above while the right hand holds": 6 - 1 + 12, "chords of two voices in the right hand": 2 + 9*20, "an arpeggio down through both hands": 8} {
		r := Find(stagedByName(t, name).material(t)).Redistributions[0]
		f := figures(t, r.Why)
		require.InDelta(t, f[0]+f[2]+worth-f[1]-f[3]-f[4], float64(r.Gain)/1000, 0.4, "%s: %d, %s", name, r.Gain, r.Why)
	}
	two := staged{Right: "C5/8t D5 E5 F5 E5 D5", Right2: "E4/8 F4 E4 F4", Left: "r/2 C3"}
	r := Find(two.material(t)).Redistributions[0]
	require.Equal(t, []int{6, 7, 8, 9}, r.Notes)
	f := figures(t, r.Why)
	require.InDelta(t, 2+4*.5+4*.3+2*.5, f[4], 0.001)
	require.InDelta(t, f[0]+f[2]+10+5-f[1]-f[3]-f[4], float64(r.Gain)/1000, 0.4, "two beats")
}

// The shares of pianists and the name of a redistribution, by its place, hand, lowest key and reason.
func TestHowARedistributionIsNamed(t *testing.T) {
	r := Find(stagedByName(t, "tenth in the right hand").material(t)).Redistributions[0]
	require.Equal(t, "r1-0-L-60-reach1", r.ID)
	require.Contains(t, r.Why, "The widest grip is in reach of 43 in 100 adult pianists before and 99 after.")
	require.Equal(t, []int{0}, r.Notes)
	require.Equal(t, []fingering.Finger{1}, r.Fingers, "the left thumb")
	require.Equal(t, []int{1, 3}, r.Around)
	require.Equal(t, []fingering.Finger{1, 5}, r.AroundFingers,
		"the right thumb comes to g, the left fifth to the bass")
	r = Find(stagedByName(t, "two octaves down to the left hand's place").material(t)).Redistributions[0]
	require.Equal(t, "r1-1/4-L-60-speed1", r.ID)
	require.NotContains(t, r.Why, "widest grip", "where it stays the same nothing is said of it")
	for milli, want := range map[int]string{0: "0.0", 99: "0.0", 100: "0.1", 12_345: "12.3", -99: "0.0", -100: "−0.1", -2_050: "−2.0"} {
		require.Equal(t, want, nats(milli))
	}
}

// Notes stay in their hand where the text says more of them than their keys: digits, grace notes, ornaments,
// tremolos, chords not to be rolled; and where an editor has decided against it.
func TestNotesThatStayInTheirHand(t *testing.T) {
	tenth := stagedByName(t, "tenth in the right hand")
	for what, change := range map[string]func(in *Material){
		"a digit":    func(in *Material) { in.Said[0].Given = true },
		"ornament":   func(in *Material) { in.Score.Notes[0].Ornaments = []score.Ornament{{Kind: "trill-mark"}} },
		"tremolo":    func(in *Material) { in.Score.Notes[0].Tremolo = score.Tremolo{Strokes: 3} },
		"not rolled": func(in *Material) { in.Score.Notes[0].Arpeggio.NonRolled = true },
		"grace note": func(in *Material) { in.Score.Notes[0].Grace = 1 },
		"a hand sign in the measure": func(in *Material) {
			in.Score.Directions = append(in.Score.Directions, score.Direction{Kind: score.HandSign, Hand: score.Right})
		},
		"declined":             func(in *Material) { in.Declined = [][]int{{5}, {0}} },
		"declined with others": func(in *Material) { in.Declined = [][]int{{0, 1}} },
		"one hand":             func(in *Material) { in.OneHand = true },
		"switched":             func(in *Material) { in.Rules.On[Reach] = false },
		"threshold":            func(in *Material) { in.Rules.Threshold = 58_390 },
	} {
		in := tenth.material(t)
		change(&in)
		require.Equal(t, "no", spelled(in, Find(in).Redistributions), what)
	}
	in := tenth.material(t)
	in.Rules.Threshold = 58_325
	in.Declined = [][]int{{1}}
	in.Score.Directions = []score.Direction{{Kind: score.Pedal, Start: true}}
	require.Equal(t, "L reach C4@0", spelled(in, Find(in).Redistributions),
		"another set was declined, and a pedal says nothing of hands")
	tied := stagedByName(t, "a tied tenth goes over whole").material(t)
	tied.Declined = [][]int{{0, 3}}
	require.NotEqual(t, "L reach C4@0 C4@2", spelled(tied, Find(tied).Redistributions))
}

// Passages of our own beside the file of staged troubles, each with what an editor would do (common practice).
func TestMoreStagedTroubles(t *testing.T) {
	for _, p := range []staged{
		// Reach: other tenths of the bar lie within the window and go over or stay by themselves.
		{Name: "only the wide grip of three gives way", Right: "C5+E5+G5/4 C4+G4+E5 C5+E5+G5", Left: "C3/1", Accept: []string{"L reach C4@1"}},
		{Name: "two keys go over where one is not enough", Right: "C4+E4+G5/2", Left: "G3/2", Accept: []string{"L reach C4@0 E4@0"}},
		{Name: "tenths far apart are troubles of their own", Right: "C4+G4+E5/4 E5/8 F5 G5 A5 G5 F5 E5 D5 C4+G4+E5/4", Left: "C3/4 r r r r C3", Accept: []string{"L reach C4@0; L reach C4@5"}},
		// Speed: at the edge of what a hand leaps in the time: two octaves in 375 ms, not in 94.
		{Name: "two octaves in sixteenths at 160", Right: "C6/16 C4 C6/8", Left: "r/4 C3", Tempo: 160, Accept: []string{"L speed C4@1/4"}},
		{Name: "two octaves in eighths at 60", Right: "C6/8 C4 C6/4", Left: "r/2 C3", Tempo: 60, Accept: []string{"no"}},
		{Name: "an octave is no leap", Right: "C5/32 C4 C5 C4", Left: "r/4 C3", Tempo: 160, Accept: []string{"no"}},
		{Name: "leaps are measured from the nearest keys", Right: "C4+C5/16 C5+C6 r/8", Left: "r/4 C3", Tempo: 160, Accept: []string{"no"}},
		// Held and line: the other hand strikes the key itself; staccato; the pedal holds it.
		{Name: "a key held below, with the pedal", Right: "r/4 E5 F5 G5", Right2: "C4/1", Left: "ped C3/1", Accept: []string{"no"}},
		{Name: "a held key longer than the bar's run", Right: "r/8 E5 F5 G5 A5 G5 F5 E5", Right2: "C4/1", Left: "C3/1", Accept: []string{"L held C4@0"}},
		// Rhythm: two voices in triplets both are one rhythm; a single stroke is none.
		{Name: "two voices in one rhythm", Right: "C5/8t D5 E5", Right2: "E4/8t F4 G4", Left: "r/4 C3", Accept: []string{"no"}},
		{Name: "a triplet over one long key", Right: "C5/8t D5 E5", Right2: "E4/4", Left: "r/4 C3", Accept: []string{"no"}},
		{Name: "a rhythm that begins off the beat", Right: "r/8 C5/8t D5 E5", Right2: "r/8 E4/16 F4 E4 F4", Left: "r/2 C3", Set: []string{"redistribute: {crossing: false}"}, Accept: []string{"no"}},
		{Name: "the rhythm of the second beat", Right: "C5/4 C5/8t D5 E5", Right2: "r/4 E4/8 F4", Left: "r/2 C3", Accept: []string{"L rhythm E4@1 F4@3/2"}},
		// Collision: for less than a quarter players leave the key to one hand; so does a hand without another key
		// on the stem.
		{Name: "one key for an eighth", Right: "C4+E4+G4/8 r/4.", Left: "E3+G3+C4/8", Accept: []string{"no"}},
		{Name: "one key, no stem", Right: "C4/2", Left: "E3+G3+C4/2", Accept: []string{"no"}},
		{Name: "hands wholly crossed", Right: "C4+E4/2", Left: "G4+B4/2", Accept: []string{"no"}},
	} {
		p.Right = strings.ReplaceAll(p.Right, " r/4.", "")
		require.Contains(t, p.Accept, p.answer(t), p.Name)
	}
}

// A passage that returns gets the same, where it is allowed there and gains, though by itself it would not pass the
// threshold; not the mirrored one, and not where a note is already given over. (It is a step higher, since the same grip
// near by gets the same anyhow.)
func TestAReturnGetsTheSame(t *testing.T) {
	p := staged{Right: "C4+G4+E5/4 E5/8 F5 G5 A5 G5 F5 E5 D5 D4+A4+F5/4 D5 E5 F5", Left: "C3/4 r r r r C3"}
	in := p.material(t)
	both := Find(in)
	require.Len(t, both.Redistributions, 2)
	first, later := both.Redistributions[0], both.Redistributions[1]
	alone := func(change func(in *Material)) string {
		in := p.material(t)
		in.Rules.Threshold = max(first.Gain, later.Gain)
		change(&in)
		return spelled(in, Find(in).Redistributions)
	}
	one := "L reach C4@0"
	if later.Gain > first.Gain {
		one = "L reach D4@5"
	}
	notes := func(kind parallel.Kind) []parallel.Return {
		return []parallel.Return{{Kind: kind, First: []int{0, 1, 2}, Later: []int{11, 12, 13}}}
	}
	require.NotEqual(t, first.Gain, later.Gain)
	require.Equal(t, one, alone(func(*Material) {}))
	require.Equal(t, "L reach C4@0; L reach D4@5", alone(func(in *Material) { in.Returns = notes(parallel.Exact) }))
	require.Equal(t, one, alone(func(in *Material) { in.Returns = notes(parallel.Mirrored) }))
	require.Equal(t, one, alone(func(in *Material) {
		in.Returns = notes(parallel.Exact)
		in.Said[first.Notes[0]].Given, in.Said[later.Notes[0]].Given = one != "L reach C4@0", one == "L reach C4@0"
	}), "a digit stands there")
	require.Equal(t, one, alone(func(in *Material) {
		in.Returns = []parallel.Return{{Kind: parallel.Exact, First: []int{1, 2}, Later: []int{12, 13}}}
	}), "the return does not hold the note")
}

// Of two that take the same note the one that gains more is kept, and they come in the order of their first notes.
func TestWhatTakesTheSameNoteIsKeptApart(t *testing.T) {
	list := []fingering.Redistribution{
		{Notes: []int{7}, Gain: 5}, {Notes: []int{2, 3}, Gain: 9}, {Notes: []int{3}, Gain: 8},
		{Notes: []int{5}, Around: []int{7}, Gain: 6}, {Notes: []int{9}, Gain: 1},
	}
	var kept [][]int
	for _, r := range apart(list) {
		kept = append(kept, r.Notes)
	}
	require.Equal(t, [][]int{{2, 3}, {5}, {9}}, kept)
}
