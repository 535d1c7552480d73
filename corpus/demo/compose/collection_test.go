package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

// The manifest and the composed scores must name the same pieces and witnesses, numbering included.
func TestManifestNamesEveryScore(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(collectionFolder, "collection.yaml"))
	require.NoError(t, err)
	var manifest struct {
		Pieces []struct {
			ID, Score string
			Witnesses []struct{ Siglum, Score, Numbering string }
		}
	}
	require.NoError(t, yaml.Unmarshal(text, &manifest))
	require.GreaterOrEqual(t, len(manifest.Pieces), 12)
	var named []string
	old := 0
	for _, piece := range manifest.Pieces {
		require.Equal(t, "scores/"+piece.ID+".musicxml", piece.Score)
		named = append(named, piece.Score)
		source, err := os.ReadFile(filepath.Join(collectionFolder, "pieces", piece.ID+".piece"))
		require.NoError(t, err)
		for _, witness := range piece.Witnesses {
			require.Equal(t, "witnesses/"+piece.ID+"."+witness.Siglum+".musicxml", witness.Score)
			require.Contains(t, string(source), "witness "+witness.Siglum+" "+witness.Numbering+" ", piece.ID)
			named = append(named, witness.Score)
			if witness.Numbering == "old" {
				old++
			}
		}
	}
	require.Positive(t, old, "one witness at least counts the old way")
	paths, _ := parts(t)
	require.ElementsMatch(t, paths, named)
}

// Every kind of sign the collection is meant to show occurs in it.
func TestCollectionShowsEverySign(t *testing.T) {
	paths, byPath := parts(t)
	wanted := []string{
		"note/grace[@slash='yes']", "note/time-modification", "note/notations/ornaments/trill-mark",
		"note/notations/ornaments/turn",
		"note/notations/arpeggiate", "note/notations/fermata", "note/notations/slur", "note/notations/tied",
		"note/notations/articulations/staccato", "note/notations/articulations/tenuto",
		"note/notations/articulations/accent",
		"note/notations/technical/fingering", "note/notations/technical/fingering[@substitution='yes']",
		"direction/direction-type/pedal", "direction/direction-type/wedge", "direction/direction-type/octave-shift",
		"direction/direction-type/dynamics", "direction/direction-type/metronome", "barline/repeat", "barline/ending"}
	signs := map[string]bool{}
	for _, path := range paths {
		for _, measure := range byPath[path].SelectElements("measure") {
			for _, want := range wanted {
				if measure.FindElement(want) != nil {
					signs[want] = true
				}
			}
			signs["clef change"] = signs["clef change"] ||
				measure.FindElement("attributes/clef") != nil && measure.FindElement("attributes/divisions") == nil
			signs["pickup"] = signs["pickup"] || measure.SelectAttrValue("number", "") == "0"
			for _, words := range measure.FindElements("direction/direction-type/words") {
				signs[words.Text()] = true
			}
			for _, note := range measure.SelectElements("note") {
				staff, voice := note.SelectElement("staff").Text(), note.SelectElement("voice").Text()
				signs["right hand on the lower staff"] = signs["right hand on the lower staff"] ||
					voice < "5" && staff == "2"
				signs["left hand on the upper staff"] = signs["left hand on the upper staff"] ||
					voice >= "5" && staff == "1"
			}
		}
	}
	for _, want := range append(
		wanted, "clef change", "pickup", "m.s.", "m.d.", "right hand on the lower staff",
		"left hand on the upper staff",
	) {
		require.True(t, signs[want], "no piece has %s", want)
	}
}

// texture gathers what a witness may differ in: the notes, the slurs, the digits.
func texture(part *etree.Element, oldNumbering bool) (notes, slurs, digits string) {
	var n, s, d strings.Builder
	for _, measure := range part.SelectElements("measure") {
		place := "|" + measure.SelectAttrValue("number", "")
		for i, note := range measure.SelectElements("note") {
			for _, path := range []string{"pitch/step", "pitch/alter", "pitch/octave", "duration"} {
				if element := note.FindElement(path); element != nil {
					n.WriteString(element.Text())
				}
			}
			n.WriteString(" ")
			for _, slur := range note.FindElements("notations/slur") {
				s.WriteString(fmt.Sprint(place, "/", i) + slur.SelectAttrValue("type", ""))
			}
			for _, finger := range note.FindElements("notations/technical/fingering") {
				digit := finger.Text()
				if oldNumbering {
					digit = string("12345"[strings.Index("+1234", digit)])
				}
				d.WriteString(place + "=" + digit)
			}
		}
	}
	return n.String(), s.String(), d.String()
}

func TestWitnessesDifferInNotesSlursAndDigits(t *testing.T) {
	files, err := composeFolder(collectionFolder)
	require.NoError(t, err)
	paths, byPath := parts(t)
	oldNumbering := map[string]bool{}
	for _, file := range files {
		oldNumbering[file.path] = strings.Contains(string(file.content), ">+</fingering>")
	}
	for _, path := range paths {
		if !strings.HasPrefix(path, "witnesses/") {
			continue
		}
		id := strings.Split(filepath.Base(path), ".")[0]
		notes, slurs, digits := texture(byPath["scores/"+id+".musicxml"], false)
		itsNotes, itsSlurs, itsDigits := texture(byPath[path], oldNumbering[path])
		require.NotEqual(t, notes, itsNotes, "%s has the same notes", path)
		require.NotEqual(t, slurs, itsSlurs, "%s has the same slurs", path)
		require.NotEqual(t, digits, itsDigits, "%s has the same digits", path)
		require.Equal(
			t, oldNumbering[path], strings.HasSuffix(path, ".B.musicxml"), "%s: the English prints count the old way",
			path,
		)
	}
}

// keysOf lists the keys and onsets of a measure, voice by voice.
func keysOf(m *Measure, by int) (keys [][3]int) {
	for _, voice := range m.Voices {
		for _, event := range voice.Events {
			for _, note := range event.Notes {
				keys = append(keys, [3]int{voice.Number, event.Onset, note.Pitch.Midi() + by})
			}
		}
	}
	return keys
}

func TestReturnsAreWhatTheyAreMeantToBe(t *testing.T) {
	read := func(id string) []*Measure {
		text, err := os.ReadFile(filepath.Join(collectionFolder, "pieces", id+".piece"))
		require.NoError(t, err)
		piece, err := readPiece(id, id, string(text))
		require.NoError(t, err)
		require.NoError(t, piece.resolve(""))
		return piece.Measures
	}
	waltz := read("op12-2-waltz") // has a pickup, so that index and number agree
	for n := 1; n <= 7; n++ {
		require.Equal(t, keysOf(waltz[n], -7), keysOf(waltz[n+16], 0), "measure %d of the waltz a fifth lower", n)
		require.Equal(t, keysOf(waltz[n], 0), keysOf(waltz[n+28], 0), "measure %d of the waltz at the end", n)
	}
	impromptu := read("op12-3-impromptu")
	require.NotEqual(t, keysOf(impromptu[0], 0), keysOf(impromptu[16], 0))
	require.Equal(t, impromptu[0].Voices[0].Events[0].Notes[0].Pitch, impromptu[16].Voices[0].Events[0].Notes[0].Pitch)
	sequence := read("op9-2-sequence")
	right := func(n int) (steps []int) {
		for _, event := range sequence[n-1].Voices[0].Events {
			steps = append(steps, event.Notes[0].Pitch.Diatonic())
		}
		return steps
	}
	for _, n := range []int{3, 4, 5, 6} {
		later := right(n + 2)
		for i, step := range right(n) {
			require.Equal(t, step-1, later[i], "measure %d goes down a step in measure %d", n, n+2)
		}
	}
}
