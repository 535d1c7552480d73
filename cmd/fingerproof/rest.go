package main

import (
	"encoding/json"
	"fmt"
	"maps"

	"fingerproof/corpus"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/folder"
	"fingerproof/reports/page"
	"fingerproof/rules/lint"
)

// restOfRun takes what earlier runs left of the pieces that a run was not asked for into its index and its findings.
type restOfRun struct {
	dir   *folder.Folder
	index *page.Index
	job   pipeline.Job
	all   []corpus.Piece // of the collection, in its order
	next  int
	found []state.Outcome
}

// entryName is the file in which a run keeps what its index takes from a piece.
func entryName(piece string) string { return folder.Entries + "/" + piece + ".json" }

// writeEntry puts a piece into the index, and keeps what the index took for later runs.
func writeEntry(dir *folder.Folder, index *page.Index, piece string, e *page.Entry) error {
	file, err := entryFile(piece, e)
	if err != nil {
		return err
	}
	index.Add(e)
	return dir.WriteAll(file)
}

// entryFile is the file in which what the index takes from a piece is kept.
func entryFile(piece string, e *page.Entry) (folder.File, error) {
	data, err := json.Marshal(e)
	if err != nil {
		return folder.File{}, fmt.Errorf("keeping what the index takes from %s: %w", piece, err)
	}
	return folder.File{Name: entryName(piece), Content: folder.Whole(data)}, nil
}

// upTo takes in the pieces that stand in the collection before the one named, which is worked on; for "" all that are left.
func (r *restOfRun) upTo(id string) {
	for r.next < len(r.all) {
		p := &r.all[r.next]
		r.next++
		if p.ID == id {
			return
		}
		r.take(p)
	}
}

// take takes in a piece as an earlier run left it; where it left less than all, as a piece that no run has worked on.
func (r *restOfRun) take(p *corpus.Piece) {
	var e page.Entry
	if json.Unmarshal(r.dir.Earlier(entryName(p.ID)), &e) != nil {
		r.index.Wait(p)
		return
	}
	o := state.Outcome{Piece: p.ID, File: scoreName(r.job.Collection, p), Problem: e.Problem(), Earlier: true}
	if o.Problem == "" {
		result, err := headOfResults(r.dir, p.ID)
		if err != nil {
			r.index.Wait(p)
			return
		}
		o.Findings, o.Stets = result.Findings, result.Stets
		o.Changed = r.job.ChangedSince(p, result)
		edition := result.Summary.Edition
		for _, name := range []string{
			"edition/" + edition, "edits/" + edition + ".json", "review/" + page.FileName(p.ID), "results/" + p.ID + ".json",
		} {
			r.dir.Keep(name)
		}
		if choices := "review/" + page.PersonalFile(p.ID); r.dir.Has(choices) {
			r.dir.Keep(choices)
		}
	} else if _, err := keepBefore(r.dir, p, o.Problem); err != nil {
		r.index.Wait(p)
		return
	}
	e.AsEarlier(o.Changed)
	if err := writeEntry(r.dir, r.index, p.ID, &e); err != nil {
		r.index.Wait(p)
		return
	}
	r.found = append(r.found, o)
}

// complain names the pieces that were left out and that would come out otherwise now.
func (r *restOfRun) complain(env *environment) {
	var reasons []string
	pieces := map[string][]string{}
	for i := range r.found {
		o := &r.found[i]
		if o.Changed == "" {
			continue
		}
		if pieces[o.Changed] == nil {
			reasons = append(reasons, o.Changed)
		}
		pieces[o.Changed] = append(pieces[o.Changed], o.Piece)
	}
	for _, why := range reasons {
		names := pieces[why]
		if n := len(names); n > mostNamed {
			names = append(names[:mostNamed], fmt.Sprintf("%d more", n-mostNamed))
		}
		env.complain("%s: left out, and what an earlier run made there may not hold any more: %s\n"+
			"hint: the same run without --piece works on them, too", wording.List(names), why)
	}
}

// with gives the findings of all pieces of which there are any: those that this run worked on, and the rest.
func (r *restOfRun) with(t *tally) (*findings, error) {
	by := map[string]state.Outcome{}
	for _, o := range t.found.outcomes {
		by[o.Piece] = o
	}
	limits := *t
	limits.limits = map[string]lint.Severity{}
	maps.Copy(limits.limits, t.limits)
	for _, o := range r.found {
		by[o.Piece] = o
	}
	out := t.found
	out.outcomes, out.fails = nil, limits.counts
	for i := range r.all {
		o, ok := by[r.all[i].ID]
		if !ok {
			continue
		}
		if _, worked := t.limits[o.Piece]; !worked && o.Problem == "" {
			policy, err := r.job.PolicyOf(&r.all[i])
			if err != nil {
				return nil, err
			}
			if limit, any := t.options.failSeverity(policy); any {
				limits.limits[o.Piece] = limit
			}
			if t.found.baseline != nil && o.Since == nil {
				o.Since = t.found.baseline.Since(&o)
			}
		}
		out.outcomes = append(out.outcomes, o)
	}
	return &out, nil
}
