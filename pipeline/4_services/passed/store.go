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

	"fingerproof/corpus/files"
	"fingerproof/corpus/source"
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
	data, err := files.Read(s.state(piece), files.StateLimit)
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

// Text gives the score as passed, nil where it is not kept. What is kept and has another sum than the state says is
// an error: nothing may be compared with it.
func (s Store) Text(st *State) ([]byte, error) {
	path := s.text(st.Piece, st.ScoreSum, st.Score)
	data, err := files.ReadIfThere(path, files.ScoreLimit)
	if err != nil {
		return nil, fmt.Errorf("reading the score as it was passed: %w", err)
	}
	if data != nil && source.Sum(data) != st.ScoreSum {
		return nil, fmt.Errorf("%s/text/%s is not the score that was passed: its sum is another one\n"+
			"hint: take the file back from git, or pass the piece again", Folder, filepath.Base(path))
	}
	return data, nil
}

// KeepAgain puts the score of a passed state back where it is not kept any more, or where something else lies in its place,
// and says why; "" where it is there.
func (s Store) KeepAgain(st *State, text []byte) (why string, err error) {
	switch there, err := s.Text(st); {
	case there != nil:
		return "", nil
	case err == nil:
		why = "nothing lay there any more"
	default:
		why = "what lay there was not the score that was passed"
	}
	if source.Sum(text) != st.ScoreSum {
		return "", fmt.Errorf("the score of %s is not the one that was passed", st.Piece)
	}
	if err := os.MkdirAll(filepath.Join(s.dir, "text"), 0o755); err != nil {
		return "", fmt.Errorf("making the folder of passed states: %w", err)
	}
	if err := files.Write(s.text(st.Piece, st.ScoreSum, st.Score), text); err != nil {
		return "", fmt.Errorf("keeping the score of %s: %w", st.Piece, err)
	}
	return why, nil
}

// Write puts a state in place, with its score. was is the state as it was read before, nil for none: where another
// one stands there by now, or one that cannot be read, nothing is written. Each file is whole at every moment, and at
// every moment the state that lies there has its text.
func (s Store) Write(st, was *State, text []byte) error {
	data, err := Encode(st)
	if err != nil {
		return err
	}
	if _, err := Decode(st.Piece, data); err != nil { // what cannot be read is not written
		return fmt.Errorf("writing the passed state of %s: %w", st.Piece, err)
	}
	now, err := s.unchanged(st.Piece, was)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Join(s.dir, "text"), 0o755); err != nil {
		return fmt.Errorf("making the folder of passed states: %w", err)
	}
	kept := s.text(st.Piece, st.ScoreSum, st.Score)
	if old, err := files.Read(kept, files.ScoreLimit); err != nil || !slices.Equal(old, text) {
		if err := files.Write(kept, text); err != nil {
			return fmt.Errorf("keeping the score of %s: %w", st.Piece, err)
		}
	}
	if err := files.Replace(s.state(st.Piece), now, data); err != nil {
		return fmt.Errorf("writing the passed state of %s: %w", st.Piece, err)
	}
	return s.forget(st.Piece, filepath.Base(kept))
}

// unchanged gives the bytes of a piece's state, nil for none, if they still say what was read.
func (s Store) unchanged(piece string, was *State) ([]byte, error) {
	now, err := files.ReadIfThere(s.state(piece), files.StateLimit)
	if err != nil {
		return nil, fmt.Errorf("reading the passed state: %w", err)
	}
	if now == nil && was == nil {
		return nil, nil
	}
	changed := fmt.Errorf("writing the passed state of %s: %w", piece, files.Changed{Path: s.state(piece)})
	if now == nil || was == nil {
		return nil, changed
	}
	there, err := Decode(path.Join(Folder, piece+".json"), now)
	if err != nil {
		return nil, err
	}
	a, err := Encode(there)
	if err != nil {
		return nil, err
	}
	if b, err := Encode(was); err != nil || !slices.Equal(a, b) {
		return nil, changed
	}
	return now, nil
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
