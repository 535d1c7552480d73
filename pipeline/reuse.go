package pipeline

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
	"sync"

	"fingerproof/corpus"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/lint/all"
)

// stale says why earlier results may not stand for the piece as it is now, in
// words; "" where working it out again would give the same findings.
func stale(run *PieceRun, r *state.Result) string {
	switch {
	case r == nil:
		return "there are none"
	case r.Inputs.Score != source.Sum(run.Data):
		return "the score has changed"
	case r.Inputs.Policy != run.Policy.Sum():
		return "the policy is another one"
	case r.Inputs.Decisions != decision.Sum(run.Decisions):
		return "the decisions have changed"
	case r.Inputs.Weights != run.Weights.Sum:
		return "the weights are others"
	case r.Inputs.Engine != EngineVersion:
		return "another version of the program made that"
	case r.Inputs.Setting != run.Setting:
		return "the manifest says other things of the piece, a witness has changed, or the rules of lint are others"
	case r.Summary.Press && !run.Press:
		return "that run was for press"
	case r.Summary.Press != run.Press:
		return "that run was not for press"
	}
	for _, d := range run.Decisions {
		if d.Until != "" {
			return "a finding is let stand for a time only"
		}
	}
	return ""
}

// ChangedSince says why results of an earlier run may not stand any more for a piece that this one leaves out, in words: what
// they were made of has changed, or cannot be read; "" where working it out again would give the same.
func (job Job) ChangedSince(piece *corpus.Piece, r *state.Result) string {
	run, err := job.Open(piece)
	if err != nil {
		line, _, _ := strings.Cut(err.Error(), "\n")
		return "it cannot be worked on as it is now (" + line + ")"
	}
	return stale(run, r)
}

// SettingSum is the SHA-256 of what else a piece's results stand on: what the
// manifest says of it, the files of its witnesses and of its draft as they are, and the rules of lint
// as they are documented.
func SettingSum(p *corpus.Piece, witnesses [][]byte, draft []byte) (string, error) {
	setting := *p
	setting.Policy, setting.Fault = "", nil // the policy has a sum of its own
	h := sha256.New()
	if err := json.NewEncoder(h).Encode(setting); err != nil {
		return "", fmt.Errorf("summing the setting of %s: %w", p.ID, err)
	}
	for _, data := range witnesses {
		fmt.Fprintln(h, source.Sum(data))
	}
	if draft != nil {
		fmt.Fprintln(h, "draft", source.Sum(draft))
	}
	h.Write(rulesDocumented())
	return hex.EncodeToString(h.Sum(nil)), nil
}

// RulesSum is the SHA-256 of the rules of lint as they are documented.
func RulesSum() string { return source.Sum(rulesDocumented()) }

// rulesDocumented is what is said of the rules, put together once: every piece asks for it.
var rulesDocumented = sync.OnceValue(func() []byte {
	var b bytes.Buffer
	for _, r := range all.Rules() {
		fmt.Fprintf(&b, "%q %q %q %q %q %q %v %s\n", r.Name, r.Title, r.Checks, r.Why, r.Before, r.After, r.Severity,
			r.Since)
	}
	return b.Bytes()
})
