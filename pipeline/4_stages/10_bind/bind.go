// Package bind is the stage that says which digit is decided at each note: by a
// decision, by one that holds for the returns of its passage too, or by the
// edition that is read back.
package bind

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/parallel"
)

// Input is everything the stage looks at.
type Input struct {
	Score    *score.Score
	Embedded *edition.Embedded // what the edition carries along; nil for other scores
	Playing  *playing.Playing
	Decided  *decide.Placed
	Returns  []parallel.Return // their notes whose music is the same all round (parallel.Same)
	Apart    []bool            // notes that are fingered for themselves where their passage returns; nil: none
}

// Digits gives the digits of decisions with those that hold for returns carried
// on, wherever the text and the editors leave the note open; parallel to
// Score.Notes. What is placed is not changed.
func Digits(in Input) []decide.Digit {
	out := slices.Clone(in.Decided.Digits)
	carry := func(r *parallel.Return, k int, back bool) {
		from, to := r.First[k], r.Later[k]
		if back {
			from, to = to, from
		}
		d := out[from]
		if !d.Returns || out[to].Verb != "" || len(in.Score.Notes[to].Indications) > 0 || in.Playing.Piled(to) > 0 ||
			in.Apart != nil && in.Apart[to] || !Holds(in.Score, in.Playing, in.Decided, r, k, back) ||
			slices.ContainsFunc(
				in.Decided.Contradictions, func(c decide.Contradiction) bool { return c.Note == to },
			) {
			return
		}
		d.Carried, d.Returns, d.Except = true, false, nil
		out[to] = Brought(&in.Score.Notes[from], &in.Score.Notes[to], d)
	}
	for i := range in.Returns {
		r := &in.Returns[i]
		for k := range r.First {
			carry(r, k, false)
			carry(r, k, true)
		}
	}
	addEmbedded(out, in)
	giveWay(out, in)
	return out
}

// Brought is the digit of a note as it comes to one that brings it back: the fingers of a sign belong to that sign.
func Brought(from, to *score.Note, d decide.Digit) decide.Digit {
	if len(from.Ornaments) > 0 && !sameSigns(from.Ornaments, to.Ornaments) {
		d.Row, d.Fingers = nil, d.Fingers[:min(len(d.Fingers), 1)]
	}
	return d
}

// sameSigns says that two notes have the same ornaments.
func sameSigns(a, b []score.Ornament) bool {
	return slices.EqualFunc(a, b, func(x, y score.Ornament) bool { return x.Kind == y.Kind })
}

// addEmbedded takes the digits that an edition carries along as decided,
// wherever the decisions that are there say nothing of the note.
func addEmbedded(bound []decide.Digit, in Input) {
	if in.Embedded == nil {
		return
	}
	last := 0 // what is decided now comes after what the edition carries
	for _, k := range in.Embedded.Decided {
		last = max(last, k.Entry)
	}
	for i := range bound {
		if bound[i].Entry > 0 {
			bound[i].Entry += last
		}
	}
	for _, k := range in.Embedded.Decided {
		if k.N < 0 || k.N >= len(bound) || len(k.Fingers) == 0 {
			continue
		}
		d := &bound[k.N]
		d.Along = d.Verb != ""
		if string(d.Verb) == k.Verb && d.By == k.By && slices.Equal(d.Written(), k.Fingers) { // the same decision, with its file
			d.Entry = k.Entry
		}
	}
	for _, k := range in.Embedded.Decided {
		if k.N < 0 || k.N >= len(bound) || bound[k.N].Verb != "" ||
			slices.ContainsFunc(k.Fingers, func(f int) bool { return f < 1 || f > 5 }) ||
			len(k.Fingers) == 0 && k.Verb != string(decision.Stet) && k.Verb != string(decision.Query) {
			continue
		}
		if slices.ContainsFunc(
			in.Decided.Contradictions, func(c decide.Contradiction) bool { return c.Note == k.N },
		) {
			continue
		}
		fingers, row := decide.RowOf(&in.Score.Notes[k.N], k.Fingers)
		bound[k.N] = decide.Digit{
			Verb: decision.Verb(k.Verb), Fingers: fingers, Row: row, By: k.By, Always: k.Always, Carried: k.Carried, Entry: k.Entry, Along: true,
		}
	}
}
