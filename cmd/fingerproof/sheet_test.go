package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/keying"
)

// What a sheet prints of a passage, keyed in as it stands there, gives each note the finger that is printed beside it and no
// other note one: strokes and keys that are not asked have their point. Over the demo, and over scores of shared/data/fingered
// where it is there: the second has passages with holes of several strokes (a stranger's trial keyed them to other notes).
func TestWhatASheetPrintsIsKeyedInAsItStands(t *testing.T) {
	scores := []string{shared.InProject("corpus", "demo", "scores", "op7-nocturne.musicxml")}
	if folder, ok := shared.Find("data/fingered"); ok {
		for _, name := range []string{"clementim__o42-clementi-op42-lyt-l29-rameau", "polish__rozycki-ludomir-4-impromptus-op-6-2", "beethovenlv__o2-beethoven-op2-no1-adagio"} {
			scores = append(scores, filepath.Join(folder, name+".mxl"))
		}
	} else {
		t.Log("shared/data is not there: the demo alone")
	}
	pitch := regexp.MustCompile(`[A-G][#bx]*-?\d=`)
	points := 0
	for _, from := range scores {
		root, name := t.TempDir(), filepath.Base(from)
		text, err := os.ReadFile(from)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(root, name), text, 0o644))
		p, err := openDecided(&workOptions{workers: 1}, root, strings.TrimSuffix(name, filepath.Ext(name)))
		require.NoError(t, err)
		w, k, f := p.run, p.keying("AB", "2026-03-01"), decision.NewFinder(p.run.Score)
		at := map[int]*state.Note{}
		for i := range w.Result.Notes {
			at[w.Result.Notes[i].N] = &w.Result.Notes[i]
		}
		passages := sheetPassages(w)
		for i := range passages {
			q := &passages[i]
			if q.offer != nil || len(q.notes) == 0 {
				continue
			}
			var b strings.Builder
			digitLines(&b, w, *q, at)
			given := map[int]bool{}
			for line := range strings.Lines(b.String()) {
				points += strings.Count(line, ".")
				line = strings.NewReplacer("*", "", "!", "", decidedMark, "").Replace(pitch.ReplaceAllString(strings.TrimSpace(line), ""))
				d, err := keying.Key(k, f, line)
				require.NoError(t, err, "%s, #%d: %s", name, q.number, line)
				for j := range d.Notes {
					n, _, _ := f.Find(&d.Notes[j])
					given[n] = true
					of := at[n]
					if row := rowAt(w, of); row != nil {
						require.Equal(t, row, d.Notes[j].Fingers, line)
						continue
					}
					want := []int{of.Finger}
					want = append(want, of.Changes()...)
					require.Equal(t, want, d.Notes[j].Fingers, "%s, #%d, %s: %s", name, q.number, w.Score.Place(n), line)
				}
			}
			for _, n := range q.notes {
				require.True(t, given[n], "%s, #%d: %s is asked and not printed\n%s", name, q.number, w.Score.Place(n), b.String())
				delete(given, n)
			}
			for n := range given { // the other voice of a key that two voices share has its finger
				require.True(t, sharesKey(w.Score, q.notes, n), "%s, #%d: %s gets a digit and is not asked", name, q.number, w.Score.Place(n))
			}
		}
	}
	require.Greater(t, points, 0, "strokes between those that are asked")
}

// sharesKey says that a note is struck on the key of one of some notes, at the same time.
func sharesKey(s *score.Score, notes []int, n int) bool {
	for _, m := range notes {
		if s.Notes[m].Midi == s.Notes[n].Midi && s.Notes[m].Measure == s.Notes[n].Measure && s.Notes[m].Onset.Equal(s.Notes[n].Onset) {
			return true
		}
	}
	return false
}
