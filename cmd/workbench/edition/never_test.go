package edition

import (
	"path/filepath"
	"slices"
	"testing"

	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// withoutDigits are scores of the repertoire (The Fryderyk Chopin Institute, CC BY 4.0), in which no digit stands.
var withoutDigits = []string{
	"polish__anonim-walc-no-2", "polish__majewska-j-mazur", "polish__anonim-la-violette", "polish__kagan-jakub-mary",
	"polish__anonim-polonaise-eb3a", "polish__hertz-michal-kanon-2",
}

// What no editor would do is not done in real music, in any style: counted from the page alone. And a whole run finds
// nothing to say of digits that are missing on the page it has printed itself.
func TestWhatNoEditorWouldDoIsNotDone(t *testing.T) {
	folder := opendatatest.Folder(t)
	denser := map[string][]bool{} // by piece and what is printed of figures: what the denser style prints
	for _, style := range []string{"study", "performance", "sparse"} {
		for _, figures := range []string{"first", "each"} {
			policy, err := policies.ByName(style)
			require.NoError(t, err)
			policy, err = policy.Setting(map[string]string{"figures": figures})
			require.NoError(t, err)
			var c never
			for _, name := range withoutDigits {
				w := programruns.OfFile(filepath.Join(folder, "data", "repertoire", name+".mxl"), policy)
				require.NoError(t, pipeline.RunPiece(w), name)
				in := thin.FingeredOf(w.ThinInput())
				require.Equal(t, in.Finger, fingersRead(in, w.Print), "%s, %s", style, name)
				c.add(&in, w.Print)
				before := denser[name+figures]
				for i := range before {
					require.False(t, w.Print[i] && !before[i], "%s, %s: a digit that the denser style lacks, %s", style, name, w.Score.Place(i))
				}
				denser[name+figures] = w.Print
				for _, f := range w.Findings {
					require.NotEqual(t, "digit-missing", f.Rule, "%s, %s: %s", style, name, f.Message)
				}
			}
			said := style + ", figures " + figures + ": " + c.String()
			require.Positive(t, min(c.leaps, c.chords, c.moves, c.figures), "it looked at some: %s", said)
			require.Zero(t, c.unclear, said)
			require.Zero(t, c.unshown, said)
			require.Zero(t, c.holes, said)
			require.Zero(t, c.fives, said)
			require.Zero(t, c.silent, said)
			require.Zero(t, c.odd, said)
			if style != "sparse" { // whoever takes the fewest digits remembers leaps through the whole piece
				require.Zero(t, c.staleLeaps, said)
			}
			t.Log(said)
		}
	}
}

// fingersRead is what the reader makes of what is printed, with no finger where nothing is struck.
func fingersRead(in thin.Fingered, printed []bool) []int {
	read := thin.Read(in, printed)
	for i := range read {
		if in.Playing.Stroke(i) == nil {
			read[i] = in.Finger[i]
		}
	}
	return slices.Clip(read)
}
