package main

import (
	"fingerproof/pipeline"
)

// askFirst asks, before the work on several pieces begins, whose the digits in their texts are where nothing says it: an answer
// changes what every such piece comes to, and the work would be done twice. It looks at scores that were not worked on before,
// one after the other, up to the first of which it has to ask; true where it asked.
func askFirst(env *environment, job pipeline.Job, before func(piece string) bool) bool {
	c := job.Collection
	if c.Manifest == "" || len(c.Pieces) < 2 {
		return false
	}
	seen := newScoresSeen(c.Root)
	for i := range c.Pieces {
		p := &c.Pieces[i]
		if p.Fault != nil || p.TextDigits != "" || p.Draft != nil || len(p.Witnesses) > 0 || before(p.ID) {
			continue
		}
		if policy, err := job.PolicyOf(p); err != nil || policy.SaysTextDigits() {
			continue
		}
		if d := seen.of(p.Score); d.count > 0 && d.fault == nil && !d.ours {
			env.complain("%s: digits stand in it, and nothing says whose: in %s text_digits of a piece, or above the pieces for all, says it "+
				"(composer, earlier or editor)\nhint: an answer changes what is worked out; stopped now (Ctrl+C) and answered, the run is not made twice",
				p.ID, c.Manifest)
			return true
		}
	}
	return false
}
