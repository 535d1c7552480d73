// Package caution holds the line that every report carries.
package caution

// Text is that line (FACTS §1.3; the evidence on hand size is mixed, so it says may).
const Text = "A fingering here is a suggestion for a hand of the size named. Reach is not comfort: a stretch that is " +
	"just within reach may strain the hand. Use it only if it is free of strain. Pain is a reason to stop and " +
	"to see a clinician; this is not medical advice. Teachers and clinicians decide."

// Short is the same in one line, where the whole stands folded below it.
const Short = "A suggestion for the hand named. Reach is not comfort. Pain is a reason to stop. Not medical advice."
