package pipeline

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/pipeline/decide"
	"fingerproof/policies"
)

// Inputs are what a piece's result stands on, so that one can be put back alone.
type Inputs struct {
	Piece     corpus.Piece // with what the manifest says of it
	Data      []byte
	Witnesses [][]byte // files of the witnesses, in their order
	Policy    *policies.Policy
	Weights   *Weights
	Decisions []decide.Decision
	Today     string
	Press     bool
}

// InputsOf gives the inputs of a way.
func InputsOf(w *Way) Inputs {
	return Inputs{Piece: *w.Piece, Data: w.Data, Witnesses: w.WitnessData, Policy: w.Policy, Weights: w.Weights, Decisions: w.Decisions, Today: w.Today, Press: w.Press}
}

// Again works a piece out anew from other inputs, as far as its result; no
// edition is made. base may be a way with some of the same inputs: what only
// bears on print, looks and findings is then worked out from there. base is
// not changed.
func Again(base *Way, in Inputs) (*Way, error) {
	w := &Way{Piece: &in.Piece, Data: in.Data, WitnessData: in.Witnesses, Policy: in.Policy, Weights: in.Weights, Decisions: in.Decisions, Today: in.Today, Press: in.Press}
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
	if !reflect.DeepEqual(a.Piece, b.Piece) || a.Today != b.Today || a.Press != b.Press || decide.Sum(a.Decisions) != decide.Sum(b.Decisions) || a.Weights.Sum != b.Weights.Sum || !slices.Equal(a.Data, b.Data) {
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

// Settings spells what the manifest says of a piece, each key in JSON: all
// but its name, its file and its policy. What it leaves open is left out.
func Settings(p *corpus.Piece) map[string]string {
	said := *p
	said.ID, said.Title, said.Score, said.Policy, said.Fault = "", "", "", "", nil
	data, err := json.Marshal(said)
	if err != nil {
		panic(err) // plain values
	}
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(data, &fields); err != nil {
		panic(err) // written above
	}
	out := map[string]string{}
	for key, value := range fields {
		if v := string(value); v != "null" && v != `""` && v != "0" && v != `{"Low":0,"High":0}` {
			out[key] = v
		}
	}
	return out
}

// WithSettings gives a piece with settings as Settings spelled them.
func WithSettings(p corpus.Piece, settings map[string]string) (corpus.Piece, error) {
	fields := map[string]json.RawMessage{}
	for key, value := range settings {
		fields[key] = json.RawMessage(value)
	}
	data, err := json.Marshal(fields)
	if err != nil {
		return p, fmt.Errorf("reading the settings of %s: %w", p.ID, err)
	}
	out := corpus.Piece{ID: p.ID, Title: p.Title, Score: p.Score, Policy: p.Policy}
	if err := json.Unmarshal(data, &out); err != nil {
		return p, fmt.Errorf("reading the settings of %s: %w", p.ID, err)
	}
	return out, nil
}

// WitnessSums gives the SHA-256 of each witness, in the manifest's order.
func WitnessSums(w *Way) []string {
	var out []string
	for _, data := range w.WitnessData {
		out = append(out, Sum(data))
	}
	return out
}
