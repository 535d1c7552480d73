package opendata

import (
	"archive/zip"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
)

var (
	noteElement = regexp.MustCompile(`(?s)<note(?:\s[^>]*)?>.*?</note>`)
	noteID      = regexp.MustCompile(`^<note\b[^>]*\bid="n([^"]+)"`)
	fingerings  = regexp.MustCompile(`(?s)\s*<fingering\b[^>]*?(?:/>|>.*?</fingering>)`)
	noTechnical = regexp.MustCompile(`\s*<technical>\s*</technical>`)
	noNotations = regexp.MustCompile(`\s*<notations>\s*</notations>`)
)

// readScore reads the score beside a table.
func (p *Piece) readScore(dir string) error {
	path := filepath.Join(dir, p.Name+".mxl")
	text, err := unpacked(path)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	p.text, p.row = text, nil
	rows := map[string]int{}
	for i := range p.Rows {
		rows[p.Rows[i].note] = i
	}
	for _, n := range noteElement.FindAllString(text, -1) {
		at := -1
		if id := noteID.FindStringSubmatch(n); id != nil {
			if r, known := rows[id[1]]; known {
				at = r
			}
		}
		p.row = append(p.row, at)
	}
	return p.readLines()
}

// readLines takes the score, without its digits, up to where fingers are suggested, and keeps the lines of its two
// hands as the engine is asked about them: with slurs, pedal, touch, tempo and the strokes that signs add. Notes bear
// the number of their row; those of none, numbers beyond all rows.
func (p *Piece) readLines() error {
	w := p.Prepare(p.Without(-1), policies.Default(), effort.Delivered())
	for _, stage := range pipeline.Stages {
		if stage.Name == "suggest" {
			break
		}
		if err := stage.Run(w); err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
	}
	p.Lines = [2][]fingering.Note{}
	suggest.EachLine(w.SuggestInput(), func(_ int, h score.Hand, notes []fingering.Note) {
		for _, n := range notes {
			if n.ID < len(p.row) && p.row[n.ID] >= 0 {
				n.ID = p.row[n.ID]
			} else {
				n.ID += len(p.Rows)
			}
			p.Lines[fingering.HandOf(h)] = append(p.Lines[fingering.HandOf(h)], n)
		}
	})
	return nil
}

// Row gives the row of a note of a line; for strokes that signs add an empty one.
func (p *Piece) Row(id int) *Row {
	if id >= len(p.Rows) {
		return &Row{}
	}
	return &p.Rows[id]
}

// unpacked gives the score in a packed file.
func unpacked(path string) (string, error) {
	z, err := zip.OpenReader(path)
	if err != nil {
		return "", err
	}
	defer z.Close()
	for _, f := range z.File {
		if !strings.HasSuffix(f.Name, ".musicxml") {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return "", err
		}
		defer r.Close()
		data, err := io.ReadAll(r)
		return string(data), err
	}
	return "", fmt.Errorf("there is no score in it")
}

// Without gives the score without digits; with hide 0 to 4 only the clean digits of that fifth are taken out. It does
// what tools/agreement.py does to prepare a run.
func (s *Piece) Without(hide int) []byte {
	k := -1
	return []byte(noteElement.ReplaceAllStringFunc(s.text, func(n string) string {
		k++
		if hide >= 0 {
			if at := s.row[k]; at < 0 || !s.Rows[at].Clean || !s.Rows[at].Hidden[hide] {
				return n
			}
		}
		return noNotations.ReplaceAllString(noTechnical.ReplaceAllString(fingerings.ReplaceAllString(n, ""), ""), "")
	}))
}

// Printed gives the score with its digits.
func (s *Piece) Printed() []byte { return []byte(s.text) }

// Run takes a score through the whole program with a table of weights. Weights have no sum: nothing
// is kept.
func (s *Piece) Run(data []byte, policy *policies.Policy, weights *effort.Weights) (*pipeline.PieceRun, error) {
	w := s.Prepare(data, policy, weights)
	return w, pipeline.RunPiece(w)
}

// Answers gives what the program says of each row: the finger, the next best, and the confidence in ten-thousandths
// (-1: none). Rows that are no note of a hand have finger 0.
func (s *Piece) Answers(w *pipeline.PieceRun) []Answer {
	out := make([]Answer, len(s.Rows))
	for i := range w.Result.Notes {
		n := &w.Result.Notes[i]
		if n.N >= len(s.row) || s.row[n.N] < 0 {
			continue
		}
		a := &out[s.row[n.N]]
		a.Finger, a.Confidence = fingering.Finger(n.Finger), -1
		if n.Confidence != nil {
			a.Confidence = w.Suggestion.Notes[n.N].Confidence
		}
		for _, o := range n.Alternatives {
			if o.Finger != n.Finger {
				a.Other = fingering.Finger(o.Finger)
				break
			}
		}
	}
	return out
}

// Answer is what the program says of a row.
type Answer struct {
	Finger, Other fingering.Finger
	Confidence    int
}

// RowOf gives the row of a note of the score, nil where it has none.
func (s *Piece) RowOf(note int) *Row {
	if note >= len(s.row) || s.row[note] < 0 {
		return nil
	}
	return &s.Rows[s.row[note]]
}

// Prepare gives a score ready for its run through the stages.
func (s *Piece) Prepare(data []byte, policy *policies.Policy, weights *effort.Weights) *pipeline.PieceRun {
	return &pipeline.PieceRun{Data: data, Policy: policy, Weights: pipeline.NewWeights(weights, ""),
		Piece: &corpus.Piece{ID: s.Name, Score: s.Name + ".musicxml", Scoring: corpus.TwoHands}}
}
