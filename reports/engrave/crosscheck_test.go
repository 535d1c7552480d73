package engrave_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/reports/engrave"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// A general-purpose engraver (Verovio) reads our editions: it must find the
// same pitches on the same notes at the same moments, and the same fingers on
// them. Only ids are put into the copy it is given, nothing is merged or
// moved. Its timemap spreads rolled chords, and gives grace notes time that it
// takes from the note they lean on: moments with either are not compared.
func TestAnIndependentReaderFindsTheSameFingers(t *testing.T) {
	const late = 0.06
	ctx := context.Background()
	press, err := engrave.Open(ctx, engrave.Options{
		Package: engrave.FindPackage("."), CacheDir: filepath.Join(os.TempDir(), "fingerproof-engraver-test"),
	})
	if errors.Is(err, engrave.ErrMissing) {
		t.Skip(err)
	}
	require.NoError(t, err)
	defer press.Close(ctx)
	worker, err := press.Worker(ctx)
	require.NoError(t, err)
	defer worker.Close(ctx)

	fingers, notes, moments, apart, astray := 0, 0, 0, 0, 0
	for _, path := range crossCheckSample(t) {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		name := filepath.Base(path)
		w := &pipeline.PieceRun{
			Piece: &corpus.Piece{ID: name, Score: name, Scoring: corpus.TwoHands}, Data: data,
			Policy: policies.Default(), Weights: pipeline.ShippedWeights(), Edition: name,
		}
		require.NoError(t, pipeline.RunPiece(w), name)
		edition, err := source.Open(name, w.EditionData, source.DefaultLimits())
		require.NoError(t, err)
		require.NoError(t, worker.Load(ctx, []byte(withIDs(edition.Text))), name)

		marked, _, err := musicxml.Read(edition, musicxml.DefaultLimits())
		require.NoError(t, err, name)
		mei, err := worker.MEI(ctx)
		require.NoError(t, err, name)
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromBytes(mei))
		found, pitch := map[string][]string{}, map[string]string{}
		for _, f := range doc.FindElements("//fing") {
			id := strings.TrimPrefix(f.SelectAttrValue("startid", ""), "#")
			found[id] = append(found[id], strings.TrimSpace(f.Text()))
		}
		for _, n := range doc.FindElements("//note") {
			// Under an octave sign oct is where the note is written, oct.ges where it sounds.
			pitch[n.SelectAttrValue("xml:id", "")] = strings.ToUpper(
				n.SelectAttrValue("pname", ""),
			) + n.SelectAttrValue("oct.ges", n.SelectAttrValue("oct", ""))
		}
		timemap, err := worker.Timemap(ctx)
		require.NoError(t, err)
		begins := map[string]float64{}
		for _, m := range timemap {
			for _, id := range m.On {
				begins[id] = m.Quarters
			}
		}
		exact := addsUp(w.Score)
		leaned := map[score.Fraction]bool{}
		for i := range w.Score.Notes {
			if marked.Notes[i].Grace > 0 || marked.Notes[i].Arpeggio.Rolled { // rolls that the edition offers, too
				leaned[w.Score.At(i)] = true
			}
		}
		hiddenFirst := hiddenNotationsFirst(edition.Text)
		for _, r := range w.Result.Notes {
			id := fmt.Sprintf("n%d", r.N)
			n := &w.Score.Notes[r.N]
			notes++
			require.Equal(
				t, fmt.Sprintf("%c%d", n.Pitch.Step, n.Pitch.Octave), pitch[id], "%s, %s", name, w.Score.Place(r.N),
			)
			var want []string
			for _, ind := range marked.Notes[r.N].Indications {
				want = append(want, strings.TrimSpace(ind.Text))
			}
			printed := len(n.Indications) > 0 || w.Print[r.N]
			require.False(
				t, printed && len(want) == 0, "%s, %s: a printed digit is not in the edition", name, w.Score.Place(r.N),
			)
			got := slices.Clone(found[id])
			slices.Sort(want)
			slices.Sort(got)
			if hiddenFirst[r.N] {
				// The engraver reads a note's first notations only, and ours stand in the first that are printed.
				apart++
				continue
			}
			require.Equal(t, want, got, "%s, %s", name, w.Score.Place(r.N))
			fingers += len(want)
			at, sounds := begins[id]
			if !exact || !sounds || leaned[w.Score.At(r.N)] {
				continue
			}
			moments++
			if off := math.Abs(at - w.Score.At(r.N).Float()); off > late {
				t.Logf("%s, %s: %.2f quarters apart", name, w.Score.Place(r.N), off)
				astray++
			}
		}
	}
	t.Logf(
		"%d notes, %d fingers, %d moments agree; %d notes have hidden notations first", notes, fingers, moments, apart,
	)
	require.Less(t, apart*100, notes)
	require.LessOrEqual(t, astray*1000, moments, "at most one moment in a thousand may be read otherwise")
	require.Greater(t, fingers, 5000)
	require.Greater(t, moments, 5000)
}

// crossCheckSample takes some scores of each kind that are not too long.
func crossCheckSample(t *testing.T) []string {
	var out []string
	for kind, most := range map[string]int{"engraved": 10, "fingered": 10} {
		files, err := filepath.Glob(filepath.Join(shared.Folder(t, "data"), kind, "*.mxl"))
		require.NoError(t, err)
		taken := 0
		for i := 0; i < len(files) && taken < most; i += 17 {
			info, err := os.Stat(files[i])
			require.NoError(t, err)
			if info.Size() < 20_000 {
				out = append(out, files[i])
				taken++
			}
		}
	}
	slices.Sort(out)
	return out
}

// addsUp reports whether measures last what they say: readers may differ on
// those that do not.
func addsUp(s *score.Score) bool {
	for _, o := range s.Oddities {
		if o.Kind != score.OddTie {
			return false
		}
	}
	for i := range s.Measures {
		if m := &s.Measures[i]; m.Nominal.Sign() > 0 && m.Length != m.Nominal && i > 0 && i < len(s.Measures)-1 {
			return false
		}
	}
	return true
}

// hiddenNotationsFirst says which notes have notations that are not printed
// before any others.
func hiddenNotationsFirst(text string) map[int]bool {
	out := map[int]bool{}
	for k, note := range noteElement.FindAllString(text, -1) {
		if i := strings.Index(note, "<notations"); i >= 0 &&
			strings.HasPrefix(note[i:], `<notations print-object="no"`) {
			out[k] = true
		}
	}
	return out
}

var (
	noteElement = regexp.MustCompile(`(?s)<note[\s>].*?</note>`)
	noteTag     = regexp.MustCompile(`<note(\s[^>]*)?>`)
	idOf        = regexp.MustCompile(`\sid="[^"]*"`)
)

// withIDs gives every note element the id nK, K its index in the document.
func withIDs(text string) string {
	k := -1
	return noteTag.ReplaceAllStringFunc(text, func(tag string) string {
		k++
		tag = idOf.ReplaceAllString(tag, "")
		return fmt.Sprintf(`<note id="n%d"`, k) + strings.TrimPrefix(tag, "<note")
	})
}
