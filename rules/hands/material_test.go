package hands

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/shared"
	"fingerproof/rules/fingering"

	"github.com/stretchr/testify/require"
)

func fraction(t *testing.T, s string) score.Fraction {
	num, den, _ := strings.Cut(s, "/")
	n, err := strconv.ParseInt(num, 10, 64)
	require.NoError(t, err)
	d := int64(1)
	if den != "" {
		d, err = strconv.ParseInt(den, 10, 64)
		require.NoError(t, err)
	}
	return score.Frac(n, d)
}

// played reads a table of notes with their hands; false where a note stands on the other hand's staff, or only one
// hand plays.
func played(t *testing.T, path string) (notes []Keystroke, ok bool) {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimRight(string(data), "\n"), "\n")
	column := map[string]int{}
	for i, h := range strings.Split(lines[0], "\t") {
		column[h] = i
	}
	sounding := map[[2]int]int{} // hand and key → its latest note
	both := map[score.Hand]bool{}
	for _, line := range lines[1:] {
		cells := append(strings.Split(line, "\t"), "", "")
		get := func(name string) string { return cells[column[name]] }
		if strings.Contains(get("flags"), "C") {
			return nil, false
		}
		key, err := strconv.Atoi(get("midi"))
		require.NoError(t, err)
		grace, _ := strconv.Atoi(get("grace")) // empty for ordinary notes
		at := fraction(t, get("onset"))
		to := at.Add(fraction(t, get("dur")))
		n := Keystroke{
			Onset: fingering.Moment{Num: at.Num(), Den: at.Den()}, End: fingering.Moment{Num: to.Num(), Den: to.Den()},
			Rank: playing.GraceNote(grace), Key: key, Hand: score.Right,
		}
		if get("hand") == "L" {
			n.Hand = score.Left
		}
		both[n.Hand] = true
		same := [2]int{int(n.Hand), key}
		if before, ok := sounding[same]; ok && (get("tie") == "stop" || get("tie") == "both") &&
			notes[before].End.Compare(n.Onset) >= 0 {
			notes[before].End = n.End
			continue
		}
		sounding[same] = len(notes)
		notes = append(notes, n)
	}
	return notes, len(both) == 2
}

// The hands of historical editions (data/README.md of the shared folder: hand is the home of the voice) are told from
// onset, duration and pitch alone, by weights that have seen none of them.
func TestTheHandsOfEditionsAreTold(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(shared.Folder(t, "data/fingered"), "*.tsv"))
	require.NoError(t, err)
	slices.Sort(files)
	var right [3]int
	all, pieces := 0, 0
	for _, file := range files {
		if filepath.Base(file) == "INDEX.tsv" {
			continue
		}
		notes, ok := played(t, file)
		if !ok {
			continue
		}
		pieces++
		blind := slices.Clone(notes)
		for k := range blind {
			blind[k].Hand = score.NoHand
		}
		for w, tell := range []func([]Keystroke) []score.Hand{AtMiddleC, Nearest, Infer} {
			for k, h := range tell(blind) {
				if h == notes[k].Hand && !notes[k].Rank.IsGrace() {
					right[w]++
				}
			}
		}
		for k := range notes {
			if !notes[k].Rank.IsGrace() {
				all++
			}
		}
	}
	require.Greater(t, pieces, 100)
	share := func(w int) float64 { return float64(right[w]) / float64(all) }
	t.Logf("%d pieces, %d notes: middle C %.4f, nearest %.4f, search %.4f", pieces, all, share(0), share(1), share(2))
	require.Greater(t, share(2), 0.97)
	require.Greater(t, share(2), share(1)+0.03)
	require.Greater(t, share(1), share(0))
}
