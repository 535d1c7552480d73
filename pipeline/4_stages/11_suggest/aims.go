package suggest

import (
	"fingerproof/policies"
	"fingerproof/rules/effort"
)

// repeatMicros is the shortest time in which one finger repeats a key with ease, by instrument. A finger repeats
// six to seven times a second, a grand's action twice as often, an upright's about as often as the finger, lighter
// period actions with a shallow fall somewhat faster than the finger on a grand (FACTS §3.1; provisional, from
// memory).
var repeatMicros = map[string]int64{"grand": 150_000, "upright": 170_000, "period": 135_000}

// AimsOf gives what the policy says of the aims.
func AimsOf(p *policies.Policy) effort.Aims {
	return effort.Aims{
		On: true, Comfort: p.Aim("comfort"), Line: p.Aim("line"), Memory: p.Aim("memory"), Habit: p.Aim("habit"),
		Tempo: p.Aim("tempo"), Reach: p.Aim("reach"),
		Mix:          [3]int{p.HandShare("octave"), p.HandShare("ninth"), p.HandShare("tenth")},
		ChangeMicros: int64(p.ChangeMillis()) * 1000, RepeatMicros: repeatMicros[p.Instrument()],
	}
}

// AimsIn gives AimsOf the policy of a piece, without the network of the weights where the music is not what it was
// taught and measured on: the two hands of one player.
func AimsIn(in Input) effort.Aims {
	a := AimsOf(in.Policy)
	lines := in.Playing.Lines
	a.NoLearned = len(lines) != 2 || lines[0].Player != lines[1].Player
	return a
}

// RepeatMicros is the time one finger needs to strike a key again on an
// instrument of the policy (grand, upright, period), in microseconds.
func RepeatMicros(instrument string) int64 { return repeatMicros[instrument] }
