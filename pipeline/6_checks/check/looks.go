package check

import (
	"maps"
	"slices"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/policies"
)

// looks adds what prints otherwise by another house style than the one in which the piece was passed, where notes and fingers
// are the same: how digits look and on which side they stand, the legend, its language, signs. Each key is put
// back by itself, and what these digits print as then is held against what they print as now. Keys that bear on fingers
// have told of it note by note, as has which digits are printed.
func (p *prover) looks() {
	old := policies.Resolved(p.was.Policy, "passed")
	keys := policies.Differing(old, p.now.Policy)
	for _, key := range keys {
		if pipeline.BearsOnFingers(key) || pipeline.PrintsAlike(p.now, p.now.Policy.With(old, key)) {
			continue
		}
		cause := thePolicy + ": " + key
		if strings.HasPrefix(key, "marks.") && slices.Contains(keys, tradition) {
			cause = thePolicy + ": " + tradition
		}
		was, _ := old.Get(key)
		is, _ := p.now.Policy.Get(key)
		p.out.Changes = append(p.out.Changes, Change{Kind: Looks, Pitch: key, N: -1, Old: was.Text, New: is.Text, Cause: cause, old: -1, row: -1})
	}
}

// heads adds what prints beside the music otherwise: titles and names that the manifest gives, the editors' own texts. States of
// older programs do not say what they were.
func (p *prover) heads() {
	p.words()
	p.reasons()
	if p.was.Heads == nil || p.now.Heads == nil {
		return
	}
	names := map[string]bool{}
	for name := range p.was.Heads {
		names[name] = true
	}
	for name := range p.now.Heads {
		names[name] = true
	}
	for _, name := range slices.Sorted(maps.Keys(names)) {
		if was, is := p.was.Heads[name], p.now.Heads[name]; was != is {
			p.out.Changes = append(p.out.Changes, Change{Kind: Heading, Pitch: name, N: -1, Old: was, New: is, Cause: theManifest, old: -1, row: -1})
		}
	}
}

// tradition is the key that sets the looks of all digits at once.
const tradition = "marks.tradition"

// isLookOfDigits says that a key is how the digits of someone look: "marks.editor.italic".
func isLookOfDigits(key string) bool {
	parts := strings.Split(key, ".")
	return len(parts) == 3 && parts[0] == "marks"
}
