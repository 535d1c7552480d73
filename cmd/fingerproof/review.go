package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"

	"fingerproof/corpus"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/pipeline/6_checks/check"
	"fingerproof/reports/engrave"
	"fingerproof/reports/folder"
	"fingerproof/reports/page"
	"fingerproof/reports/personal"
)

// reviewer writes the pages of pieces, several at once, and draws notation
// where the engraver is installed.
type reviewer struct {
	collection string
	manifest   bool                     // the collection has one
	excerpts   int                      // passages drawn a piece
	score      bool                     // the whole score is drawn
	earlier    func(file string) []byte // a page that an earlier run wrote, nil where there is none
	notation   string
	press      *engrave.Press
	workers    chan *engrave.Worker // those that rest; nil ones are started when first used

	changes func(*pipeline.PieceRun) (page.Passed, []page.Change) // against what was passed; nil where nothing was

	mutex sync.Mutex
	done  map[string]*pieceOutcome
	// undrawn are pieces of which the engraver could not draw everything.
	undrawn map[string]bool

	known *knownPieces // what earlier runs made of pieces; nil where it is not asked for
}

// newReviewer makes the engraver ready for as many pieces at once as are worked
// on. Pages come without notation where it cannot be made ready; why is on each.
// kept is where drawings are kept, nil for nowhere.
func newReviewer(
	ctx context.Context, env *environment, excerpts int, job pipeline.Job, kept *engrave.Kept,
) *reviewer {
	r := &reviewer{
		collection: storeName(job.Collection.Title, job.Collection.Root), excerpts: excerpts, score: excerpts > 0,
		earlier: func(string) []byte { return nil }, manifest: job.Collection.Manifest != "",
		workers: make(chan *engrave.Worker, job.Workers), done: map[string]*pieceOutcome{}, undrawn: map[string]bool{},
	}
	for range job.Workers {
		r.workers <- nil
	}
	if excerpts <= 0 {
		return r
	}
	var err error
	r.press, err = openPressKeeping(ctx, env, kept, ".")
	if err != nil {
		r.notation = "These pages come without notation: " + err.Error()
		switch {
		case ctx.Err() != nil:
		case errors.Is(err, engrave.ErrMissing):
			r.notation = "These pages come without notation: the engraver is not installed.\n" + engraverHint
			env.complain("pages come without notation: the engraver is not installed\n%s", engraverHint)
		default:
			env.complain("pages come without notation: %v", err)
		}
	}
	return r
}

// openPress opens the engraver that lies near the working folder or the
// program, with its prepared form in the user's cache. It draws in processes
// of its own, which are this program once more.
func openPress(ctx context.Context, env *environment, near ...string) (*engrave.Press, error) {
	return openPressKeeping(ctx, env, nil, near...)
}

// openPressKeeping opens it with a place where drawings are kept.
func openPressKeeping(ctx context.Context, env *environment, kept *engrave.Kept, near ...string) (*engrave.Press, error) {
	options, err := engraverOptions(env, near...)
	if err != nil {
		return nil, err
	}
	options.Kept = kept
	if env.Program != "" {
		options.Process = []string{env.Program, engraverCommand, engraverServes, options.CacheDir}
	}
	return engrave.Open(ctx, options)
}

// piece writes the page of a piece. It is called by several goroutines.
func (r *reviewer) piece(ctx context.Context, w *pipeline.PieceRun) error {
	if out := r.known.of(w); out != nil {
		r.put(w.Piece.ID, out)
		return nil
	}
	m := page.Of(w, r.collection)
	m.Notation = r.notation
	if r.changes != nil {
		m.Passed, m.Changes = r.changes(w)
	}
	var worker *engrave.Worker
	if r.press != nil || r.excerpts <= 0 {
		worker = <-r.workers
		defer func() { r.workers <- worker }()
		if worker == nil && r.press != nil {
			var err error
			if worker, err = r.press.Worker(ctx); err != nil {
				return fmt.Errorf("starting the engraver: %w", err)
			}
		}
		if err := m.Draw(ctx, worker, w, r.excerpts); err != nil {
			return err
		}
		if r.score && r.press != nil {
			if err := m.DrawScore(ctx, worker, w, r.earlier(page.FileName(w.Piece.ID))); err != nil {
				return err
			}
		}
	}
	choices, err := r.personal(ctx, w, m, worker)
	if err != nil {
		return err
	}
	html, err := page.Piece(m)
	if err != nil {
		return err
	}
	out, err := outcomeOf(w, m, html, r.manifest)
	if err != nil {
		return err
	}
	out.Personal = folder.Whole(choices)
	drawn := r.press == nil || r.excerpts <= 0 || m.Notation == r.notation && (m.Score.Note == "" || m.Score.Key != "")
	if !drawn {
		r.mutex.Lock()
		r.undrawn[w.Piece.ID] = true
		r.mutex.Unlock()
	}
	if drawn && m.Score.Note == "" || r.known.sharesOut() { // what could not be drawn may be had next time
		r.known.keep(w, out)
	}
	r.put(w.Piece.ID, out)
	return nil
}

// personal writes the page of personal choices of a piece in which an editor goes another way than would be best for most
// hands, nil where none does, and says on the piece's page that it is there.
func (r *reviewer) personal(
	ctx context.Context, w *pipeline.PieceRun, m *page.Material, worker *engrave.Worker,
) ([]byte, error) {
	p := personal.Of(w)
	if len(p.Passages) == 0 {
		return nil, nil
	}
	p.Notation = r.notation
	if worker != nil {
		if err := p.Draw(ctx, worker, w, r.excerpts); err != nil {
			return nil, err
		}
	}
	m.Personal = p.Tally()
	return personal.Page(p.Title, w.Policy.Title(), r.collection, []*personal.Piece{p})
}

// standsOn is what the pages of all pieces depend on beside the pieces.
func (r *reviewer) standsOn() string {
	return fmt.Sprintf("run %q %q %d %v %s", r.collection, r.notation, r.excerpts, r.press != nil, engrave.Version())
}

// complain says which pages lack notation: on a page alone it would be found one by one.
func (r *reviewer) complain(env *environment, pieces []corpus.Piece) {
	var names []string
	for i := range pieces {
		if r.undrawn[pieces[i].ID] {
			names = append(names, pieces[i].ID)
		}
	}
	if n := len(names); n > mostNamed {
		names = append(names[:mostNamed], fmt.Sprintf("%d more", n-mostNamed))
	}
	if len(names) > 0 {
		env.complain("notation is missing on %s: %s; each page says why\nhint: run again, which tries it once more",
			wording.Count(len(r.undrawn), "page"), wording.List(names))
	}
}

func (r *reviewer) put(piece string, out *pieceOutcome) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	r.done[piece] = out
}

// take hands over what a piece comes to once.
func (r *reviewer) take(piece string) *pieceOutcome {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	out := r.done[piece]
	delete(r.done, piece)
	return out
}

// close gives the engraver's memory back.
func (r *reviewer) close(ctx context.Context) {
	if r.press != nil {
		_ = r.press.Close(context.WithoutCancel(ctx)) // nothing is kept in it
	}
}

// storeName names a collection in the browser's store.
func storeName(title, root string) string {
	if title != "" {
		return title
	}
	abs, err := filepath.Abs(root)
	if err != nil {
		abs = root
	}
	return strings.TrimSpace(filepath.Base(abs))
}

// sincePassed gives when a piece was last passed for press, and what differs
// from it; nil where nothing was passed. What cannot be compared is reported by
// check, not here.
func sincePassed(root string) func(*pipeline.PieceRun) (page.Passed, []page.Change) {
	store := passed.In(root)
	if !store.There() {
		return nil
	}
	return func(w *pipeline.PieceRun) (page.Passed, []page.Change) {
		was, err := store.Read(w.Piece.ID)
		if err != nil || was == nil {
			return page.Passed{}, nil
		}
		p := page.Passed{By: was.By, When: was.When, Unlike: true}
		switch text, err := store.Text(was); {
		case was.Press && !w.Press:
			p.Why = "it was passed from a run with --press, and this run is without"
		case was.Press != w.Press:
			p.Why = "it was passed from a run without --press, and this run is with it"
		case err != nil:
			p.Why = "its score as it was passed cannot be read"
		default:
			return asComparedNow(p, check.Compare(w, was, text).Changes)
		}
		return p, nil
	}
}

// asComparedNow is the last pass of a piece that was compared with it, and what differs.
func asComparedNow(p page.Passed, changes []check.Change) (page.Passed, []page.Change) {
	var out []page.Change
	for i := range changes {
		out = append(out, changeOnSheet(&changes[i]))
	}
	p.Unlike, p.Differs = false, len(out) > 0
	return p, out
}

// changeOnSheet names a change as a proof reader looks for it: measure, hand
// and beat, then what was passed and what stands now.
func changeOnSheet(c *check.Change) page.Change {
	out := page.Change{
		Place: c.Place(), Index: c.Index, N: c.N, Cause: c.Cause, What: string(c.Kind), Measure: c.Measure,
		Whose: c.Kind == check.Whose,
	}
	if c.Pitch != "" {
		out.What = c.Pitch + ", " + out.What
	}
	out.Old, out.New = c.Values()
	return out
}
