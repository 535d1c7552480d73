package suggest

import "fingerproof/corpus/score"

// UnderSlurs tells which notes a slur joins to the next one of their voice.
func UnderSlurs(s *score.Score) []bool { return underSlurs(s) }

// RepeatMicros is the time one finger needs to strike a key again on an
// instrument of the policy (grand, upright, period), in microseconds.
func RepeatMicros(instrument string) int64 { return repeatMicros[instrument] }
