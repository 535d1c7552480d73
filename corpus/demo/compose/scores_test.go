package main

import (
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus/shared/outsidetest"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

const collectionFolder = ".."

// parts parses every composed score, by path within the collection.
func parts(t *testing.T) (paths []string, byPath map[string]*etree.Element) {
	t.Helper()
	files, err := composeFolder(collectionFolder)
	require.NoError(t, err)
	byPath = map[string]*etree.Element{}
	for _, file := range files {
		document := etree.NewDocument()
		require.NoError(t, document.ReadFromBytes(file.content), file.path)
		byPath[file.path] = document.FindElement("score-partwise/part")
		require.NotNil(t, byPath[file.path], file.path)
		paths = append(paths, file.path)
	}
	return paths, byPath
}

func number(element *etree.Element, path string) int {
	child := element.FindElement(path)
	if child == nil {
		return 0
	}
	value, _ := strconv.Atoi(child.Text())
	return value
}

func TestScoresInTheTreeAreUpToDate(t *testing.T) {
	files, err := composeFolder(collectionFolder)
	require.NoError(t, err)
	var expected, found []string
	for _, file := range files {
		expected = append(expected, file.path)
		written, err := os.ReadFile(filepath.Join(collectionFolder, file.path))
		require.NoError(t, err, "run: go run ./corpus/demo/compose -in corpus/demo")
		require.Equal(
			t, string(file.content), string(written), "%s is stale; run: go run ./corpus/demo/compose -in corpus/demo",
			file.path,
		)
	}
	for _, folder := range []string{"scores", "witnesses"} {
		entries, err := os.ReadDir(filepath.Join(collectionFolder, folder))
		require.NoError(t, err)
		for _, entry := range entries {
			found = append(found, folder+"/"+entry.Name())
		}
	}
	sort.Strings(expected)
	require.Equal(t, expected, found, "nothing but composed scores lies in scores and witnesses")
}

// The written file is added up anew, without the composer's own reckoning.
func TestEveryMeasureAddsUpInEveryVoice(t *testing.T) {
	paths, byPath := parts(t)
	for _, path := range paths {
		beats, unit, divisions := 0, 0, 0
		measures := byPath[path].SelectElements("measure")
		require.GreaterOrEqual(t, len(measures), 16, path)
		require.LessOrEqual(t, len(measures), 60, path)
		for _, measure := range measures {
			if n := number(measure, "attributes/divisions"); n > 0 {
				divisions = n
			}
			if n := number(measure, "attributes/time/beats"); n > 0 {
				beats, unit = n, number(measure, "attributes/time/beat-type")
			}
			full, at := divisions*beats*4/unit, 0
			filled := map[string]int{}
			for _, child := range measure.ChildElements() {
				duration := number(child, "duration")
				switch {
				case child.Tag == "backup":
					at -= duration
				case child.Tag == "forward" || child.Tag == "note" && child.SelectElement("chord") == nil:
					voice := child.SelectElement("voice").Text()
					require.Equal(
						t, filled[voice], at, "%s measure %s: voice %s has a gap", path,
						measure.SelectAttrValue("number", ""), voice,
					)
					filled[voice] += duration
					at += duration
				}
			}
			if measure.SelectAttrValue("implicit", "") == "yes" {
				for voice, length := range filled {
					require.Equal(
						t, at, length, "%s measure %s voice %s", path, measure.SelectAttrValue("number", ""), voice,
					)
				}
				continue
			}
			for voice, length := range filled {
				require.Equal(
					t, full, length, "%s measure %s voice %s", path, measure.SelectAttrValue("number", ""), voice,
				)
			}
		}
	}
}

func TestEveryNoteHasItsOwnIdentity(t *testing.T) {
	paths, byPath := parts(t)
	for _, path := range paths {
		for i, note := range byPath[path].FindElements("measure/note") {
			require.Equal(t, fmt.Sprintf("n%d", i+1), note.SelectAttrValue("id", ""), path)
		}
	}
}

// Signs that open must close, in turn: wedges, octave signs, pedal, slurs, tuplets, beams.
func TestSignsCloseAgain(t *testing.T) {
	paths, byPath := parts(t)
	opening := map[string]bool{
		"start": true, "crescendo": true, "diminuendo": true, "up": true, "down": true, "begin": true,
	}
	closing := map[string]bool{"stop": true, "end": true}
	for _, path := range paths {
		open := map[string]string{}
		step := func(name, kind, place string) {
			switch {
			case opening[kind]:
				require.Empty(t, open[name], "%s %s: %s opens within itself", path, place, name)
				open[name] = place
			case closing[kind]:
				require.NotEmpty(t, open[name], "%s %s: %s closes without having been opened", path, place, name)
				delete(open, name)
			}
		}
		for _, measure := range byPath[path].SelectElements("measure") {
			place := "measure " + measure.SelectAttrValue("number", "")
			for _, name := range []string{"wedge", "octave-shift"} {
				for _, sign := range measure.FindElements("direction/direction-type/" + name) {
					step(name+sign.SelectAttrValue("number", ""), sign.SelectAttrValue("type", ""), place)
				}
			}
			for _, sign := range measure.FindElements("direction/direction-type/pedal") {
				if sign.SelectAttrValue("type", "") == "start" { // a new pedal takes the place of the one before
					delete(open, "pedal")
				}
				step("pedal", sign.SelectAttrValue("type", ""), place)
			}
			for _, note := range measure.SelectElements("note") {
				voice := note.SelectElement("voice").Text()
				for _, slur := range note.FindElements("notations/slur") {
					step("slur"+slur.SelectAttrValue("number", ""), slur.SelectAttrValue("type", ""), place)
				}
				for _, tuplet := range note.FindElements("notations/tuplet") {
					step("tuplet"+voice, tuplet.SelectAttrValue("type", ""), place)
				}
				for _, beam := range note.SelectElements("beam") {
					step("beam"+voice+"/"+beam.SelectAttrValue("number", ""), beam.Text(), place)
				}
			}
		}
		require.Empty(t, open, path)
	}
}

// A hand of a tenth takes every chord that is not rolled. Struck together counts by hand, whatever the staff; the
// piece for one hand is left out, since there both staves are one hand's.
func TestChordsLieWithinATenth(t *testing.T) {
	const tenth = 16 // semitones, a major tenth
	files, err := filepath.Glob(filepath.Join(collectionFolder, "pieces", "*.piece"))
	require.NoError(t, err)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		piece, err := readPiece(file, strings.TrimSuffix(filepath.Base(file), ".piece"), string(text))
		require.NoError(t, err)
		require.NoError(t, piece.resolve(""))
		for _, measure := range piece.Measures {
			struck := map[string][]int{} // hand and onset to keys
			for _, voice := range measure.Voices {
				for _, event := range voice.Events {
					place := fmt.Sprintf("%c at %d/%d", voice.Name[0], event.Onset, quarter)
					if event.Grace != noGrace || strings.Contains(strings.Join(event.Marks, " "), "arp") {
						continue
					}
					for _, note := range event.Notes {
						if !note.Tied {
							struck[place] = append(struck[place], note.Pitch.Midi())
						}
					}
				}
			}
			for place, keys := range struck {
				sort.Ints(keys)
				require.LessOrEqual(t, len(keys), 5, "%s measure %d %s", piece.ID, measure.Number, place)
				require.LessOrEqual(
					t, keys[len(keys)-1]-keys[0], tenth, "%s measure %d %s", piece.ID, measure.Number, place,
				)
				for i := 1; i < len(keys); i++ {
					require.NotEqual(
						t, keys[i-1], keys[i], "%s measure %d %s: one key twice", piece.ID, measure.Number, place,
					)
				}
			}
		}
	}
}

// Every voice sounding in a hand at one time, held notes included, stays within what one hand holds. Pieces that mean
// the pedal to hold are left out.
func TestHeldVoicesCanBeHeld(t *testing.T) {
	const widest = 17 // semitones
	for _, id := range []string{"op9-3-romance", "op9-1-chorale", "op3-4-unequal"} {
		text, err := os.ReadFile(filepath.Join(collectionFolder, "pieces", id+".piece"))
		require.NoError(t, err)
		piece, err := readPiece(id, id, string(text))
		require.NoError(t, err)
		require.NoError(t, piece.resolve(""))
		for _, measure := range piece.Measures {
			for _, hand := range "RL" {
				for at := 0; at < measure.Ticks; at += quarter / 12 {
					low, high := 200, 0
					for _, voice := range measure.Voices {
						for _, event := range voice.Events {
							rolled := strings.Contains(strings.Join(event.Marks, " "), "arp")
							if rune(voice.Name[0]) != hand || event.Onset > at || event.Onset+event.Ticks <= at ||
								rolled {
								continue
							}
							for _, note := range event.Notes {
								low, high = min(low, note.Pitch.Midi()), max(high, note.Pitch.Midi())
							}
						}
					}
					require.LessOrEqual(t, high-low, widest, "%s measure %d, hand %c", id, measure.Number, hand)
				}
			}
		}
	}
}

func TestScoresAreValidMusicXML(t *testing.T) {
	paths, _ := parts(t)
	var files []string
	for _, path := range paths {
		files = append(files, filepath.Join(collectionFolder, path))
	}
	require.Empty(t, outsidetest.Invalid(t, files...))
}

// No voice strikes a key that another is holding down.
func TestNoKeyIsStruckWhileItIsHeld(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(collectionFolder, "pieces", "*.piece"))
	require.NoError(t, err)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		piece, err := readPiece(file, strings.TrimSuffix(filepath.Base(file), ".piece"), string(text))
		require.NoError(t, err)
		for _, siglum := range append([]string{""}, sigla(piece)...) {
			require.NoError(t, piece.resolve(siglum))
			for _, measure := range piece.Measures {
				for _, voice := range measure.Voices {
					for _, event := range voice.Events {
						for _, note := range event.Notes {
							if event.Grace == noGrace {
								requireFree(t, piece.ID+siglum, measure, voice, event.Onset, note.Pitch.Midi())
							}
						}
					}
				}
			}
		}
	}
}

func sigla(p *Piece) (names []string) {
	for _, witness := range p.Witnesses {
		names = append(names, witness.Siglum)
	}
	return names
}

// requireFree looks for another voice that sounds the key at the onset.
func requireFree(t *testing.T, piece string, measure *Measure, voice *Voice, onset, key int) {
	t.Helper()
	for _, other := range measure.Voices {
		if other == voice {
			continue
		}
		for _, event := range other.Events {
			for _, note := range event.Notes {
				if event.Onset <= onset && onset < event.Onset+event.Ticks {
					require.NotEqual(
						t, key, note.Pitch.Midi(), "%s measure %d at %d/%d: voices %s and %s", piece, measure.Number,
						onset, quarter, voice.Name, other.Name,
					)
				}
			}
		}
	}
}
