package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

func main() {
	folder := flag.String("in", "corpus/demo", "the demo collection's folder")
	flag.Parse()
	files, err := composeFolder(*folder)
	if err == nil {
		err = writeFiles(*folder, files)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	fmt.Printf("%d scores written\n", len(files))
}

// scoreFile is a score by its place within the collection.
type scoreFile struct {
	path    string
	content []byte
}

// composeFolder composes every piece of the folder, each followed by its witnesses, in order of name.
func composeFolder(folder string) (files []scoreFile, err error) {
	sources, err := filepath.Glob(filepath.Join(folder, "pieces", "*.piece"))
	if err != nil {
		return nil, fmt.Errorf("compose %s: %w", folder, err)
	}
	if len(sources) == 0 {
		return nil, fmt.Errorf("compose %s: no pieces found\nhint: give the demo collection's folder with -in", folder)
	}
	for _, source := range sources {
		text, err := os.ReadFile(source)
		if err != nil {
			return nil, fmt.Errorf("compose %s: %w", source, err)
		}
		id := strings.TrimSuffix(filepath.Base(source), ".piece")
		composed, err := composePiece(source, id, string(text))
		if err != nil {
			return nil, err
		}
		files = append(files, composed...)
	}
	return files, nil
}

// composePiece gives the score of a piece and those of its witnesses.
func composePiece(name, id, text string) ([]scoreFile, error) {
	piece, err := readPiece(name, id, text)
	if err != nil {
		return nil, err
	}
	score, err := piece.score("", nil)
	if err != nil {
		return nil, fmt.Errorf("compose %s: %w", name, err)
	}
	files := []scoreFile{{"scores/" + id + ".musicxml", score}}
	for i := range piece.Witnesses {
		witness := &piece.Witnesses[i]
		score, err := piece.score(witness.Siglum, witness)
		if err != nil {
			return nil, fmt.Errorf("compose witness %s of %s: %w", witness.Siglum, name, err)
		}
		files = append(files, scoreFile{"witnesses/" + id + "." + witness.Siglum + ".musicxml", score})
	}
	return files, nil
}

func (p *Piece) score(siglum string, witness *Witness) ([]byte, error) {
	if err := p.resolve(siglum); err != nil {
		return nil, err
	}
	return writeScore(p, witness)
}

func writeFiles(folder string, files []scoreFile) error {
	for _, file := range files {
		path := filepath.Join(folder, filepath.FromSlash(file.path))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return fmt.Errorf("write scores: %w", err)
		}
		if err := os.WriteFile(path, file.content, 0o644); err != nil {
			return fmt.Errorf("write scores: %w", err)
		}
	}
	return nil
}
