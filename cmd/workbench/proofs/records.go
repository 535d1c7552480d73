package proofs

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/policies"
)

// records sends editions through the converter, and counts what of their records still fits.
func (m *roundTrips) records(ctx context.Context, out io.Writer) error {
	demo, err := filepath.Glob(shared.InProject("corpus", "demo", "scores", "*.musicxml"))
	if err != nil {
		return err
	}
	fingered, err := opendata.Scores(m.shared, 2*m.scores)
	if err != nil {
		return err
	}
	// In the fingered material hardly a chord is offered to be rolled; in these songs some are.
	songs, err := filepath.Glob(filepath.Join(opendata.Place(m.shared, "engraved"), "Faisst*.mxl"))
	if err != nil {
		return err
	}
	var fit, lost, unknown, leftOut, rolls, rollsBack int
	for _, file := range slices.Concat(demo, songs, fingered[:len(fingered)/2]) {
		h, err := m.record(ctx, file)
		if errors.Is(err, errMordent) {
			leftOut++
			continue
		}
		if err != nil {
			fmt.Fprintf(out, "%s: %v\n", filepath.Base(file), err)
			continue
		}
		fit, lost, unknown = fit+h.Fit, lost+h.Lost, unknown+h.Unknown
		rolls, rollsBack = rolls+h.rolls, rollsBack+h.rollsBack
		fmt.Fprintf(out, "%-60.60s %5d digits fit, %4d do not (%d of them added), %d came in, %d decisions without a note\n",
			filepath.Base(file), h.Fit, h.Lost, h.AddedLost, h.Unknown, h.Dropped)
	}
	fmt.Fprintf(out, "%d of %d digits of the records fit (%.4f); %d digits came in; %d scores with mordents left out\n",
		fit, fit+lost, float64(fit)/float64(max(fit+lost, 1)), unknown, leftOut)
	fmt.Fprintf(out, "%d of %d keys that an edition rolls came back rolled by it\n", rollsBack, rolls)
	return nil
}

// heldRecord is the record of an edition held against what came back, and how many keys the edition rolls in both.
type heldRecord struct {
	*edition.Held
	rolls, rollsBack int
}

// rolledByEdition counts the keys that an edition of ours rolls, the composer's rolls apart.
func rolledByEdition(s *score.Score) (n int) {
	for i := range s.Notes {
		if s.Notes[i].Arpeggio.Rolled && s.Notes[i].Arpeggio.Enclosure != score.NoEnclosure {
			n++
		}
	}
	return n
}

// record holds the record of a score's edition against what a converter makes of the edition.
func (m *roundTrips) record(ctx context.Context, file string) (*heldRecord, error) {
	s, err := opendata.ReadScore(file)
	if err != nil {
		return nil, err
	}
	if hasMordent(s) {
		return nil, errMordent
	}
	policy, err := policies.ByName("study")
	if err != nil {
		return nil, err
	}
	w := programruns.OfFile(file, policy)
	w.Edition = filepath.Base(file)
	if err := programruns.UpTo(w, "mark"); err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "fingerproof-edition-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	from, to := filepath.Join(dir, filepath.Base(file)), filepath.Join(dir, "back.musicxml")
	if err := os.WriteFile(from, w.EditionData, 0o644); err != nil {
		return nil, err
	}
	if err := convert(ctx, m.converter, from, to); err != nil {
		return nil, err
	}
	back, err := opendata.ReadScore(to)
	if err != nil {
		return nil, err
	}
	h := edition.OfEdits(w.Record.Edits).Hold(back)
	if h == nil {
		return nil, errors.New("the edition carries no record")
	}
	printed, err := opendata.ReadScore(from)
	if err != nil {
		return nil, err
	}
	return &heldRecord{h, rolledByEdition(printed), rolledByEdition(back)}, nil
}
