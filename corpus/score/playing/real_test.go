package playing_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

// What a document says of order, the order of playing keeps: the notes of a voice follow one another as they are
// written, grace notes and after-notes among them, and a note with the element chord is struck with the note before it
// (MusicXML 4.0, elements note, chord and grace).
func TestRealScoresArePlayedAsTheirVoicesAreWritten(t *testing.T) {
	type voice struct {
		part, measure int
		name          string
	}
	scores, notes, graces, chords := 0, 0, 0, 0
	for _, set := range []string{"data/engraved", "data/fingered"} {
		files, err := filepath.Glob(filepath.Join(shared.Folder(t, set), "*.mxl"))
		require.NoError(t, err)
		for i := 0; i < len(files); i += 8 {
			s := read(t, files[i])
			scores++
			p := playing.New(s, byStaff(s))
			last := map[voice]int{}
			for n := range s.Notes {
				note := &s.Notes[n]
				if !p.Plays(n) {
					continue
				}
				v := voice{note.Part, note.Measure, note.Voice}
				before, ok := last[v]
				was, is := playing.InstantOf(s, before), playing.InstantOf(s, n)
				switch {
				case !ok || s.Notes[before].Onset.Cmp(note.Onset) > 0: // the voice begins, or goes back in the file
				case note.Chord:
					require.Equal(t, was, is, "%s: %s", files[i], s.Place(n))
					chords++
				default:
					require.Negative(t, was.Compare(is), "%s: %s", files[i], s.Place(n))
					notes++
				}
				if st := p.Stroke(n); st != nil {
					require.Equal(t, is, st.Instant)
				}
				if note.Grace > 0 {
					graces++
				}
				last[v] = n
			}
		}
	}
	t.Logf("%d scores: %d notes after others of their voice, %d of them grace notes, %d joined to a chord",
		scores, notes, graces, chords)
	require.Greater(t, graces, 300, "too few grace notes to mean anything")
}

func read(t *testing.T, file string) *score.Score {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	doc, err := source.Open(file, data, source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}

// byStaff gives the first staff of each piano part to the right hand and the others to the left.
func byStaff(s *score.Score) playing.Hands {
	all := len(s.Notes)
	h := playing.Hands{Piano: make([]bool, all), Hand: make([]score.Hand, all), Player: make([]int, all)}
	for n := range s.Notes {
		note := &s.Notes[n]
		h.Piano[n] = s.Parts[note.Part].Keyboard && note.Kind == score.Pitched && !note.Cue && !note.Hidden
		h.Hand[n], h.Player[n] = score.Right, note.Part
		if note.Staff > 1 {
			h.Hand[n] = score.Left
		}
	}
	return h
}

// BenchmarkNew builds the order of the longest of the engraved scores.
func BenchmarkNew(b *testing.B) {
	files, err := filepath.Glob(filepath.Join(shared.Folder(b, "data/engraved"), "*.mxl"))
	require.NoError(b, err)
	var longest *score.Score
	for i := 0; i < len(files); i += 8 {
		data, err := os.ReadFile(files[i])
		require.NoError(b, err)
		doc, err := source.Open(files[i], data, source.DefaultLimits())
		require.NoError(b, err)
		s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
		require.NoError(b, err)
		if longest == nil || len(s.Notes) > len(longest.Notes) {
			longest = s
		}
	}
	hands := byStaff(longest)
	for b.Loop() {
		playing.New(longest, hands)
	}
	b.ReportMetric(float64(len(longest.Notes)), "notes")
}
