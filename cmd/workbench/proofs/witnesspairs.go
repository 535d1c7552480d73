package proofs

import (
	"path/filepath"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
)

// witnessPair is two witnesses of a work: their sigla and files.
type witnessPair struct{ work, a, b, fileA, fileB string }

// read reads the scores of both witnesses.
func (p witnessPair) read() (a, b *score.Score, err error) {
	if a, err = opendata.ReadScore(p.fileA); err != nil {
		return nil, nil, err
	}
	b, err = opendata.ReadScore(p.fileB)
	return a, b, err
}

// witnessPairs lists every pair of witnesses of one work, in the order of the index.
func witnessPairs(dir string) ([]witnessPair, error) {
	rows, err := opendata.ReadTable(filepath.Join(dir, "INDEX.tsv"))
	if err != nil {
		return nil, err
	}
	var out []witnessPair
	for i, r := range rows {
		for _, q := range rows[i+1:] {
			if q["work"] == r["work"] {
				a, b := filepath.Join(dir, r["file"]), filepath.Join(dir, q["file"])
				out = append(out, witnessPair{r["work"], r["witness"], q["witness"], a, b})
			}
		}
	}
	return out, nil
}
