package proofs

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
)

// roundTrips sends real scores through a notation converter and counts what the comparison finds: a proof round with
// an engraver who restyles, renumbers and drops things.
type roundTrips struct {
	shared, converter, keep string
	scores, list            int
	editions                bool
}

func roundTripCommand() *cobra.Command {
	m := &roundTrips{}
	return measurement.Measurement{
		Use:   "round-trip",
		Short: "send real scores through a notation converter and count what differs",
		Long: `round-trip writes scores of the fingered and the engraved material anew with a notation converter
and compares what comes back with the score. Scores with mordents are left out: Debian's converter
stops reading at the first of them.

With --editions it fingers the scores of the fingered material and the demo collection first, sends the editions
through the converter, and counts how many digits of their records still fit the music that comes back: the converter
keeps no record and no looks, so that the record is taken from the edits.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&m.converter, "converter", "musescore3", "program that converts MusicXML, called with -o OUT IN")
			f.StringVar(&m.keep, "keep", filepath.Join(os.TempDir(), "fingerproof-round-trip"),
				"folder for converted scores; what lies there is not converted again")
			f.IntVar(&m.scores, "scores", 100, "how many scores to take")
			f.BoolVar(&m.editions, "editions", false, "send fingered editions, and hold their records against what comes back")
			f.IntVar(&m.list, "list", 0, "list every difference of so many scores")
		},
		Run: m.run,
	}.Command()
}

func (m *roundTrips) run(ctx context.Context, out io.Writer, _ []string) error {
	if _, err := exec.LookPath(m.converter); err != nil {
		return fmt.Errorf("there is no program %s\nhint: it reads and writes MusicXML as `%s -o out.musicxml in.mxl`; "+
			"Debian has one in the package musescore3", m.converter, m.converter)
	}
	if m.editions {
		return m.records(ctx, out)
	}
	files, err := opendata.Scores(m.shared, m.scores)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(m.keep, 0o755); err != nil {
		return fmt.Errorf("making the folder of converted scores: %w", err)
	}
	total := map[compare.Kind]int{}
	same, leftOut := 0, 0
	for i, file := range files {
		p, err := roundTrip(ctx, m.converter, m.keep, file)
		switch {
		case errors.Is(err, errMordent):
			leftOut++
			continue
		case err != nil:
			fmt.Fprintf(out, "%s: %v\n", filepath.Base(file), err)
			continue
		}
		counts := p.Counts()
		for k, n := range counts {
			total[k] += n
		}
		if len(p.Changes) == 0 {
			same++
		}
		fmt.Fprintf(out, "%-60.60s %6d notes, covered %.5f:%s\n",
			filepath.Base(file), p.Notes, float64(p.Covered)/1e5, countsOf(counts))
		if i < m.list {
			listChanges(out, p)
		}
	}
	fmt.Fprintf(out, "%d of %d came back the same (%d with mordents left out); in all:%s\n",
		same, len(files)-leftOut, leftOut, countsOf(total))
	return nil
}

// errMordent says that the converter cannot read a score to its end.
var errMordent = errors.New("the score has a mordent, at which the converter stops reading")

// roundTrip compares a score with what a converter makes of it. A score that was converted before, into the folder
// keep, is not converted again.
func roundTrip(ctx context.Context, converter, keep, file string) (*compare.Piece, error) {
	a, err := opendata.ReadScore(file)
	if err != nil {
		return nil, err
	}
	if hasMordent(a) {
		return nil, errMordent
	}
	name := filepath.Base(file)
	back := filepath.Join(keep, strings.TrimSuffix(name, filepath.Ext(name))+".musicxml")
	if _, err := os.Stat(back); err != nil {
		if err := convert(ctx, converter, file, back); err != nil {
			return nil, err
		}
	}
	b, err := opendata.ReadScore(back)
	if err != nil {
		return nil, err
	}
	p := compare.Scores(name, compare.Side{Score: a}, compare.Side{Score: b})
	return &p, nil
}

// convert writes a score anew with a converter.
func convert(ctx context.Context, converter, from, to string) error {
	ctx, cancel := context.WithTimeout(ctx, 2*time.Minute)
	defer cancel()
	run := exec.CommandContext(ctx, converter, "-o", to, from)
	run.Env = append(os.Environ(), "QT_QPA_PLATFORM=offscreen")
	if message, err := run.CombinedOutput(); err != nil {
		return fmt.Errorf("converting: %w: %.200s", err, message)
	}
	return nil
}

func hasMordent(s *score.Score) bool {
	return slices.ContainsFunc(s.Notes, func(n score.Note) bool {
		return slices.ContainsFunc(n.Ornaments, func(o score.Ornament) bool { return strings.HasSuffix(o.Kind, "mordent") })
	})
}
