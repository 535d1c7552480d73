package opendata

import (
	"archive/zip"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"strings"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
)

// Program is the score of a piece of the fingered material, as the program gets it.
type Program struct {
	*Piece
	text string
	row  []int // note element of the score → row of the table, -1 for a rest
}

var (
	noteElement = regexp.MustCompile(`(?s)<note(?:\s[^>]*)?>.*?</note>`)
	noteID      = regexp.MustCompile(`^<note\b[^>]*\bid="n([^"]+)"`)
	fingerings  = regexp.MustCompile(`(?s)\s*<fingering\b[^>]*?(?:/>|>.*?</fingering>)`)
	noTechnical = regexp.MustCompile(`\s*<technical>\s*</technical>`)
	noNotations = regexp.MustCompile(`\s*<notations>\s*</notations>`)
)

// readProgram reads the score beside a table.
func readProgram(dir string, p *Piece) (*Program, error) {
	path := filepath.Join(dir, p.Name+".mxl")
	text, err := unpacked(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	s := &Program{Piece: p, text: text}
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
		s.row = append(s.row, at)
	}
	return s, nil
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
func (s *Program) Without(hide int) []byte {
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

// Run takes a score through the whole program with a table of weights. Weights have no sum:
// nothing is kept.
func (s *Program) Run(data []byte, policy *policies.Policy, weights *effort.Weights) (*pipeline.PieceRun, error) {
	w := &pipeline.PieceRun{Data: data, Policy: policy, Weights: &pipeline.Weights{Table: weights},
		Piece: &corpus.Piece{ID: s.Name, Score: s.Name + ".musicxml", Scoring: corpus.TwoHands}}
	return w, pipeline.RunPiece(w)
}

// Answers gives what the program says of each row: the finger, the next best, and the confidence in percent (-1:
// none). Rows that are no note of a hand have finger 0.
func (s *Program) Answers(w *pipeline.PieceRun) []Answer {
	out := make([]Answer, len(s.Rows))
	for i := range w.Result.Notes {
		n := &w.Result.Notes[i]
		if n.N >= len(s.row) || s.row[n.N] < 0 {
			continue
		}
		a := &out[s.row[n.N]]
		a.Finger, a.Confidence = fingering.Finger(n.Finger), -1
		if n.Confidence != nil {
			a.Confidence = int(*n.Confidence)
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

// ReadPrograms reads the scores of all pieces.
func ReadPrograms(dir string, pieces []*Piece) ([]*Program, error) {
	out := make([]*Program, len(pieces))
	for i, p := range pieces {
		var err error
		if out[i], err = readProgram(dir, p); err != nil {
			return nil, err
		}
	}
	return out, nil
}
