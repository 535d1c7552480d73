package suggest_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

// memoryPassage is music in which something returns.
type memoryPassage struct {
	Name, Why   string
	Right, Left string         // measures of common time between bars, notes as in stage
	Set         map[string]any // policy
	Apart       int            // measure, counted from 1, declared to differ; 0: none
	Kind        string         // the kind of return that is looked at
	// "all" notes of these returns; "some" not all; a number: at least so many in a hundred
	Alike   string
	Without string   // the key of the policy that, set to 0, must leave fewer notes alike
	Digits  []string // what must stand, "R2.1=4": right hand, measure 2, first note
}

func measuresOf(t *testing.T, p memoryPassage) *score.Score {
	t.Helper()
	staff := func(text string, number int) []string {
		var out []string
		if text == "" {
			return nil
		}
		value := 8
		for _, m := range strings.Split(text, "|") {
			var b strings.Builder
			for _, token := range strings.Fields(m) {
				f := stagedNote.FindStringSubmatch(token)
				require.NotNil(t, f, "%s: %q", p.Name, token)
				if f[4] != "" {
					_, err := fmt.Sscan(f[4], &value)
					require.NoError(t, err)
				}
				d := 64 / value
				if f[3] == "r" {
					fmt.Fprintf(&b, `<note><rest/><duration>%d</duration><voice>%d</voice><staff>%d</staff></note>`,
						d, number, number)
					continue
				}
				for k, pitch := range strings.Split(f[3], "+") {
					chord, digit := "", ""
					if k > 0 {
						chord = "<chord/>"
					} else if f[6] != "" {
						digit = `<notations><technical><fingering>` + f[6] + `</fingering></technical></notations>`
					}
					alter := map[byte]string{'#': "<alter>1</alter>", 'b': "<alter>-1</alter>"}[pitch[1]]
					fmt.Fprintf(&b,
						`<note>%s<pitch><step>%c</step>%s<octave>%c</octave></pitch><duration>%d</duration><voice>%d</voice><staff>%d</staff>%s</note>`,
						chord, pitch[0], alter, pitch[len(pitch)-1], d, number, number, digit)
				}
			}
			out = append(out, b.String())
		}
		return out
	}
	right, left := staff(p.Right, 1), staff(p.Left, 2)
	var b strings.Builder
	for m := range max(len(right), len(left)) {
		fmt.Fprintf(&b, `<measure number="%d">`, m+1)
		if m == 0 {
			b.WriteString(
				`<attributes><divisions>16</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes><direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>84</per-minute></metronome></direction-type></direction>`)
		}
		if m < len(right) {
			b.WriteString(right[m])
		}
		if m < len(left) {
			if m < len(right) {
				b.WriteString(`<backup><duration>64</duration></backup>`)
			}
			b.WriteString(left[m])
		}
		b.WriteString(`</measure>`)
	}
	return read(t,
		`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`+b.String()+`</part></score-partwise>`)
}

// remembered fingers a passage and counts the notes of its returns of the kind, and those alike.
func remembered(t *testing.T, p memoryPassage, s *score.Score, off string) (got *suggest.Suggestion, alike, all int) {
	t.Helper()
	without := map[string]any{}
	if off != "" {
		without[off] = 0
	}
	in := asked(t, s, p.Set, without)
	returns := parallel.Find(s, in.Playing)
	in.Returns = returns
	if p.Kind == parallel.Figure.String() {
		returns = parallel.Figures(s, in.Playing)
	}
	if p.Apart > 0 {
		in.Apart = make([]bool, len(s.Notes))
		for i := range s.Notes {
			in.Apart[i] = s.Notes[i].Measure == p.Apart-1
		}
	}
	got = suggest.Suggest(in)
	for _, r := range returns {
		if r.Kind.String() != p.Kind {
			continue
		}
		for k := range r.Later {
			all++
			if got.Notes[r.First[k]].Finger == got.Notes[r.Later[k]].Finger {
				alike++
			}
		}
	}
	return got, alike, all
}

// digitsOf prints the fingers of a measure and hand, for messages and for what must stand.
func digitsOf(s *score.Score, got *suggest.Suggestion, staff, measure int) (out []int) {
	for i := range s.Notes {
		if n := &s.Notes[i]; n.Kind == score.Pitched && n.Staff == staff && n.Measure == measure-1 {
			out = append(out, int(got.Notes[i].Finger))
		}
	}
	return out
}

// TestStagedReturns holds memory against what an editor expects of each passage: written down beforehand, by common
// practice.
func TestStagedReturns(t *testing.T) {
	data, err := os.ReadFile("testdata/memory.yaml")
	require.NoError(t, err)
	var passages []memoryPassage
	require.NoError(t, yaml.Unmarshal(data, &passages))
	require.GreaterOrEqual(t, len(passages), 20)
	musical := 0
	for _, p := range passages {
		if p.Without != "" {
			musical++
		}
		t.Run(p.Name, func(t *testing.T) {
			s := measuresOf(t, p)
			got, alike, all := remembered(t, p, s, "")
			said := ""
			for m := range s.Measures {
				said += fmt.Sprintf("m. %d R %v L %v\n", m+1, digitsOf(s, got, 1, m+1), digitsOf(s, got, 2, m+1))
			}
			require.NotEmpty(t, p.Why)
			require.Positive(t, all, "nothing returns: it is no passage for this test\n%s", said)
			switch p.Alike {
			case "all":
				require.Equal(t, all, alike, said)
			case "some":
				require.Less(t, alike, all, said)
			default:
				var percent int
				_, err := fmt.Sscan(p.Alike, &percent)
				require.NoError(t, err)
				require.GreaterOrEqual(t, 100*alike, percent*all, "%d of %d\n%s", alike, all, said)
			}
			for _, d := range p.Digits {
				var h byte
				var measure, note, finger int
				_, err := fmt.Sscanf(d, "%c%d.%d=%d", &h, &measure, &note, &finger)
				require.NoError(t, err, d)
				staff := 1
				if h == 'L' {
					staff = 2
				}
				require.Equal(t, finger, digitsOf(s, got, staff, measure)[note-1], "%s\n%s", d, said)
			}
			if p.Without != "" {
				_, plain, _ := remembered(t, p, s, p.Without)
				require.Less(t, plain, alike, "as much is alike without %s\n%s", p.Without, said)
			}
		})
	}
	require.GreaterOrEqual(t, 3*musical, len(passages),
		"too few passages in which the answer differs from that without memory")
}
