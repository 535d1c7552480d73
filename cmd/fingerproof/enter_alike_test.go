package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/shared"
	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

// keyedIn keys lines in on a score of shared/data/fingered, and gives what was said and the piece as it is decided then.
func keyedIn(t *testing.T, id, lines string) (out string, then *decidedPiece) {
	root := t.TempDir()
	text, err := os.ReadFile(filepath.Join(shared.Folder(t, "data/fingered"), id+".mxl"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(root, id+".mxl"), text, 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(root, "lines"), []byte(lines), 0o644))
	status, out, said := command("decisions", "enter", id, filepath.Join(root, "lines"), "--in", root, "--by", "AB", "--yes")
	require.Equal(t, exitClean, status, said)
	then, err = openDecided(&workOptions{workers: 1}, root, id)
	require.NoError(t, err)
	return out, then
}

// decidedTwice names the notes to which decisions give different digits.
func decidedTwice(p *decidedPiece) (out []string) {
	f, digits := decision.NewFinder(p.run.Score), map[int]string{}
	for i := range p.run.Decisions {
		for _, ref := range p.run.Decisions[i].Notes {
			n, _, _ := f.Find(&ref)
			if was, known := digits[n]; known && was != decision.Digits(ref.Fingers) {
				out = append(out, p.run.Score.Place(n))
			}
			digits[n] = decision.Digits(ref.Fingers)
		}
	}
	return out
}

const dance = "chopin__067-1-sam-004"

// A line that goes to like places leaves out the one of which another line of the sitting says something else, and says so; where the
// other says the same, the place is decided once.
func TestALikePlaceHasItsOwnWord(t *testing.T) {
	for lines, want := range map[string]string{
		"1 l 1 5 5+2+1 5+2+1 alike\n3 l ok\n":              "m. 3 as in m. 1: not, line 2 (3 l ok) has its own word there, 3 on A3\n",
		"3 l ok\n1 l 1 5 5+2+1 5+2+1 alike\n":              "m. 3 as in m. 1: not, line 1 (3 l ok) has its own word there, 3 on A3\n",
		"1 l 1 5 5+2+1 5+2+1 alike\n3 l 1 5 5+2+1 5+2+1\n": "m. 3 as in m. 1: another line gives it the same digits\n",
		"1 l 1 5 5+2+1 5+2+1 alike\n":                      "m. 3 as in m. 1: A2=5 E3=5+A3=2+E4=1 E3=5+A3=2+E4=1\n",
	} {
		out, then := keyedIn(t, dance, lines)
		require.Contains(t, out, want, lines)
		require.Empty(t, decidedTwice(then), lines)
	}
}

// Two passages come again at one note with other digits: the sheet says whose it will have, and enter says whose it has.
func TestANoteThatTwoPassagesBringBackIsSaidToHaveOne(t *testing.T) {
	const id = dance
	root := t.TempDir()
	text, err := os.ReadFile(filepath.Join(shared.Folder(t, "data/fingered"), id+".mxl"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(root, id+".mxl"), text, 0o644))
	status, sheet, said := command("decisions", "template", id, "--in", root)
	require.Equal(t, exitClean, status, said)
	require.Contains(t, sheet, "m. 3 (C5 as in #1, if that is answered too)")
	out, then := keyedIn(t, id, "0-1 r ok\n53-68 r ok\n")
	require.Contains(t, out, "m. 3: C5 has 4-3-4, of m. 1, which comes again there too, and not 3-2-4 of m. 53\n")
	require.Contains(t, out, "m. 3, transposed, also gets C5=4-3-4 B4=3 (suggested there: C5=3-2-4)\n")
	require.Empty(t, decidedTwice(then))
}

// On the sheet a digit that is decided has its mark beside those that are asked, and its head says what the mark means.
func TestASheetMarksWhatIsDecided(t *testing.T) {
	_, then := keyedIn(t, dance, "1 l 1 5\n")
	var sheet strings.Builder
	require.NoError(t, writeSheet(&sheet, then.run, "", nil))
	require.Contains(t, sheet.String(), "° behind a digit: it is\ndecided")
	require.Contains(t, sheet.String(), "     1 l 1  A2=5° E3=5!+A3=3!+E4=1! ")
}

// A finding that lines let stand and that goes with the digits of the same lines is said to be gone for that; one that stands is not (a redistribution of a piece of shared/data/fingered, after which a grip is no longer beyond the hand).
func TestWhatIsGoneWithTheLinesThemselvesIsSaid(t *testing.T) {
	const id, gone = "clementim__o42-clementi-op42-lyt-l44-paradies", "m. 15: grip-out-of-reach is not found any more with the digits of these lines"
	stet := "15 l stet grip-out-of-reach: wide\n"
	out, _ := keyedIn(t, id, stet)
	require.NotContains(t, out, gone)
	out, _ = keyedIn(t, id, stet+"15 l 2 .+1 other hand\n23 l 2 .+1 other hand\n")
	require.Contains(t, out, gone)
}
