package lattice

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// moving are joints that gain by what is remembered at their events, and say so.
type moving struct {
	drawnJoints
	kept []uint8
	rows bool // what is remembered bears on rows alone, two events on
}

func (m moving) RememberedAt(e int) uint8 { return m.kept[e] }

func (m moving) PairGains(e int, out []int32) bool {
	if !m.drawnJoints.PairGains(e, out) {
		return false
	}
	if m.rows {
		return true
	}
	for i := range out {
		out[i] += int32(m.kept[e])*100 - int32(m.kept[e-1])*70*int32(i%2)
	}
	return true
}

func (m moving) RowGains(e int, out []int32) bool {
	if !m.drawnJoints.RowGains(e, out) {
		return false
	}
	for i := range out {
		out[i] += int32(m.kept[e-2]) * int32(i%3) * 50
	}
	return true
}

// Searches of one lattice one after the other, each with other prices added here and there, come to what a search of its
// own comes to: posteriors, paths, and what has moved.
func TestSearchingAgainIsSearchingAnew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, m := drawnLine(t)
		var work Workspace
		priced := work.Price(l, m)
		extra, gain := make([]int32, l.Total()), make([]int64, l.Total())
		plain := drawnJoints{seed: rapid.Int32Range(0, 1000).Draw(t, "joints"), l: l}
		joints := moving{plain, make([]uint8, l.Events()), rapid.Bool().Draw(t, "rows")}
		var before []int64
		type state struct {
			extra []int32
			gain  []int64
			kept  []uint8
		}
		// Nothing added, and what was searched: a later search may ask for some of it again.
		states := []state{{make([]int32, len(extra)), make([]int64, len(gain)), make([]uint8, l.Events())}}
		for range rapid.IntRange(2, 10).Draw(t, "searches") {
			if rapid.IntRange(0, 1).Draw(t, "back") == 0 {
				s := rapid.SampledFrom(states).Draw(t, "state")
				switch rapid.IntRange(0, 3).Draw(t, "of it") {
				case 0:
					copy(extra, s.extra)
				case 1:
					copy(gain, s.gain)
				case 2:
					copy(joints.kept, s.kept)
				case 3:
					copy(extra, s.extra)
					copy(gain, s.gain)
					copy(joints.kept, s.kept)
				}
			}
			for range rapid.IntRange(0, 3).Draw(t, "changes") {
				switch rapid.IntRange(0, 2).Draw(t, "of") {
				case 0:
					extra[rapid.IntRange(0, len(extra)-1).Draw(t, "grip")] = rapid.Int32Range(-9000, 9000).Draw(t, "extra")
				case 1:
					gain[rapid.IntRange(0, len(gain)-1).Draw(t, "grip")] = rapid.Int64Range(0, 3).Draw(t, "gain") * Agreement / 2
				case 2:
					joints.kept[rapid.IntRange(0, l.Events()-1).Draw(t, "event")] = rapid.Uint8Range(0, 5).Draw(t, "remembered")
				}
			}
			states = append(states, state{slices.Clone(extra), slices.Clone(gain), slices.Clone(joints.kept)})
			priced = priced.With(extra)
			var fresh Workspace
			anew := fresh.Price(l, m).With(extra)
			if rapid.Bool().Draw(t, "posterior") {
				again := priced.Posterior()
				require.Equal(t, anew.Posterior().grip, again.grip)
				for e := range l.Events() {
					if !again.Moved(e) {
						require.Equal(t, l.part(e, before), again.Of(e))
					}
				}
				before = append(before[:0], again.grip...)
			}
			switch rapid.IntRange(0, 7).Draw(t, "decode") {
			case 0, 1, 2, 3, 4, 5:
				require.Equal(t, anew.MostAgreement(gain, joints), priced.MostAgreement(gain, joints))
			case 6: // by joints that do not say where they change
				require.Equal(t, anew.MostAgreement(gain, plain), priced.MostAgreement(gain, plain))
			}
			forward, once := priced.Forward(), anew.Forward()
			path, cost := forward.Cheapest()
			want, least := once.Cheapest()
			require.Equal(t, want, path)
			require.Equal(t, least, cost)
			require.Equal(t, once.Backward().grip, forward.Backward().grip)
		}
	})
}

// drawnLine is longer than drawn is, so that what changes here makes no difference there.
func drawnLine(t *rapid.T) (*Lattice, *arbitrary) {
	var notes []fingering.Note
	for e := range rapid.IntRange(2, 40).Draw(t, "events") {
		on := fingering.Moment{Num: int64(e), Den: 1}
		for range rapid.IntRange(1, 2).Draw(t, "keys") {
			notes = append(notes, fingering.Note{ID: len(notes), Key: rapid.IntRange(55, 75).Draw(t, "key"), Onset: on,
				End: fingering.Moment{Num: int64(e + 1), Den: 1}})
		}
	}
	l := New(fingering.NewLine(fingering.Right, notes, hand.NinthHand.Fits), hand.NinthHand)
	return l, &arbitrary{l: l, seed: rapid.Uint64().Draw(t, "prices"), flat: rapid.Bool().Draw(t, "flat")}
}
