package source_test

import (
	"regexp"
	"runtime"
	"strings"
	"testing"
	"unicode/utf8"

	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func allocatedBytes() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}

var lineEnd = regexp.MustCompile("\r\n|\r|\n")

// The long way round: cut off at the offset, split into lines, count characters.
func placeSlowly(text string, offset int) source.Place {
	before := text[:offset]
	if strings.HasSuffix(before, "\r") && strings.HasPrefix(text[offset:], "\n") {
		before = before[:len(before)-1] // between the two the line has not ended yet
	}
	lines := lineEnd.Split(before, -1)
	return source.Place{Line: len(lines), Column: utf8.RuneCountInString(lines[len(lines)-1]) + 1}
}

func TestPlacesAgreeWithTheLongWayRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"a", "é", "𝄞", "\r\n", "\n", "\r", " "}), 0, 30).Draw(t, "text"), "")
		if rapid.Bool().Draw(t, "long") { // beyond what the tracker keeps of its way
			text = strings.Repeat(text, 20000/max(len(text), 1))
		}
		tracker := source.NewTracker(text)
		for range 5 {
			offset := rapid.IntRange(0, len(text)).Draw(t, "offset") // also backwards
			for offset < len(text) && !utf8.RuneStart(text[offset]) {
				offset++
			}
			require.Equal(t, placeSlowly(text, offset), tracker.At(offset), "%q at %d", text, offset)
		}
	})
}
