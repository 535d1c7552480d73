package main

import (
	"bytes"
	"encoding/gob"
	"errors"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/pipeline/6_checks/check"
)

// workedOut works a piece out to be compared; done is what the comparison comes to where that is known already: an
// earlier check's from the same inputs, or the problem for which it cannot be worked out. k may be nil.
func (k *knownPieces) workedOut(job pipeline.Job, piece *corpus.Piece) (w *pipeline.PieceRun, done *check.Piece) {
	var earlier *check.Piece
	if k != nil {
		job.Known = func(w *pipeline.PieceRun) (known bool, err error) {
			earlier, err = k.checked(w)
			return earlier != nil, err
		}
	}
	w, err := job.Work(piece)
	if err != nil {
		return w, &check.Piece{ID: piece.ID, Problem: inFile(job.Collection, piece, plain(err))}
	}
	return w, earlier
}

// checked gives what an earlier check of a piece came to from the same inputs, nil where there was none. Its error is
// the piece's.
func (k *knownPieces) checked(w *pipeline.PieceRun) (*check.Piece, error) {
	var data []byte
	if entry := k.kept(k.noted(w)); entry != nil {
		data = entry.Part(0)
	}
	out := &check.Piece{}
	if data == nil || gob.NewDecoder(bytes.NewReader(data)).Decode(out) != nil {
		return nil, k.mustBeKnown(w.Piece.ID)
	}
	if k.part != nil {
		k.put(w, [][]byte{data}, nil)
	}
	return out, nil
}

// keepChecked keeps what the check of a piece came to.
func (k *knownPieces) keepChecked(w *pipeline.PieceRun, out *check.Piece) {
	var b bytes.Buffer
	err := gob.NewEncoder(&b).Encode(out)
	k.put(w, [][]byte{b.Bytes()}, err)
}

// leaveChecked leaves the part of a shard whose pieces were checked.
func leaveChecked(known *knownPieces, dir string, pieces []check.Piece) error {
	notes := 0
	for i := range pieces {
		var failed error
		if pieces[i].Problem != "" {
			failed = errors.New(pieces[i].Problem)
		}
		known.record(pieces[i].ID, failed)
		notes += pieces[i].Notes
	}
	return known.leave(dir, notes)
}
