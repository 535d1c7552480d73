package passed

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/google/renameio/v2"
)

// Store is the folder of passed states of a collection. Beside the states, in
// text/, lies each score as it was passed: git keeps it at no cost, since it
// is the score's own content, and a later comparison can put it back.
type Store struct{ dir string }

// In gives the store of a collection by its folder.
func In(root string) Store { return Store{filepath.Join(root, Folder)} }

// There reports whether anything was ever passed.
func (s Store) There() bool {
	info, err := os.Stat(s.dir)
	return err == nil && info.IsDir()
}

func (s Store) state(piece string) string { return filepath.Join(s.dir, piece+".json") }

// text names the kept score by its content: while a piece is passed anew, the
// old one stays until the new state is in place.
func (s Store) text(piece, sum, score string) string {
	return filepath.Join(s.dir, "text", piece+"."+sum[:min(8, len(sum))]+path.Ext(score))
}

// Read gives the state of a piece, nil where it was never passed.
func (s Store) Read(piece string) (*State, error) {
	data, err := os.ReadFile(s.state(piece))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading the passed state: %w", err)
	}
	out, err := Decode(path.Join(Folder, piece+".json"), data)
	if err == nil && out.Piece != piece {
		return nil, fmt.Errorf("the passed state %s/%s.json is of the piece %q\n"+
			"hint: rename the file back", Folder, piece, out.Piece)
	}
	return out, err
}

// Text gives the score as passed, nil where it is not kept.
func (s Store) Text(st *State) []byte {
	data, err := os.ReadFile(s.text(st.Piece, st.ScoreSum, st.Score))
	if err != nil {
		return nil
	}
	return data
}

// Write puts a state in place, with its score. Each file is whole at every
// moment, and at every moment the state that lies there has its text.
func (s Store) Write(st *State, text []byte) error {
	data, err := Encode(st)
	if err != nil {
		return err
	}
	if _, err := Decode(st.Piece, data); err != nil { // what cannot be read is not written
		return fmt.Errorf("writing the passed state of %s: %w", st.Piece, err)
	}
	if err := os.MkdirAll(filepath.Join(s.dir, "text"), 0o755); err != nil {
		return fmt.Errorf("making the folder of passed states: %w", err)
	}
	kept := s.text(st.Piece, st.ScoreSum, st.Score)
	if old, err := os.ReadFile(kept); err != nil || !slices.Equal(old, text) {
		if err := renameio.WriteFile(kept, text, 0o644); err != nil {
			return fmt.Errorf("keeping the score of %s: %w", st.Piece, err)
		}
	}
	if err := renameio.WriteFile(s.state(st.Piece), data, 0o644); err != nil {
		return fmt.Errorf("writing the passed state of %s: %w", st.Piece, err)
	}
	return s.forget(st.Piece, filepath.Base(kept))
}

// forget takes out texts of earlier states of a piece.
func (s Store) forget(piece, keep string) error {
	entries, err := os.ReadDir(filepath.Join(s.dir, "text"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("tidying the passed scores: %w", err)
	}
	for _, e := range entries {
		stem := strings.TrimSuffix(e.Name(), path.Ext(e.Name()))
		owner, sum, ok := cutLast(stem)
		if !ok || owner != piece || len(sum) != 8 || e.Name() == keep {
			continue
		}
		if err := os.Remove(filepath.Join(s.dir, "text", e.Name())); err != nil {
			return fmt.Errorf("tidying the passed scores: %w", err)
		}
	}
	return nil
}

func cutLast(stem string) (before, after string, ok bool) {
	k := strings.LastIndexByte(stem, '.')
	if k < 0 {
		return "", "", false
	}
	return stem[:k], stem[k+1:], true
}

// Pieces lists the pieces that were passed, sorted.
func (s Store) Pieces() ([]string, error) {
	entries, err := os.ReadDir(s.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading the folder of passed states: %w", err)
	}
	var out []string
	for _, e := range entries {
		if id, ok := strings.CutSuffix(e.Name(), ".json"); ok && !e.IsDir() && !strings.HasPrefix(e.Name(), ".") {
			out = append(out, id)
		}
	}
	slices.Sort(out) // file names sort otherwise, by their ".json"
	return out, nil
}

// Prune takes out the states, and texts, of pieces that are not in the list,
// and gives their names.
func (s Store) Prune(pieces []string) ([]string, error) {
	there, err := s.Pieces()
	if err != nil {
		return nil, err
	}
	var out []string
	for _, p := range there {
		if slices.Contains(pieces, p) {
			continue
		}
		if err := os.Remove(s.state(p)); err != nil {
			return out, fmt.Errorf("taking out a passed state: %w", err)
		}
		if err := s.forget(p, ""); err != nil {
			return out, err
		}
		out = append(out, p)
	}
	return out, nil
}
