package pipeline_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false,
	"rewrite goldens and the guide's tables; golden fingers only with a new version of the engine")

// passage is a piece of music that anyone may write out: a line for each hand, in beats of so many microseconds a
// quarter. A note is written c#5 for a quarter, c#5/8 for an eighth, c#5/4. for a dotted quarter, c5+e5 for a
// chord, r for a rest.
type passage struct {
	name        string
	micros      int64
	right, left string
}

// Written out from the first editions as they are known to every pianist; from memory.
var passages = []passage{
	{"Bach, Invention BWV 772, mm. 1-2", 750_000,
		`r/16 c4/16 d4/16 e4/16 f4/16 d4/16 e4/16 c4/16 g4/8 c5/8 b4/8 c5/8
		d5/16 g4/16 a4/16 b4/16 c5/16 a4/16 b4/16 g4/16 d5/8 g5/8 f5/8 g5/8`,
		`r/2 r/16 c3/16 d3/16 e3/16 f3/16 d3/16 e3/16 c3/16
		g3/8 g2/8 r/4 r/16 g3/16 a3/16 b3/16 c4/16 a3/16 b3/16 g3/16`},
	{"Bach, Prelude BWV 846, mm. 1-4", 900_000,
		`r/8 g4/16 c5/16 e5/16 g4/16 c5/16 e5/16 r/8 g4/16 c5/16 e5/16 g4/16 c5/16 e5/16
		r/8 a4/16 d5/16 f5/16 a4/16 d5/16 f5/16 r/8 a4/16 d5/16 f5/16 a4/16 d5/16 f5/16
		r/8 g4/16 d5/16 f5/16 g4/16 d5/16 f5/16 r/8 g4/16 d5/16 f5/16 g4/16 d5/16 f5/16
		r/8 g4/16 c5/16 e5/16 g4/16 c5/16 e5/16 r/8 g4/16 c5/16 e5/16 g4/16 c5/16 e5/16`,
		`c4/16 e4/16 r/8 r/4 c4/16 e4/16 r/8 r/4 c4/16 d4/16 r/8 r/4 c4/16 d4/16 r/8 r/4
		b3/16 d4/16 r/8 r/4 b3/16 d4/16 r/8 r/4 c4/16 e4/16 r/8 r/4 c4/16 e4/16 r/8 r/4`},
	{"Mozart, Sonata K. 545, first movement: right hand mm. 5-8, left hand mm. 1-4", 450_000,
		`a4/8 b4/16 c5/16 d5/16 e5/16 f5/16 g5/16 a5/16 g5/16 f5/16 e5/16 d5/16 c5/16 b4/16 a4/16
		g4/8 a4/16 b4/16 c5/16 d5/16 e5/16 f5/16 g5/16 f5/16 e5/16 d5/16 c5/16 b4/16 a4/16 g4/16
		f4/8 g4/16 a4/16 b4/16 c5/16 d5/16 e5/16 f5/16 e5/16 d5/16 c5/16 b4/16 a4/16 g4/16 f4/16
		e4/8 f4/16 g4/16 a4/16 b4/16 c5/16 d5/16 e5/16 d5/16 c5/16 b4/16 a4/16 g4/16 f4/16 e4/16`,
		`c4/8 g4/8 e4/8 g4/8 c4/8 g4/8 e4/8 g4/8 d4/8 g4/8 f4/8 g4/8 c4/8 g4/8 e4/8 g4/8
		c4/8 a4/8 f4/8 a4/8 c4/8 g4/8 e4/8 g4/8 b3/8 g4/8 d4/8 g4/8 c4/8 g4/8 e4/8 g4/8`},
	{"Beethoven, Sonata Op. 27 No. 2, first movement, mm. 1-4", 1_050_000,
		`g#3/12 c#4/12 e4/12 g#3/12 c#4/12 e4/12 g#3/12 c#4/12 e4/12 g#3/12 c#4/12 e4/12
		g#3/12 c#4/12 e4/12 g#3/12 c#4/12 e4/12 g#3/12 c#4/12 e4/12 g#3/12 c#4/12 e4/12
		a3/12 c#4/12 e4/12 a3/12 c#4/12 e4/12 a3/12 d4/12 f#4/12 a3/12 d4/12 f#4/12
		g#3/12 b#3/12 f#4/12 g#3/12 c#4/12 e4/12 g#3/12 c#4/12 d#4/12 f#3/12 b#3/12 d#4/12`,
		`c#2+c#3/1 b1+b2/1 a1+a2/2 f#1+f#2/2 g#1+g#2/2 g#1+g#2/2`},
	{"Beethoven, Bagatelle WoO 59, mm. 0-4", 800_000,
		`e5/16 d#5/16 e5/16 d#5/16 e5/16 b4/16 d5/16 c5/16 a4/8 r/16 c4/16 e4/16 a4/16 b4/8 r/16 e4/16 g#4/16 b4/16
		c5/8 r/16 e4/16 e5/16 d#5/16`,
		`r/8 r/4. a2/16 e3/16 a3/16 r/16 r/8 e2/16 e3/16 g#3/16 r/16 r/8 a2/16 e3/16 a3/16 r/16 r/8`},
	{"Petzold, Minuet in G, BWV Anh. 114, mm. 1-8", 480_000,
		`d5 g4/8 a4/8 b4/8 c5/8 d5 g4 g4 e5 c5/8 d5/8 e5/8 f#5/8 g5 g4 g4
		c5 d5/8 c5/8 b4/8 a4/8 b4 c5/8 b4/8 a4/8 g4/8 f#4 g4/8 a4/8 b4/8 g4/8 a4/2.`,
		`g3+b3+d4/2 a3 b3/2. c4/2. b3/2. a3/2. g3/2. d4 b3 g3 d4 d3/8 c4/8 b3/8 a3/8`},
}

var steps = map[byte]int{'c': 0, 'd': 2, 'e': 4, 'f': 5, 'g': 7, 'a': 9, 'b': 11}

// notesOf reads one hand of a passage.
func notesOf(t *testing.T, text string, micros int64) (out []fingering.Note) {
	at := score.Whole(0)
	for token := range strings.FieldsSeq(text) {
		pitches, length, _ := strings.Cut(token, "/")
		dotted := strings.HasSuffix(length, ".")
		part := int64(4)
		if length = strings.TrimSuffix(length, "."); length != "" {
			n, err := strconv.ParseInt(length, 10, 64)
			require.NoError(t, err, token)
			part = n
		}
		quarters := score.Frac(4, part)
		if dotted {
			quarters = quarters.Mul(score.Frac(3, 2))
		}
		end := at.Add(quarters)
		for pitch := range strings.SplitSeq(pitches, "+") {
			if pitch == "r" {
				continue
			}
			octave, err := strconv.Atoi(pitch[len(pitch)-1:])
			require.NoError(t, err, token)
			key := 12*(octave+1) + steps[pitch[0]] + strings.Count(pitch, "#")
			out = append(out, fingering.Note{ID: len(out), Key: key, Micros: at.Num() * micros / at.Den(),
				Onset: fingering.Moment{
					Num: at.Num(), Den: at.Den(),
				}, End: fingering.Moment{Num: end.Num(), Den: end.Den()}})
		}
		at = end
	}
	return out
}

// fingersOfPassages fingers the passages for the middle hand at the shipped weights.
func fingersOfPassages(t *testing.T) string {
	var b strings.Builder
	for _, p := range passages {
		fmt.Fprintf(&b, "\n%s\n", p.name)
		for _, h := range []fingering.Hand{fingering.Right, fingering.Left} {
			text, name := p.right, "right"
			if h == fingering.Left {
				text, name = p.left, "left "
			}
			r := engine.Finger(h, hand.NinthHand, effort.Delivered(), notesOf(t, text, p.micros),
				engine.Options{Aims: effort.PlainAims()})
			fmt.Fprintf(&b, "  %s ", name)
			for i, n := range r.Notes {
				if i > 0 && i%8 == 0 {
					b.WriteByte(' ')
				}
				fmt.Fprint(&b, n.Finger)
				if n.Substitution != 0 {
					fmt.Fprintf(&b, "(%d)", n.Substitution)
				}
			}
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// fingersOfDemo fingers the demo collection under the default policy, a line for each hand of a measure.
func fingersOfDemo(t *testing.T) string {
	c, err := corpus.Open(shared.InProject("corpus", "demo"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(c.Pieces), 12)
	job := pipeline.Job{
		Collection: c, Weights: pipeline.ShippedWeights(), Workers: 2,
		PolicyOf: func(*corpus.Piece) (*policies.Policy, error) { return policies.Default(), nil },
	}
	var b strings.Builder
	require.NoError(t, pipeline.Run(context.Background(), job, func(w *pipeline.PieceRun, failed error) error {
		require.NoError(t, failed)
		fmt.Fprintf(&b, "\n%s\n", w.Result.Piece)
		notes := w.Result.Notes
		for from := 0; from < len(notes); {
			to := from
			for to < len(notes) && notes[to].MeasureIndex == notes[from].MeasureIndex {
				to++
			}
			for _, h := range []score.Hand{score.Right, score.Left} {
				writeMeasure(&b, notes[from:to], h)
			}
			from = to
		}
		return nil
	}))
	return b.String()
}

func writeMeasure(b *strings.Builder, notes []state.Note, h score.Hand) {
	var digits strings.Builder
	for _, n := range notes {
		if n.Hand != h || n.Tied {
			continue
		}
		fmt.Fprint(&digits, n.Finger)
		for _, to := range n.Substitution {
			fmt.Fprintf(&digits, "(%d)", to)
		}
	}
	if digits.Len() > 0 {
		fmt.Fprintf(b, "  m. %s %s %s\n", notes[0].Measure, h, &digits)
	}
}

// goldenHead begins the file and names the version of the engine that gave these fingers.
const goldenHead = "Fingers by engine "

// mayRewrite says whether golden fingers may be replaced: only where the engine's version has risen, since a change
// of fingers that keeps the version would leave earlier results and passed states in force.
func mayRewrite(golden, version string) error {
	first, _, _ := strings.Cut(golden, "\n")
	if was, ok := strings.CutPrefix(first, goldenHead); ok && was == version {
		return fmt.Errorf("the golden fingers are those of engine %s already\n"+
			"hint: raise EngineVersion with the change that moves fingers, then -update", version)
	}
	return nil
}

// What a change of numerics does to fingers shows here. It needs a new EngineVersion.
func TestFingersAreThoseOfTheGolden(t *testing.T) {
	file := filepath.Join("testdata", "fingers.golden")
	got := goldenHead + pipeline.EngineVersion + "\n" + fingersOfPassages(t) + fingersOfDemo(t)
	was, err := os.ReadFile(file)
	if *update && string(was) != got {
		if err == nil {
			require.NoError(t, mayRewrite(string(was), pipeline.EngineVersion))
		}
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
		return
	}
	require.NoError(t, err)
	require.Equal(t, string(was), got,
		"fingers have changed: raise EngineVersion, then go test ./pipeline -run %s -update", t.Name())
}

func TestGoldenFingersAreRewrittenOnlyWithANewVersion(t *testing.T) {
	golden := goldenHead + "0.2\n\nsomething\n"
	require.ErrorContains(t, mayRewrite(golden, "0.2"), "raise EngineVersion")
	require.NoError(t, mayRewrite(golden, "0.3"))
	require.NoError(t, mayRewrite("", "0.2"), "a first golden")
	was, err := os.ReadFile(filepath.Join("testdata", "fingers.golden"))
	require.NoError(t, err)
	require.Error(t, mayRewrite(string(was), pipeline.EngineVersion), "the shipped golden names the version in force")
}
