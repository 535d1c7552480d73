package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"fingerproof/corpus/files"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/weighing"
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
		Long: `weigh reads PATH and lists the passages in which the digits that an editor drafted, decided or typed are other
than is best for the hands of the policy, the most personal first: those that suit their maker rather than most
(as the rule personal-fingering reports them), then those that few editors would print and that gain something.

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
	for i := range job.Collection.Pieces {
		w, err := job.Open(&job.Collection.Pieces[i])
		if err == nil {
			err = pipeline.RunUntil(w, "beside")
		}
		if err != nil {
			failed++
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
		if !w.EditorsDigits() {
			fmt.Fprintf(env.Stdout, "%s: no digit there is an editor's, so nothing is weighed\n", p.ID)
			without++
			continue
		}
		listPersonal(env, p)
	}
	if without > 0 {
		env.complain("%s without a digit of an editor's\nhint: text_digits: editor in the manifest says that those of the text are; "+
			"`fingerproof init --draft INITIALS` begins with an editor's own", wording.Count(without, "piece"))
	}
	if err := o.writePage(job, policy, pieces); err != nil {
		return err
	}
	if failed > 0 {
		return errors.New(wording.Count(failed, "piece") + " could not be worked on")
	}
	return nil
}

// listPersonal says what is told of a piece's passages, and what its editors tend to.
func listPersonal(env *environment, p *personal.Piece) {
	var all weighing.Habits
	for _, h := range p.Habits {
		all.Add(h)
	}
	fmt.Fprintf(env.Stdout, "%s: %s fingered otherwise than without the editor's digits; personal: %d, unusual: %d\n", p.ID,
		wording.Count(all.Passages, "passage"), all.Personal, all.Unusual)
	for i := range p.Passages {
		q := &p.Passages[i]
		says := strings.Join(q.Says, "; ")
		if len(q.Again) > 0 {
			says += "; the same figure again: " + strings.Join(q.Again, "; ")
		}
		switch {
		case q.Same != "": // said at the first
		case q.Verdict.Personal():
			fmt.Fprintf(env.Stdout, "  personal  %s: %s\n", q.Place, says)
		case q.Verdict == weighing.Unusual:
			fmt.Fprintf(env.Stdout, "  unusual   %s: %s\n", q.Place, says)
		}
	}
	for _, h := range p.Habits {
		for _, t := range h.Tendencies() {
			fmt.Fprintf(env.Stdout, "  %s %s\n", cmp.Or(h.Who, "the editor"), t.Says)
		}
	}
}

func (o *weighOptions) writePage(job pipeline.Job, policy string, pieces []*personal.Piece) error {
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
	return nil
}
