package hands

import (
	"context"
	"fmt"
	"hash/fnv"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	stage "fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/pipeline/4_stages/14_redistribute"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
)

func signsCommand() *cobra.Command {
	var policy string
	var list, only bool
	c := &cobra.Command{
		Use:   "signs PATH...",
		Short: "hold the hands and what is offered against the hand signs that editions print",
		Long: `signs looks at every place where a hand sign gives notes to the other hand than their staff's, in the scores of the collections and
folders named. It hides the signs (they count as plain words), works out hands and redistributions again, and counts the places that are
known then (the hand is told from the music) or offered (a redistribution to that hand): of the notes struck at the sign, or of all that it
names, one half or more. It tells so by kind of place and by folds of whole composers, and what is offered where no sign stands. With
the signs read as they are it counts the notes that are not given to the hand named, and what is offered back.

EXIT STATUS
  0  measured
  2  the work could not be done, or a sign that was read is not followed`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := policies.Open(policy, ".")
			if err != nil {
				return err
			}
			return measureSigns(cmd.Context(), cmd.OutOrStdout(), args, p, list, only)
		},
	}
	c.Flags().StringVar(&policy, "policy", "default", "policy file or shipped style")
	c.Flags().BoolVar(&list, "list", false, "tell every place")
	c.Flags().BoolVar(&only, "only", false, "leave out scores without a sign: what is offered in them is not counted then")
	return c
}

// Kinds of place, by what the notes at a sign are in the music.
const (
	placeSweep    = "sweep"
	placeCrossing = "crossing over"
	placeOwnSide  = "under the free hand"
	placeTurns    = "by turns"
	placeOther    = "other"
)

var placeKinds = []string{placeSweep, placeCrossing, placeOwnSide, placeTurns, placeOther}

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
	name          string
	places        []signPlace
	notes         int
	offers        map[string]int // where no sign stands, by reason
	lost, back    int            // notes not given to the hand named; notes offered back
	err           error
	redistributed int
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

func foldOf(composer string) int {
	h := fnv.New32a()
	h.Write([]byte(composer))
	return int(h.Sum32() % signFolds)
}

func measureSigns(ctx context.Context, out io.Writer, paths []string, policy *policies.Policy, list, only bool) error {
	var all []signPiece
	for _, path := range paths {
		c, err := corpus.Open(path)
		if err != nil {
			return err
		}
		pieces := make([]signPiece, len(c.Pieces))
		g, ctx := errgroup.WithContext(ctx)
		g.SetLimit(2)
		for i := range c.Pieces {
			if c.Pieces[i].Fault != nil {
				continue
			}
			g.Go(func() error {
				pieces[i] = signsOf(c, &c.Pieces[i], policy, only)
				return ctx.Err()
			})
		}
		if err := g.Wait(); err != nil {
			return err
		}
		all = append(all, pieces...)
	}
	return tellSigns(out, all, list)
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

func signsOf(c *corpus.Collection, piece *corpus.Piece, policy *policies.Policy, only bool) (out signPiece) {
	out = signPiece{name: piece.ID, offers: map[string]int{}}
	w, err := programruns.OfPiece(c, piece, policy)
	if err != nil {
		out.err = err
		return out
	}
	var named []stage.SignedNotes
	err = between(w, "", "read")
	if err == nil {
		named, _ = stage.Signed(w.Score, stage.Scoring{Kind: string(piece.Scoring), Parts: piece.Parts})
		if only && len(named) == 0 {
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
	if len(named) == 0 {
		return out
	}
	read, err := programruns.OfPiece(c, piece, policy)
	if err == nil {
		err = between(read, "", "redistribute")
	}
	if err != nil {
		out.err = err
		return out
	}
	last := map[int]score.Hand{}
	for _, n := range named {
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
	return out
}

// signPlaceOf looks what is known or offered at a place.
func signPlaceOf(w *pipeline.PieceRun, n stage.SignedNotes) signPlace {
	s := w.Score
	p := signPlace{piece: w.Piece.ID, sign: n, fold: foldOf(composerOf(w.Piece.ID)), kind: placeKind(w, n),
		where: fmt.Sprintf("m. %s, staff %d, %s: %q", s.Measures[n.Sign.Measure].Number, n.Sign.Staff, n.Sign.Onset, n.Sign.Text)}
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

// placeKind tells what a place is in the music: by what else its voice plays around it, and by what the hand of its staff strikes and
// holds at the moment.
func placeKind(w *pipeline.PieceRun, n stage.SignedNotes) string {
	s := w.Score
	at := first(s, n.Notes)
	if len(at) == 0 {
		return placeOther
	}
	moment, one := s.At(at[0]), &s.Notes[at[0]]
	low, high := 128, -1
	for _, i := range at {
		low, high = min(low, s.Notes[i].Midi), max(high, s.Notes[i].Midi)
	}
	var around []fingering.Note // of the voice, within two quarters
	others, above, below := 0, 0, 0
	for i := range s.Notes {
		o := &s.Notes[i]
		if o.Part != one.Part || !w.Playing.Plays(i) || o.Grace > 0 || o.TiedFrom >= 0 {
			continue
		}
		t := s.At(i)
		if o.Voice == one.Voice && o.Staff == one.Staff && !t.Less(moment.Sub(score.Frac(2, 1))) && t.Less(moment.Add(score.Frac(2, 1))) {
			around = append(around, fingering.Note{Key: o.Midi, Onset: momentOf(t)})
		}
		if o.HomeStaff != one.HomeStaff || slices.Contains(at, i) || moment.Less(t) || !moment.Less(t.Add(o.Duration)) {
			continue
		}
		others++
		if o.Midi > high {
			above++
		}
		if o.Midi < low {
			below++
		}
	}
	slices.SortStableFunc(around, func(a, b fingering.Note) int { return a.Onset.Compare(b.Onset) })
	steps, same := 0, 0
	for k := 2; k < len(around); k++ {
		if around[k].Onset.Compare(around[k-1].Onset) == 0 {
			continue
		}
		steps++
		if (around[k].Key > around[k-1].Key) == (around[k-1].Key > around[k-2].Key) {
			same++
		}
	}
	inside := n.Sign.Hand == score.Left && above == others || n.Sign.Hand == score.Right && below == others
	outside := n.Sign.Hand == score.Left && below > 0 || n.Sign.Hand == score.Right && above > 0
	switch {
	case steps >= 4 && 3*same >= 2*steps:
		return placeSweep
	case others > 0 && outside:
		return placeCrossing
	case others > 0 && inside:
		return placeOwnSide
	case steps >= 4:
		return placeTurns
	}
	return placeOther
}

func tellSigns(out io.Writer, all []signPiece, list bool) error {
	type count struct{ places, known, offered, atSign int }
	byKind := map[string]*count{}
	var byFold [signFolds]count
	var sum count
	add := func(c *count, p *signPlace) {
		c.places++
		if p.known {
			c.known++
		}
		if p.offered {
			c.offered++
		}
		if p.atSign {
			c.atSign++
		}
	}
	notes, lost, back, failed := 0, 0, 0, 0
	offers := map[string]int{}
	for i := range all {
		piece := &all[i]
		if piece.err != nil {
			failed++
			fmt.Fprintf(out, "left out: %s: %v\n", piece.name, piece.err)
			continue
		}
		notes += piece.notes
		lost += piece.lost
		back += piece.back
		for r, n := range piece.offers {
			offers[r] += n
		}
		for k := range piece.places {
			p := &piece.places[k]
			if byKind[p.kind] == nil {
				byKind[p.kind] = &count{}
			}
			add(byKind[p.kind], p)
			add(&byFold[p.fold], p)
			add(&sum, p)
			if list {
				found := "missed"
				if p.known {
					found = "known"
				} else if p.offered {
					found = "offered, " + p.reason
				}
				fmt.Fprintf(out, "%s: %s: %s, %d notes to the %s hand: %s\n", p.piece, p.where, p.kind, len(p.sign.Notes), p.sign.Sign.Hand, found)
			}
		}
	}
	row := func(name string, c *count) {
		fmt.Fprintf(out, "  %-20s places %4d, known %4d, offered %4d: %s; at the sign itself %s\n", name, c.places, c.known, c.offered,
			figures.Share([2]int{c.known + c.offered, c.places}), figures.Share([2]int{c.atSign, c.places}))
	}
	row("all", &sum)
	for _, kind := range placeKinds {
		if c := byKind[kind]; c != nil {
			row(kind, c)
		}
	}
	for f := range byFold {
		row(fmt.Sprintf("composers, fold %d", f), &byFold[f])
	}
	total := 0
	for _, r := range redistribute.Reasons {
		total += offers[r]
	}
	fmt.Fprintf(out, "offered where no sign stands: %d, %.2f in a thousand of %d notes:", total, 1000*float64(total)/float64(max(notes, 1)), notes)
	for _, r := range redistribute.Reasons {
		fmt.Fprintf(out, " %s %d", r, offers[r])
	}
	fmt.Fprintf(out, "\nsigns read: %d notes not given to the hand named, %d offered back; %d scores left out\n", lost, back, failed)
	if lost+back > 0 {
		return fmt.Errorf("signs are not followed")
	}
	return nil
}
