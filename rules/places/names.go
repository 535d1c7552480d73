package places

import "fmt"

// Names are those of the features, in the order of the columns.
func Names() []string {
	out := []string{
		"keys in the chord", "keys towards the thumb", "keys towards the outside", "finger", "black key", "beat", "key",
		"left hand", "silence before", "time since the event before", "time until the event after", "slur", "grace note",
		"staccato", "place in the measure", "density",
	}
	for _, off := range sides {
		for _, what := range []string{"interval", "finger", "change of finger", "black key", "keys in the chord", "strain"} {
			out = append(out, fmt.Sprintf("%+d: %s", off, what))
		}
	}
	return append(out, "move of the hand", "next move of the hand", "spread of the hand", "fingers crossed", "fingers cross next",
		"events since a move", "events until a move", "run before", "run after", "outermost among", "innermost among",
		"events since the key", "same finger on the key", "events since the like", "measures since the like",
		"events since the turn", "same fingers in the turn", "change of the grip", "width of the chord")
}
