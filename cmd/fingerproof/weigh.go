package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"fingerproof/corpus/files"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/19_results"
	"fingerproof/reports/engrave"
	"fingerproof/reports/personal"

	"github.com/spf13/cobra"
)

// weighOptions are those of the command weigh.
type weighOptions struct {
	workOptions
	pieces   pieceChoice
	page     string
	excerpts int
}

func newWeighCommand(env *environment) *cobra.Command {
	var o weighOptions
	cmd := &cobra.Command{
		Use:   "weigh PATH",
		Short: "Hold an editor's own fingerings against the best for most hands, before they are printed",
		Long: `weigh reads PATH and finds the passages in which the digits that an editor drafted, decided or typed are other
than is best for the hands of the policy. It lists those that may be slips, those that suit their maker rather than
most (as the rule personal-fingering reports them), then those that few editors would print and that gain
something; of the rest it says how many there are, and the page shows them.

With --page FILE it writes the page of personal choices: each passage engraved in both fingerings, what each gains
and costs by aim, for octave, ninth and tenth hands, supple and stiff, at full tempo and in practice, with sums by
piece and aim. There it is decided by keys: keep, keep with a reason for the commentary, take the one for most
hands, ask. With --piece it is the page of a piece, else of the collection.

How much a passage may cost more before it is called personal the policy says (lint_options.personal); what a
stricter one would bring up, ` + "`fingerproof check PATH --policy OTHER`" + ` shows over all that was passed.
` + exitStatusHelp,
		Example: "  fingerproof weigh collection.yaml\n  fingerproof weigh collection.yaml --piece op7-nocturne --page choices.html",
		Args:    onePath("weigh"),
		RunE: o.profile.around(func(cmd *cobra.Command, args []string) error {
			job, err := o.job(args[0])
			if err == nil {
				err = o.pieces.keep(job.Collection)
			}
			if err != nil {
				return err
			}
			return o.weigh(cmd.Context(), env, job)
		}),
	}
	o.addInputs(cmd)
	o.pieces.add(cmd.Flags(), "weigh")
	cmd.Flags().StringVar(&o.page, "page", "", "write the page of personal choices into this file")
	cmd.Flags().IntVar(&o.excerpts, "excerpts", 100, "passages of a piece drawn on the page, the most personal ones; 0 draws none")
	return cmd
}

func (o *weighOptions) weigh(ctx context.Context, env *environment, job pipeline.Job) error {
	var worker *engrave.Worker
	notation := ""
	if o.page != "" && o.excerpts > 0 {
		press, err := openPress(ctx, env, ".")
		if err == nil {
			defer func() { _ = press.Close(context.WithoutCancel(ctx)) }()
			worker, err = press.Worker(ctx)
		}
		if err != nil {
			notation = "This page comes without notation: " + err.Error()
			env.complain("the page comes without notation: %v", err)
		}
	}
	var pieces []*personal.Piece
	failed, without, policy := 0, 0, ""
	bar := newProgress(env, "", len(job.Collection.Pieces), time.Now)
	for i := range job.Collection.Pieces {
		w, err := job.Open(&job.Collection.Pieces[i])
		if err == nil {
			err = pipeline.RunUntil(w, "beside")
		}
		bar.clear()
		if err != nil {
			failed++
			bar.step(job.Collection.Pieces[i].ID, 0)
			env.complain("%s", inFile(job.Collection, &job.Collection.Pieces[i], plain(err)))
			continue
		}
		policy = w.Policy.Title()
		p := personal.Of(w)
		p.Notation = notation
		if worker != nil {
			if err := p.Draw(ctx, worker, w, o.excerpts); err != nil {
				return err
			}
		}
		pieces = append(pieces, p)
		for _, line := range notWeighed(w) {
			env.complain("%s: %s", p.ID, line)
		}
		if p.Editors {
			listPersonal(env, p)
		} else {
			fmt.Fprintf(env.Stdout, "%s: no digit there is an editor's, so nothing is weighed\n", p.ID)
			without++
		}
		bar.step(p.ID, len(w.Score.Notes))
	}
	if without > 0 {
		env.complain("%s without a digit of an editor's\nhint: text_digits: editor in the manifest says that those of the text are; "+
			"`fingerproof init --draft INITIALS` begins with an editor's own", wording.Count(without, "piece"))
	}
	if err := o.writePage(env, job, policy, pieces); err != nil {
		return err
	}
	if failed > 0 {
		return errors.New(wording.Count(failed, "piece") + " could not be worked on")
	}
	return nil
}

// notWeighed says which of an editor's digits are not among those that are weighed, as a run says what became of them.
func notWeighed(w *pipeline.PieceRun) (out []string) {
	if said := wrongEnding(w.Piece.Score, w.Data); said != "" {
		out = append(out, said)
	}
	if said := w.RecordWords(); said != "" {
		out = append(out, said)
	}
	var lost []state.Unplaced
	for _, u := range w.Decided.Unplaced {
		lost = append(lost, state.Unplaced{By: u.Decision.By, Measure: u.Ref.Printed, Pitch: u.Ref.Pitch})
	}
	if said := unplacedWords(lost); said != "" {
		out = append(out, "not weighed: "+said)
	}
	var places []string
	for i, c := range w.Decided.Contradictions {
		if i == mostNamed {
			places = append(places, fmt.Sprintf("%d more", len(w.Decided.Contradictions)-i))
			break
		}
		note := &w.Score.Notes[c.Note]
		places = append(places, fmt.Sprintf("m. %s %s of %s and %s", w.Score.Measures[note.Measure].Number, note.Pitch,
			c.First.By, c.Second.By))
	}
	if len(places) > 0 {
		out = append(out, "not weighed: digits on which decisions differ, so that none binds: "+wording.List(places))
	}
	return append(out, draftWords(results.DraftOf(w.Draft, w.Piece))...)
}

// listPersonal says what is told of a piece's passages, and what its editors tend to.
func listPersonal(env *environment, p *personal.Piece) {
	fmt.Fprintf(env.Stdout, "%s: %s fingered otherwise than without the editor's digits; %s\n", p.ID,
		wording.Count(len(p.Passages), "passage"), p.Counted())
	for _, kind := range [][2]string{{"slip", "slip?    "}, {"personal", "personal "}, {"unusual", "unusual  "}} {
		for i := range p.Passages {
			q := &p.Passages[i]
			if q.Kind != kind[0] || q.Same != "" { // said at the first
				continue
			}
			says := strings.Join(q.Says, "; ")
			if len(q.Again) > 0 {
				says += "; the same figure again: " + strings.Join(q.Again, "; ")
			}
			fmt.Fprintf(env.Stdout, "  %s %s: %s\n", kind[1], q.Place, says)
		}
	}
	for _, h := range p.Habits {
		for _, t := range h.Tendencies() {
			fmt.Fprintf(env.Stdout, "  %s %s\n", cmp.Or(h.Who, "the editor"), t.Says)
		}
	}
}

func (o *weighOptions) writePage(env *environment, job pipeline.Job, policy string, pieces []*personal.Piece) error {
	if o.page == "" {
		return nil
	}
	title := storeName(job.Collection.Title, job.Collection.Root)
	if len(pieces) == 1 {
		title = pieces[0].Title
	}
	html, err := personal.Page(title, policy, storeName(job.Collection.Title, job.Collection.Root), pieces)
	if err != nil {
		return err
	}
	if was, err := os.ReadFile(o.page); err == nil && !strings.Contains(string(was), "<title>Personal choices: ") {
		return fmt.Errorf("%s is there already and is no page of personal choices\nhint: name another file with --page", o.page)
	}
	if err := files.Write(o.page, html); err != nil {
		return fmt.Errorf("writing %s: %w", o.page, err)
	}
	env.complain("wrote %s", o.page)
	return nil
}
