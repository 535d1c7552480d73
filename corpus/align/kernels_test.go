package align

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

const eighth = ticksPerQuarter / 2

// at makes an item of the upper staff, so many eighths after the barline.
func at(eighths int64, midi int) item {
	return item{tick: eighths * eighth, midi: int16(midi), staff: 1, dur: eighth}
}

func low(it item) item { it.staff = 2; return it }

func same(item, item) int { return 0 }

func rows(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// least tries every way to pair two rows without crossing, and gives what the cheapest costs.
func least(x, y []item, cost func(a, b item) int) int {
	switch {
	case len(x) == 0:
		return costAlone * len(y)
	case len(y) == 0:
		return costAlone * len(x)
	}
	best := min(least(x[1:], y, cost), least(x, y[1:], cost)) + costAlone
	if c := cost(x[0], y[0]); c >= 0 {
		best = min(best, c+least(x[1:], y[1:], cost))
	}
	return best
}

// Chords are paired without crossing at the least cost; brute force is the oracle.
func TestPairingWithoutCrossingAgainstBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	chord := func() (out []item) {
		for range rng.IntN(5) {
			out = append(out, at(0, 60+rng.IntN(30)))
		}
		slices.SortFunc(out, func(a, b item) int { return int(a.midi - b.midi) })
		return out
	}
	for range 300 {
		x, y := chord(), chord()
		r := newReading(x, y, staffMap{}, same)
		for name, cost := range map[string]func(a, b item) int{"keys": r.costOfKey, "octaves": func(a, b item) int {
			if d := int(a.midi - b.midi); d%12 == 0 {
				return max(d, -d) / 2
			}
			return -1
		}, "dear": func(a, b item) int { return 24 + int(a.midi*7+b.midi*5)%8 }} {
			r := newReading(x, y, staffMap{}, same)
			r.monotone(rows(len(x)), rows(len(y)), cost)
			got, last := costAlone*len(y), int32(-1)
			for i, j := range r.to {
				if j < 0 {
					got += costAlone
					continue
				}
				require.Greater(t, j, last, "no two cross")
				require.Equal(t, int32(i), r.from[j])
				last = j
				got += cost(x[i], y[j]) - costAlone
			}
			require.Equal(t, least(x, y, cost), got, "%s: %v %v", name, x, y)
		}
	}
}

// The longest common row of keys, and of rows as long the one whose times differ least; brute force is the oracle.
func TestTheLongestCommonRowAgainstBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	var r *reading
	worth := func(pairs [][2]int) (sum int) {
		for _, p := range pairs {
			sum += 1<<16 - r.apart(r.x[p[0]], r.y[p[1]])
		}
		return sum
	}
	var most func(i, j int) int
	most = func(i, j int) int {
		if i == len(r.x) || j == len(r.y) {
			return 0
		}
		best := max(most(i+1, j), most(i, j+1))
		if r.x[i].midi == r.y[j].midi {
			best = max(best, 1<<16-r.apart(r.x[i], r.y[j])+most(i+1, j+1))
		}
		return best
	}
	for range 200 {
		row := func() (out []item) {
			for i := range rng.IntN(7) {
				it := at(int64(i), 60+rng.IntN(3))
				it.held = rng.IntN(4) == 0
				out = append(out, it)
			}
			return out
		}
		r = newReading(row(), row(), staffMap{}, same)
		pairs := r.longestCommon(rows(len(r.x)), rows(len(r.y)))
		for k, p := range pairs {
			require.Equal(t, r.x[p[0]].midi, r.y[p[1]].midi)
			if k > 0 {
				require.True(t, p[0] > pairs[k-1][0] && p[1] > pairs[k-1][1], "in order")
			}
		}
		require.Equal(t, most(0, 0), worth(pairs))
	}
	r = newReading(nil, nil, staffMap{}, same)
	require.Equal(t, 32, r.apart(at(0, 60), at(1, 60)), "in 1/64 of a quarter")
	grace := at(0, 60)
	grace.rank = playing.GraceNote(1)
	require.Equal(t, 8, r.apart(at(0, 60), grace), "a grace note against a full one")
	held := at(1, 60)
	held.held = true
	require.Equal(t, 32+16, r.apart(at(0, 60), held), "a tie against a stroke")
}

// Of measures found once in both scores the heaviest row in the same order is kept; brute force is the oracle.
func TestTheHeaviestRowAgainstBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	weight := func(row []anchor) (sum int) {
		for _, a := range row {
			sum += a.weight
		}
		return sum
	}
	for range 300 {
		n := rng.IntN(9)
		order := rng.Perm(n)
		var found []anchor
		for i, b := range order {
			found = append(found, anchor{i, 3 + b, 1 + rng.IntN(5)})
		}
		best := 0
		for set := range 1 << n {
			var row []anchor
			for k := range n {
				if set>>k&1 == 1 {
					row = append(row, found[k])
				}
			}
			if slices.IsSortedFunc(row, func(a, b anchor) int { return a.b - b.b }) {
				best = max(best, weight(row))
			}
		}
		row := heaviestRow(found, Range{3, 3 + n})
		require.True(t, slices.IsSortedFunc(row, func(a, b anchor) int { return a.b - b.b }))
		require.Equal(t, best, weight(row))
	}
}

// paired reads two rows and gives for each note of the first its counterpart, -1 for none.
func paired(x, y []item, steps ...func(r *reading)) []int32 {
	r := newReading(x, y, staffMap{}, same)
	for _, s := range steps {
		s(r)
	}
	return r.to
}

func shifted(r *reading) { r.shifted(farthestShift) }

// A note may stray by a quarter; farther only in the company of three that stray as far, or in a row of four without a gap.
func TestHowFarANoteMayStray(t *testing.T) {
	require.Equal(t, []int32{0}, paired([]item{at(0, 60)}, []item{at(2, 60)}, shifted), "a quarter late")
	require.Equal(t, []int32{0}, paired([]item{at(2, 60)}, []item{at(0, 60)}, shifted), "a quarter early")
	require.Equal(t, []int32{-1}, paired([]item{at(0, 60)}, []item{at(3, 60)}, shifted))
	require.Equal(t, []int32{-1}, paired([]item{at(3, 60)}, []item{at(0, 60)}, shifted))
	require.Equal(t, []int32{-1}, paired([]item{at(0, 60)}, []item{at(1, 61)}, shifted), "another key")
	three := []item{at(0, 60), at(1, 64), at(2, 67)}
	late := []item{at(8, 60), at(9, 64), at(10, 67)}
	require.Equal(t, []int32{0, 1, 2}, paired(three, late, shifted), "three that stray as far")
	uneven := []item{at(8, 60), at(10, 64), at(13, 67)}
	require.Equal(t, []int32{-1, -1, -1}, paired(three, uneven, shifted), "three that do not")
	four, row := append(slices.Clone(three), at(3, 72)), append(slices.Clone(uneven), at(17, 72))
	require.Equal(t, []int32{0, 1, 2, 3}, paired(four, row, shifted), "a row of four")
	gap := []item{at(8, 60), at(10, 64), at(11, 50), at(13, 67), at(17, 72)}
	require.Equal(t, []int32{-1, -1, -1, -1}, paired(four, gap, shifted), "a row with a gap")
	require.Equal(t, []int{2, 2, 1}, unbroken([][2]int{{0, 0}, {1, 1}, {2, 3}}, rows(3), rows(4)))
	require.Equal(t, []int{1, 3, 3, 3}, unbroken([][2]int{{0, 0}, {2, 2}, {3, 3}, {4, 4}}, rows(5), rows(5)))
}

// What is left at equal times: an octave, else another key, within two octaves on one staff and a third across.
func TestOtherKeysAtEqualTimes(t *testing.T) {
	r := newReading(nil, nil, staffMap{}, same)
	for _, c := range []struct {
		a, b item
		want int
	}{
		{at(0, 60), at(0, 61), 10}, {at(0, 60), at(0, 64), 12}, {at(0, 60), at(0, 84), 22}, {at(0, 60), at(0, 85), -1},
		{at(0, 60), low(at(0, 64)), 20}, {at(0, 60), low(at(0, 65)), -1},
		{at(0, 60), item{midi: 61, staff: 1, dur: 2 * eighth}, 13},
	} {
		require.Equal(t, c.want, r.costOfKey(c.a, c.b), "%v %v", c.a, c.b)
		require.Equal(t, c.want, r.costOfKey(c.b, c.a))
	}
	octaves := func(r *reading) { r.octaves() }
	require.Equal(t, []int32{0}, paired([]item{at(0, 60)}, []item{at(0, 72)}, octaves))
	require.Equal(t, []int32{0}, paired([]item{at(0, 60)}, []item{at(0, 36)}, octaves))
	require.Equal(t, []int32{-1}, paired([]item{at(0, 60)}, []item{at(0, 71)}, octaves))
	require.Equal(t, []int32{-1}, paired([]item{at(0, 60)}, []item{at(0, 60)}, octaves), "the same key is no octave")
	require.Equal(t, []int32{-1}, paired([]item{at(0, 60)}, []item{at(1, 72)}, octaves), "at another time")
	require.Equal(t, []int32{1}, paired([]item{at(0, 60)}, []item{at(0, 36), at(0, 72)}, octaves), "the nearer octave")
	require.Equal(t, []int32{0}, paired([]item{at(0, 60)}, []item{at(0, 48), low(at(0, 72))}, octaves), "on its own staff")
	others := func(r *reading) { r.otherKeys() }
	require.Equal(t, []int32{0, 1}, paired([]item{at(0, 60), at(0, 64)}, []item{at(0, 61), at(0, 66)}, others))
}

// What a reading costs: nothing for equal keys at equal times, else by what differs.
func TestWhatAReadingCosts(t *testing.T) {
	cost := func(x, y []item, pairs ...[2]int) int {
		r := newReading(x, y, staffMap{}, same)
		for _, p := range pairs {
			r.pair(p[0], p[1])
		}
		return r.cost()
	}
	one := [2]int{0, 0}
	require.Equal(t, 0, cost([]item{at(0, 60)}, []item{at(0, 60)}, one))
	require.Equal(t, 6, cost([]item{at(0, 60)}, []item{at(1, 60)}, one), "shifted")
	require.Equal(t, 10, cost([]item{at(0, 60)}, []item{at(0, 72)}, one), "an octave")
	require.Equal(t, 10, cost([]item{at(0, 60)}, []item{at(0, 48)}, one))
	require.Equal(t, 24, cost([]item{at(0, 60)}, []item{at(0, 84)}, one), "two octaves")
	require.Equal(t, 13, cost([]item{at(0, 60)}, []item{at(0, 67)}, one), "another key")
	require.Equal(t, 13, cost([]item{at(0, 67)}, []item{at(0, 60)}, one))
	require.Equal(t, 28, cost([]item{at(0, 60)}, []item{at(0, 60)}), "two alone")
}

// Onsets equal but for an exporter's rounding are one moment.
func TestMomentsButForRounding(t *testing.T) {
	x := []item{{tick: 0}, {tick: tolerance}, {tick: 2*tolerance + 1}, {tick: 4 * tolerance}}
	y := []item{{tick: tolerance}, {tick: 2 * tolerance}}
	r := newReading(x, y, staffMap{}, same)
	require.Equal(t, []int32{0, 0, 1, 2}, r.slotX)
	require.Equal(t, []int32{0, 1}, r.slotY)
}

// A staff moved by an octave as a whole is read as one thing, up or down, upper or lower; what did not move with it is read as it stands.
func TestAStaffMovedByAnOctave(t *testing.T) {
	var x []item
	for i := range int64(4) {
		x = append(x, low(at(2*i, 40+int(i))), low(at(2*i, 52+int(i))), at(2*i, 70+int(i)), at(2*i, 82+int(i)))
	}
	for _, staff := range []int8{1, 2} {
		for _, by := range []int16{12, -12} {
			y := slices.Clone(x)
			for i := range y {
				if y[i].staff == staff && i/4 < 3 { // all but the last chord
					y[i].midi += by
				}
			}
			slices.SortFunc(y, inTime)
			r := read(x, y, staffMap{}, same)
			for i, j := range r.to {
				require.GreaterOrEqual(t, j, int32(0), "staff %d by %d", staff, by)
				require.Equal(t, r.x[i].staff, r.y[j].staff)
				moved := r.y[j].midi - r.written(i)
				if r.x[i].staff == staff && r.x[i].tick < 6*eighth {
					require.Equal(t, by, moved)
				} else {
					require.Zero(t, moved, "staff %d by %d, note %d", staff, by, i)
				}
			}
		}
	}
}

// Of several equal keys at once, each finds the one that it has most in common with.
func TestUnisonsByWhatTheyHaveInCommon(t *testing.T) {
	x := []item{{midi: 60, note: 1}, {midi: 60, note: 2}, {midi: 64, note: 3}}
	y := []item{{midi: 60, note: 2}, {midi: 60, note: 1}, {midi: 64, note: 3}}
	r := newReading(x, y, staffMap{}, func(a, b item) int { return int(max(a.note-b.note, b.note-a.note)) })
	r.chords(false)
	r.unisons()
	require.Equal(t, []int32{1, 0, 2}, r.to)
	require.Equal(t, []int32{1, 0, 2}, r.from)
	fewer := newReading(x, y[1:], staffMap{}, func(a, b item) int { return int(max(a.note-b.note, b.note-a.note)) })
	fewer.chords(false)
	fewer.unisons()
	require.Equal(t, []int32{0, -1, 1}, fewer.to)
}

// measured makes material of measures of four quarters.
func measured(measures ...[]item) *material {
	m := &material{}
	for i, items := range measures {
		m.measures = append(m.measures, measureItems{items: items, length: 4 * ticksPerQuarter, exact: uint64(1000 + i)})
		m.start = append(m.start, int64(i)*4*ticksPerQuarter)
	}
	return m
}

// Likeness hears keys at their times for half, keys whatever their times and names whatever their octaves for a fifth each, and bare times
// for a tenth.
func TestTheLikenessOfMeasures(t *testing.T) {
	like := func(x, y []item) int {
		m := &matcher{a: measured(x), b: measured(nil, y)}
		l, shift := m.likeness(Range{0, 1}, Range{1, 2})
		require.Zero(t, shift)
		return l
	}
	four := []item{at(0, 60), at(2, 62), at(4, 64), at(6, 65)}
	require.Equal(t, 1000, like(four, four))
	require.Equal(t, 1000, like(nil, nil), "rests")
	require.Zero(t, like(four, nil))
	require.Zero(t, like(nil, four))
	half := []item{at(0, 60), at(2, 62), at(4, 70), at(6, 73)}
	require.Equal(t, 500/2+200/2+200/2+100, like(four, half))
	octave := []item{at(0, 72), at(2, 74), at(4, 76), at(6, 77)}
	require.Equal(t, 200+100, like(four, octave), "names and times")
	late := []item{at(1, 60), at(3, 62), at(5, 64), at(7, 65)}
	require.Equal(t, sameKeysLikeness, like(four, late), "the same keys throughout")
	other := []item{at(0, 66), at(2, 68), at(4, 70), at(6, 73)}
	require.Equal(t, 100, like(four, other), "the times alone")
	require.Equal(t, 1000*8/9, like(four, append(slices.Clone(four), at(7, 80)))+(1000*8/9-(900*8/9+100*8/9)), "a note more")
	pickup := &matcher{a: measured([]item{at(0, 60), at(1, 62)}), b: measured([]item{at(6, 60), at(7, 62)})}
	pickup.a.measures[0].length = ticksPerQuarter
	pickup.b.measures[0].exact++
	l, shift := pickup.likeness(Range{0, 1}, Range{0, 1})
	require.Equal(t, 1000, l)
	require.Equal(t, int64(3*ticksPerQuarter), shift, "a pickup written as a full measure")
}

func TestWhatChordsHaveInCommon(t *testing.T) {
	for _, c := range []struct {
		x, y        []item
		keys, names int
	}{
		{[]item{at(0, 60), at(0, 64), at(0, 67)}, []item{at(0, 60), at(0, 65), at(0, 67)}, 2, 2},
		{[]item{at(0, 60), at(0, 64)}, []item{at(0, 72), at(0, 76)}, 0, 2},
		{[]item{at(0, 60), at(0, 72)}, []item{at(0, 60)}, 1, 1},
		{[]item{at(0, 60), at(0, 60)}, []item{at(0, 60), at(0, 60)}, 2, 2},
		{[]item{at(0, 48)}, []item{at(0, 47)}, 0, 0},
		{nil, []item{at(0, 47)}, 0, 0},
	} {
		keys, names := commonChord(c.x, c.y)
		require.Equal(t, [2]int{c.keys, c.names}, [2]int{keys, names}, "%v %v", c.x, c.y)
		keys, names = commonChord(c.y, c.x)
		require.Equal(t, [2]int{c.keys, c.names}, [2]int{keys, names}, "%v %v", c.y, c.x)
	}
	require.Equal(t, 3, commonKeys([]item{at(0, 60), at(1, 60), at(2, 127), at(3, 61)}, []item{at(5, 127), at(5, 60), at(6, 60), at(7, 60)}))
	require.Equal(t, []int{0, 11, 11, 7}, []int{noteName(60), noteName(71), noteName(-1), noteName(127)})
}

// Other barlines: as long as each other and with none in common.
func TestRunsWithOtherBarlines(t *testing.T) {
	lengths := func(quarters ...int64) *material {
		m := &material{}
		start := int64(0)
		for _, q := range quarters {
			m.measures = append(m.measures, measureItems{length: q * ticksPerQuarter})
			m.start = append(m.start, start)
			start += q * ticksPerQuarter
		}
		return m
	}
	rebarred := func(a, b *material) bool {
		return (&matcher{a: a, b: b}).rebarred(Range{0, len(a.measures)}, Range{0, len(b.measures)})
	}
	require.True(t, rebarred(lengths(4), lengths(2, 2)))
	require.True(t, rebarred(lengths(2, 2), lengths(4)))
	require.True(t, rebarred(lengths(3, 3), lengths(2, 2, 2)))
	require.False(t, rebarred(lengths(2, 2), lengths(2, 2)), "a barline in common")
	require.False(t, rebarred(lengths(4), lengths(2, 3)), "longer")
	require.False(t, rebarred(lengths(5), lengths(2, 2)), "shorter")
}

// The staff that most equal notes stand on is its staff in the other score; two are too few to tell.
func TestStavesByVotes(t *testing.T) {
	row := func(staff int8, n int) (out []item) {
		for i := range n {
			it := at(int64(i), 60+i)
			it.staff = staff
			out = append(out, it)
		}
		return out
	}
	winner := func(x, y []item, shift int64) int8 {
		var v staffVotes
		v.count(x, y, shift)
		m := v.winner(staffMap{})
		return m.of(1)
	}
	require.Equal(t, int8(2), winner(row(1, 4), row(2, 4), 0))
	require.Equal(t, int8(2), winner(row(1, 3), row(2, 3), 0))
	require.Equal(t, int8(1), winner(row(1, 2), row(2, 2), 0), "two are too few")
	mixed := append(row(2, 2), row(1, 5)[2:]...)
	require.Equal(t, int8(1), winner(row(1, 5), mixed, 0))
	late := row(2, 4)
	for i := range late {
		late[i].tick += eighth / 2
	}
	require.Equal(t, int8(1), winner(row(1, 4), late, 0), "nothing is equal")
	require.Equal(t, int8(2), winner(row(1, 4), late, eighth/2), "but for the shift")
	more := append([]item{at(0, 50)}, row(2, 4)...)
	require.Equal(t, int8(2), winner(row(1, 4), more, 0), "with notes between")
	require.Equal(t, int8(2), winner(append([]item{at(0, 50)}, row(1, 4)...), row(2, 4), 0))
}

// A repeat is signed where a sign, an ending or words to go back to account for it.
func TestWhatSignsARepeat(t *testing.T) {
	signed := func(change func(s *score.Score)) bool {
		s := &score.Score{Measures: make([]score.Measure, 10)}
		change(s)
		return repeatSigned(s, Range{2, 5})
	}
	require.False(t, signed(func(*score.Score) {}))
	both := func(s *score.Score) { s.Measures[2].Repeat.Forward, s.Measures[4].Repeat.Backward = true, true }
	require.True(t, signed(both))
	require.True(t, signed(func(s *score.Score) { s.Measures[4].Repeat.Backward = true }), "its end")
	require.True(t, signed(func(s *score.Score) { s.Measures[3].Repeat.Backward = true }), "within")
	require.False(t, signed(func(s *score.Score) { s.Measures[6].Repeat.Backward = true }), "the end of another, begun elsewhere")
	require.False(t, signed(func(s *score.Score) { s.Measures[5].Repeat.Backward = true }), "one measure on, without an ending")
	require.True(t, signed(func(s *score.Score) {
		s.Measures[5].Repeat.Backward = true
		s.Measures[5].Endings = make([]int, 1)
	}), "in its ending")
	require.True(t, signed(func(s *score.Score) {
		s.Measures[1].Repeat.Backward, s.Measures[5].Endings, s.Measures[6].Repeat.Backward = true, make([]int, 1), true
	}), "it begins where another ended")
	words := func(text string, measure int) func(s *score.Score) {
		return func(s *score.Score) {
			s.Directions = append(s.Directions, score.Direction{Kind: score.Words, Text: text, Measure: measure})
		}
	}
	require.True(t, signed(words("D.C. al Fine", 9)))
	require.True(t, signed(words("Dal Segno", 4)))
	require.False(t, signed(words("D.C.", 3)), "before its end")
	require.False(t, signed(words("dolce", 9)))
	require.True(t, signed(func(s *score.Score) { s.Directions = []score.Direction{{Kind: score.Segno}} }))
	require.True(t, signed(func(s *score.Score) { s.Directions = []score.Direction{{Kind: score.Coda}} }))
	for words, back := range map[string]bool{"D.C.": true, "d. s.": true, "Da Capo": true, "DA CAPO AL FINE": true, "dal segno": true, "Dal Segno al Coda": true, "dacap": false, "dalsegn": false, "d": false, "": false, "dolce": false, "a d.c.": false} {
		require.Equal(t, back, goesBack(words), words)
	}
}

// Other keys within one row: what is left between two paired neighbours, where both sides have as many notes there.
func TestOtherKeysWithinARow(t *testing.T) {
	x := []item{at(0, 60), at(1, 62), at(2, 64), at(3, 65)}
	between := func(y []item) []int32 {
		return paired(x, y, func(r *reading) { r.pair(0, 0); r.pair(3, len(y)-1); r.between() })
	}
	require.Equal(t, []int32{0, 1, 2, 3}, between([]item{at(8, 60), at(9, 63), at(10, 70), at(11, 65)}))
	require.Equal(t, []int32{0, 1, -1, 3}, between([]item{at(8, 60), at(9, 63), at(10, 77), at(11, 65)}), "more than an octave")
	require.Equal(t, []int32{0, 1, 2, 3}, between([]item{at(8, 60), at(9, 50), at(10, 76), at(11, 65)}), "an octave")
	require.Equal(t, []int32{0, -1, -1, 2}, between([]item{at(8, 60), at(9, 63), at(11, 65)}), "fewer on one side")
}

// What a decision keeps of what stands around a note: six keys before and after, nearest first, and the keys struck with it.
func TestTheContextOfANote(t *testing.T) {
	s := &score.Score{Parts: []score.Part{{ID: "P", Staves: 2, Keyboard: true}}}
	for m := range 3 {
		s.Measures = append(s.Measures, score.Measure{Index: m, Number: string(rune('1' + m)), Start: score.Whole(int64(4 * m)), Length: score.Whole(4), BeatUnit: score.Whole(1)})
		for i := range 4 {
			for k := range 2 {
				s.Notes = append(s.Notes, score.Note{Measure: m, Onset: score.Whole(int64(i)), Duration: score.Whole(1), Staff: 2 - k, Midi: 60 + 10*m + 2*i + k, TiedFrom: -1, TiedTo: -1})
			}
		}
	}
	x := NewIndex(s)
	c := x.Context(10) // second beat of measure 2
	require.Equal(t, "2", c.Printed)
	require.Equal(t, 2, c.Staff)
	require.Equal(t, []int{73}, c.With)
	require.Equal(t, []int{71, 70, 67, 66, 65, 64}, c.Before)
	require.Equal(t, []int{74, 75, 76, 77, 80, 81}, c.After)
	require.Equal(t, x.Music(1), c.Music)
	require.Empty(t, x.Context(0).Before)
	require.Empty(t, x.Context(23).After)
	require.Equal(t, []int{60}, x.Context(1).With)
	require.Equal(t, 1000, inCommon(nil, nil))
	require.Equal(t, 500, inCommon([]int{1, 2, 3, 4}, []int{2, 4}))
	require.Equal(t, 0, inCommon([]int{1}, nil))
	a := s.Addresses()
	const full = worthMusic + worthWith + worthBefore + worthAfter + worthOnset + 1 + worthNear + worthPrinted + worthStaff
	require.Equal(t, 1001, full)
	require.Equal(t, 1000, x.likeness(10, a[10], c), "no more than all")
	far := a[10]
	far.Measure += 5
	require.Equal(t, full-20, x.likeness(10, far, c), "4 less a measure")
	other := c
	other.Staff, other.Printed, other.Music = 1, "9", "x"
	require.Equal(t, full-worthStaff-worthPrinted-worthMusic, x.likeness(10, a[10], other))
	moved := a[10]
	moved.Onset = score.Whole(3)
	require.Equal(t, full-worthOnset-1, x.likeness(10, moved, c))
	p := x.Place(a[10], c)
	require.True(t, p.Sure)
	require.Equal(t, 10, p.Note)
	octave := a[10]
	octave.Midi += 12
	require.Equal(t, 10, x.Place(octave, c).Note, "an octave off it is still the nearest")
}

// Unmeasured stretches too long for a table are paired by nearness in time alone, each note once.
func TestLongUnmeasuredStretchesByNearness(t *testing.T) {
	var x, y []item
	for i := range int64(520) {
		x = append(x, at(4*i, 60+int(i%7)))
		y = append(y, item{tick: 4*i*eighth + eighth/4, midi: int16(60 + i%7), staff: 1})
	}
	r := newReading(x, y, staffMap{}, same)
	pairs := r.nearest(rows(len(x)), rows(len(y)), farthestShift)
	require.Len(t, pairs, 520)
	for k, p := range pairs {
		require.Equal(t, [2]int{k, k}, p)
	}
	require.Nil(t, r.nearest(rows(500), rows(500), farthestShift), "a table has room for these")
	near := append(slices.Clone(y), item{tick: 2, midi: 60, staff: 1})
	slices.SortFunc(near, inTime)
	r = newReading(x, near, staffMap{}, same)
	require.Equal(t, [2]int{0, 0}, r.nearest(rows(len(x)), rows(len(near)), farthestShift)[0], "the nearer of two")
	twice := append([]item{at(0, 60)}, x...)
	r = newReading(twice, y, staffMap{}, same)
	require.Len(t, r.nearest(rows(len(twice)), rows(len(y)), farthestShift), 520, "each once")
	paired := newReading(x, y, staffMap{}, same)
	paired.shifted(farthestShift)
	require.NotContains(t, paired.to, int32(-1))
}

// Voices that are shifted differently find themselves in rounds of their own.
func TestVoicesShiftedDifferently(t *testing.T) {
	x := []item{at(0, 60), at(0, 72), at(1, 62), at(1, 74), at(2, 64), at(2, 76)}
	y := []item{at(1, 72), at(2, 60), at(2, 74), at(3, 62), at(3, 76), at(4, 64)}
	require.Equal(t, []int32{1, 0, 3, 2, 5, 4}, paired(x, y, shifted))
	chord := []item{at(0, 60), at(0, 72), at(0, 84)}
	rolled := []item{{tick: eighth / 2, midi: 84, staff: 1}, at(1, 72), at(2, 60)}
	require.Equal(t, []int32{2, 1, 0}, paired(chord, rolled, shifted), "three voices, each by itself")
}

// Chords by octaves: equal keys, keys up to two octaves apart, and no others.
func TestChordsByOctaves(t *testing.T) {
	chord := func(x, y []item) []int32 {
		return paired(x, y, func(r *reading) { r.chordByOctaves(rows(len(x)), rows(len(y))) })
	}
	require.Equal(t, []int32{0, 1}, chord([]item{at(0, 60), at(0, 72)}, []item{at(0, 72), at(0, 84)}), "a chord moved by an octave")
	require.Equal(t, []int32{0, 1}, chord([]item{at(0, 60), at(0, 72)}, []item{at(0, 60), at(0, 72)}))
	require.Equal(t, []int32{1}, chord([]item{at(0, 72)}, []item{at(0, 60), at(0, 72)}), "the same key before an octave")
	require.Equal(t, []int32{0}, chord([]item{at(0, 60)}, []item{at(0, 84)}))
	require.Equal(t, []int32{0}, chord([]item{at(0, 84)}, []item{at(0, 60)}))
	require.Equal(t, []int32{-1}, chord([]item{at(0, 60)}, []item{at(0, 96)}), "three octaves")
	require.Equal(t, []int32{-1}, chord([]item{at(0, 60)}, []item{at(0, 61)}))
	require.Equal(t, []int32{-1}, chord([]item{at(0, 60)}, []item{at(0, 73)}))
}
