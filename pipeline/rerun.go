package pipeline

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus"
	"fingerproof/pipeline/decide"
	"fingerproof/policies"
)

// Inputs are what a piece's result stands on, so that one can be put back alone.
type Inputs struct {
	Piece     corpus.Piece // with what the manifest says of it
	Data      []byte
	Policy    *policies.Policy
	Decisions []decide.Decision
	Today     string
	Press     bool
}

// InputsOf gives the inputs of a way.
func InputsOf(w *Way) Inputs {
	return Inputs{Piece: *w.Piece, Data: w.Data, Policy: w.Policy, Decisions: w.Decisions, Today: w.Today, Press: w.Press}
}

// Again works a piece out anew from other inputs, as far as its result; no
// edition is made. base may be a way with some of the same inputs: what only
// bears on print, looks and findings is then worked out from there. base is
// not changed.
func Again(base *Way, in Inputs) (*Way, error) {
	w := &Way{Piece: &in.Piece, Data: in.Data, Policy: in.Policy, Weights: base.Weights, Decisions: in.Decisions, Today: in.Today, Press: in.Press}
	if base.Result == nil || !sameBut(base, w) {
		return w, RunPiece(without(w))
	}
	from := slices.IndexFunc(Stages, func(s Stage) bool { return s.Name == "thin" })
	again := *base
	again.Policy = w.Policy
	v := reflect.ValueOf(&again).Elem()
	for _, s := range Stages[from:] {
		for _, field := range s.Gives {
			v.FieldByName(field).SetZero()
		}
	}
	return &again, runStages(without(&again), Stages[from:])
}

// without leaves the edition out: nobody looks at it.
func without(w *Way) *Way {
	w.Edition = ""
	return w
}

// lateKeys are keys of the policy that bear on nothing before thinning.
var lateKeys = []string{"title", "digits", "fail_on", "marks.", "lint."}

// sameBut reports whether two ways differ, if at all, in late keys only.
func sameBut(a, b *Way) bool {
	if !reflect.DeepEqual(a.Piece, b.Piece) || a.Today != b.Today || a.Press != b.Press || decide.Sum(a.Decisions) != decide.Sum(b.Decisions) || !slices.Equal(a.Data, b.Data) {
		return false
	}
	for _, key := range policies.Differing(a.Policy, b.Policy) {
		if !slices.ContainsFunc(lateKeys, func(late string) bool {
			return key == late || strings.HasSuffix(late, ".") && strings.HasPrefix(key, late)
		}) {
			return false
		}
	}
	return true
}

// Settings spells what the manifest says of a piece that bears on its fingering.
func Settings(p *corpus.Piece) map[string]string {
	out := map[string]string{"scoring": string(p.Scoring)}
	maps.Copy(out, optional(p))
	return out
}

func optional(p *corpus.Piece) map[string]string {
	out := map[string]string{}
	if len(p.Parts) > 0 {
		out["parts"] = strings.Join(p.Parts, " ")
	}
	if p.Year != 0 {
		out["year"] = strconv.Itoa(p.Year)
	}
	if p.Tempo != (corpus.Tempo{}) {
		out["tempo"] = fmt.Sprintf("%d-%d", p.Tempo.Low, p.Tempo.High)
	}
	if p.TextDigits != "" {
		out["text_digits"] = p.TextDigits
	}
	return out
}

// WithSettings gives a piece with settings as Settings spelled them.
func WithSettings(p corpus.Piece, settings map[string]string) corpus.Piece {
	p.Scoring, p.Parts, p.Year, p.Tempo, p.TextDigits = corpus.Scoring(settings["scoring"]), strings.Fields(settings["parts"]), 0, corpus.Tempo{}, settings["text_digits"]
	p.Year, _ = strconv.Atoi(settings["year"])
	_, _ = fmt.Sscanf(settings["tempo"], "%d-%d", &p.Tempo.Low, &p.Tempo.High) // left at zero where none was set
	return p
}
