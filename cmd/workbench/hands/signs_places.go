package hands

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strings"

	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	stage "fingerproof/pipeline/4_stages/06_hands"
)

// signPlace is a sign that gives notes to the hand of the other staff, and what is made of it where it is hidden.
type signPlace struct {
	piece, kind    string
	fold           int
	sign           stage.SignedNotes
	known, offered bool
	atSign         bool // found by the notes struck at the sign
	reason         string
	where          string
}

// signPiece is what a score says.
type signPiece struct {
	name       string
	places     []signPlace
	notes      int
	offers     map[string]int // where no sign stands, by reason
	lost, back int            // notes not given to the hand named; notes offered back
	err        error
}

// piece looks at every sign of a score, hidden and read.
func (m *signs) piece(c *corpus.Collection, piece *corpus.Piece) (out signPiece) {
	out = signPiece{name: piece.ID, offers: map[string]int{}}
	w, err := programruns.OfPiece(c, piece, m.policy)
	if err != nil {
		out.err = err
		return out
	}
	var named []stage.SignedNotes
	err = between(w, "", "read")
	if err == nil {
		named = printedSigns(w.Score, piece)
		if m.only && len(named) == 0 {
			return out
		}
		hideSigns(w.Score)
		err = between(w, "read", "redistribute")
	}
	if err != nil {
		out.err = err
		return out
	}
	for i := range w.Score.Notes {
		if w.Playing.Plays(i) {
			out.notes++
		}
	}
	signed := map[int]bool{} // measures with a sign
	for _, n := range named {
		signed[n.Sign.Measure] = true
		if n.Other {
			out.places = append(out.places, signPlaceOf(w, n))
		}
	}
	for k := range w.Redistributions {
		r := &w.Redistributions[k]
		if !signed[w.Score.Notes[r.Notes[0]].Measure] {
			out.offers[r.Reason]++
		}
	}
	if len(named) > 0 {
		out.err = m.followed(c, piece, named, &out)
	}
	return out
}

// printedSigns lists the signs that stand in a score, those in parentheses, which are offered by an editor, too.
func printedSigns(s *score.Score, piece *corpus.Piece) []stage.SignedNotes {
	open := *s
	open.Directions = slices.Clone(s.Directions)
	for k := range open.Directions {
		if d := &open.Directions[k]; s.Offered(d) {
			d.Text = strings.Trim(strings.TrimSpace(d.Text), "()")
		}
	}
	named, _ := stage.Signed(&open, stage.Scoring{Kind: string(piece.Scoring), Parts: piece.Parts})
	return named
}

// followed reads a score with its signs and counts the notes that are not given to the hand named, or are offered
// back.
func (m *signs) followed(c *corpus.Collection, piece *corpus.Piece, named []stage.SignedNotes, out *signPiece) error {
	read, err := programruns.OfPiece(c, piece, m.policy)
	if err == nil {
		err = between(read, "", "redistribute")
	}
	if err != nil {
		return err
	}
	last := map[int]score.Hand{}
	for _, n := range named {
		if s := read.Score; slices.ContainsFunc(s.Directions, func(d score.Direction) bool {
			return s.Offered(&d) && d.Measure == n.Sign.Measure && d.Onset.Equal(n.Sign.Onset) && d.Hand == n.Sign.Hand
		}) {
			continue // it offers, and says nothing of who plays the text as written
		}
		for _, i := range n.Notes {
			last[i] = n.Sign.Hand
		}
	}
	for i, h := range last { // any order: only counted
		if read.Playing.Hand(i) != h {
			out.lost++
		}
		for k := range read.Redistributions {
			if r := &read.Redistributions[k]; r.To != h && slices.Contains(r.Notes, i) {
				out.back++
			}
		}
	}
	return nil
}

// hideSigns makes plain words of the hand signs.
func hideSigns(s *score.Score) {
	for k := range s.Directions {
		if d := &s.Directions[k]; d.Kind == score.HandSign {
			d.Kind, d.Hand = score.Words, score.NoHand
		}
	}
}

// between runs the stages of a piece after one of them ("" for the beginning) and up to another.
func between(w *pipeline.PieceRun, after, last string) error {
	on := after == ""
	for _, s := range pipeline.Stages {
		if on {
			if err := s.Run(w); err != nil {
				return err
			}
		}
		if s.Name == last {
			return nil
		}
		on = on || s.Name == after
	}
	return nil
}

// signPlaceOf looks what is known or offered at a place.
func signPlaceOf(w *pipeline.PieceRun, n stage.SignedNotes) signPlace {
	s := w.Score
	measure := s.Measures[n.Sign.Measure].Number
	p := signPlace{
		piece: w.Piece.ID, sign: n, fold: foldOf(composerOf(w.Piece.ID)), kind: placeKind(w, n),
		where: fmt.Sprintf("m. %s, staff %d, %s: %q", measure, n.Sign.Staff, n.Sign.Onset, n.Sign.Text),
	}
	at := first(s, n.Notes)
	half := func(notes []int, has func(i int) bool) bool {
		k := 0
		for _, i := range notes {
			if has(i) {
				k++
			}
		}
		return 2*k >= len(notes)
	}
	hand := func(i int) bool { return w.Playing.Hand(i) == n.Sign.Hand }
	p.atSign = half(at, hand)
	p.known = p.atSign || half(n.Notes, hand)
	for k := range w.Redistributions {
		r := &w.Redistributions[k]
		has := func(i int) bool { return hand(i) || r.To == n.Sign.Hand && slices.Contains(r.Notes, i) }
		if !p.known && (half(at, has) || half(n.Notes, has)) {
			p.offered, p.reason, p.atSign = true, r.Reason, half(at, has)
		}
	}
	return p
}

// first lists the notes struck first.
func first(s *score.Score, notes []int) (out []int) {
	for _, i := range notes {
		switch {
		case s.Notes[i].TiedFrom >= 0:
		case len(out) == 0 || s.At(i).Less(s.At(out[0])):
			out = append(out[:0], i)
		case s.At(i).Equal(s.At(out[0])):
			out = append(out, i)
		}
	}
	return out
}

// composerOf is the composer of a piece as file names spell it: up to the work.
func composerOf(id string) string {
	name, rest, two := strings.Cut(id, "__")
	if two && name == "polish" {
		words := strings.SplitN(rest, "-", 3)
		return strings.Join(words[:min(len(words), 2)], "-")
	}
	if two {
		return name
	}
	name, _, _ = strings.Cut(id, "_")
	return name
}

const signFolds = 5

// foldOf puts a composer into one of the folds.
func foldOf(composer string) int {
	h := fnv.New32a()
	h.Write([]byte(composer))
	return int(h.Sum32() % signFolds)
}
