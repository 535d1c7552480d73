package learned

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/rules/fingering"
	"fingerproof/rules/fingering/written"
	"fingerproof/rules/hand"
)

// The shipped network in whole numbers gives what the floating one gave when it was trained (PyTorch, its outputs kept in
// testdata): within two thousandths of a nat.
func TestWholeNumbersAgainstTheFloatingNetwork(t *testing.T) {
	var kept struct {
		Lines []struct {
			Columns [][]int
			Outputs [][fingering.Fingers]float64
		}
	}
	data, err := os.ReadFile("testdata/floating.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &kept))
	n, strikes := Shipped(), 0
	places := make([]int, len(n.columns))
	for c := range places {
		places[c] = c
	}
	var w Workspace
	for _, l := range kept.Lines {
		var looked []uint8
		for _, row := range l.Columns {
			require.Len(t, row, len(places))
			for _, v := range row {
				looked = append(looked, uint8(v))
			}
		}
		n.run(&w, len(l.Columns), looked, len(places), places)
		for s, outputs := range l.Outputs {
			best := outputs[0]
			for _, v := range outputs {
				best = max(best, v)
			}
			for f, v := range outputs {
				require.InDelta(t, 1000*(best-v), w.says[s][f], 2, "strike %d, finger %d", s, f+1)
			}
			strikes++
		}
	}
	require.Greater(t, strikes, 100)
}

func lineOf(h fingering.Hand, keys string, micros int64) *fingering.Line {
	return fingering.NewLine(h, written.Notes(keys, micros), hand.NinthHand.Fits)
}

// What is said of a passage does not change an octave higher, nor with digits that are given, nor with what the
// workspace was used for before.
func TestWhatIsSaidDependsOnTheMusicAlone(t *testing.T) {
	const passage = "c4+e4 d4 e4 f#4 g4:2 e4 c4+g4 b3 c4"
	var w, other Workspace
	n := Shipped()
	said := append([][fingering.Fingers]int32(nil), n.Says(lineOf(fingering.Right, passage, 200_000), &w)...)
	require.NotEmpty(t, said)
	require.Equal(t, said, n.Says(lineOf(fingering.Right, "c5+e5 d5 e5 f#5 g5:2 e5 c5+g5 b4 c5", 200_000), &w), "an octave higher")
	n.Says(lineOf(fingering.Left, "a3 b3 c4 d4 e4 f4 g4 a4 b4 c5 d5 e5 f5 g5 a5", 90_000), &other)
	given := written.Notes(passage, 200_000)
	for i := range given {
		given[i].Allowed = fingering.Only(2)
	}
	require.Equal(t, said, n.Says(fingering.NewLine(fingering.Right, given, hand.NinthHand.Fits), &other), "with digits given")
	require.NotEqual(t, said, n.Says(lineOf(fingering.Right, passage, 60_000), &w), "it hears the tempo")
}

// Every strike has a finger against which nothing is held, and what is looked up of any music lies within its column.
func TestColumnsOfAnyMusic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var notes []fingering.Note
		for i := range rapid.IntRange(1, 30).Draw(t, "notes") {
			onset := int64(rapid.IntRange(0, 12).Draw(t, "onset"))
			notes = append(notes, fingering.Note{
				ID: i, Key: rapid.IntRange(0, 127).Draw(t, "key"), Onset: fingering.Moment{Num: onset, Den: 4},
				End:     fingering.Moment{Num: onset + int64(rapid.IntRange(0, 9).Draw(t, "length")), Den: 4},
				Slurred: rapid.Bool().Draw(t, "slurred"), Micros: onset * int64(rapid.SampledFrom([]int{0, 1, 90_000, 9_000_000}).Draw(t, "tempo")),
			})
		}
		line := fingering.NewLine(fingering.Hand(rapid.IntRange(0, 1).Draw(t, "hand")), notes, hand.NinthHand.Fits)
		looked := Look(line, nil)
		require.Len(t, looked, len(columns)*len(line.Strikes))
		for i, v := range looked {
			require.Less(t, int(v), columns[i%len(columns)].Values, columns[i%len(columns)].Name)
		}
		for _, costs := range Shipped().Says(line, &Workspace{}) {
			least := costs[0]
			for _, c := range costs {
				least = min(least, c)
			}
			require.Zero(t, least)
		}
	})
}

// The file is small, says where it comes from, and nothing is read from a damaged one.
func TestTheShippedFile(t *testing.T) {
	n := Shipped()
	require.LessOrEqual(t, len(n.File()), 100_000)
	require.NotEmpty(t, n.Provenance())
	require.NotEmpty(t, n.Attribution())
	_, err := Read(n.File()[:len(n.File())-1])
	require.ErrorContains(t, err, "reading a network: ")
	_, err = Read(append(bytes.Clone(n.File()), 0))
	require.ErrorContains(t, err, "1 bytes too many")
	_, err = Read(nil)
	require.ErrorContains(t, err, "no first line")
	_, err = Read(bytes.Replace(n.File(), []byte(`"pitch class",12`), []byte(`"pitch class",13`), 1))
	require.ErrorContains(t, err, `no column "pitch class" of 13 values`)
	_, err = Read(bytes.Replace(n.File(), []byte(`"width":32`), []byte(`"width":99`), -1))
	require.Error(t, err)
}

func FuzzRead(f *testing.F) {
	f.Add(Shipped().File())
	f.Add([]byte("{}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		n, err := Read(data)
		if err == nil {
			n.Says(lineOf(fingering.Right, "c4+e4 d4 e4", 200_000), &Workspace{})
		}
	})
}
