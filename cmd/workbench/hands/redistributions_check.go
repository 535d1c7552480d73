package hands

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"regexp"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/outsidechecks"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

// redistributionsCheck looks whether editions with redistributions keep what is promised of them.
type redistributionsCheck struct {
	*outsidechecks.Checks
	cross                                 *policies.Policy
	pieces, touched, again, taken, stayed int // of the editions as written and crossed over
	validSources, invalid, broken         int
}

// newRedistributionsCheck opens the checks; base is the policy of which both ways of writing are taken.
func newRedistributionsCheck(shared, base string, out io.Writer) (*redistributionsCheck, error) {
	dir, err := os.MkdirTemp("", "redistributions")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "policy.yaml")
	text := "extends: " + base + "\nredistribute: {notation: other-staff}\n"
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		return nil, fmt.Errorf("writing a policy: %w", err)
	}
	cross, err := policies.Load(file)
	if err != nil {
		return nil, err
	}
	checks, err := outsidechecks.Open(shared, out)
	return &redistributionsCheck{Checks: checks, cross: cross}, err
}

var (
	staffOrStem = regexp.MustCompile(`<staff>\d</staff>|<stem>(up|down)</stem>`)
	recordText  = regexp.MustCompile(`(?s)<miscellaneous-field name="fingerproof-record">.*?</miscellaneous-field>`)
)

// butForStaves gives the text of an edition without staves, stems and its record.
func butForStaves(edition []byte) string {
	doc, err := source.Open("edition", edition, source.DefaultLimits())
	if err != nil {
		return err.Error()
	}
	return recordText.ReplaceAllString(staffOrStem.ReplaceAllString(doc.Text, ""), "")
}

// piece checks a piece that has redistributions, written both ways.
func (c *redistributionsCheck) piece(of *pipeline.PieceRun) error {
	c.pieces++
	valid := c.IsValid(of.Data)
	if valid {
		c.validSources++
	}
	var editions [2][]byte
	for k, policy := range []*policies.Policy{of.Policy, c.cross} {
		run := func(data []byte) (*pipeline.PieceRun, error) {
			w := &pipeline.PieceRun{Piece: of.Piece, Data: data, Policy: policy, Weights: of.Weights}
			w.Edition = filepath.Base(of.Piece.Score)
			return w, pipeline.RunPiece(w)
		}
		w, err := run(of.Data)
		if err != nil {
			return err
		}
		editions[k] = w.EditionData
		name := of.Piece.ID + map[int]string{0: ", as written", 1: ", on the other staff"}[k]
		back, err := run(w.EditionData)
		same := err == nil && bytes.Equal(back.EditionData, w.EditionData) &&
			reflect.DeepEqual(back.Redistributions, w.Redistributions)
		c.fails(&c.again, same, "%s: read back, something else is offered or marked", name)
		taken, err := source.TakeBack(w.EditionData, w.Record, source.DefaultLimits())
		c.fails(&c.taken, err == nil && bytes.Equal(taken, of.Data), "%s: taken back, other bytes", name)
		c.fails(&c.invalid, !valid || c.IsValid(w.EditionData), "%s: not valid", name)
	}
	c.fails(&c.touched, c.IsUntouched(of.Piece, of.Data, editions[0]), "%s: text touched", of.Piece.ID)
	c.fails(&c.stayed, butForStaves(editions[0]) == butForStaves(editions[1]),
		"%s: more than staves and stems differ on the other staff", of.Piece.ID)
	return nil
}

// fails counts a promise that is broken and says which.
func (c *redistributionsCheck) fails(n *int, good bool, format string, a ...any) {
	if !good {
		*n++
		c.broken++
		c.Say(format, a...)
	}
}

// result prints what was found and gives the error where a promise is broken.
func (c *redistributionsCheck) result() error {
	c.Say("  %d pieces with redistributions, two editions each: text touched %d, other than staves and stems %d, "+
		"read back otherwise %d, not taken back %d, not valid %d (of the %d whose score is)",
		c.pieces, c.touched, c.stayed, c.again, c.taken, c.invalid, c.validSources)
	if c.broken > 0 {
		return measurement.Failed("%d promises are broken", c.broken)
	}
	return nil
}
