package suggest_test

import (
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

// stagedPassage is a few notes of one hand with the answers that an editor would accept.
type stagedPassage struct {
	Name  string
	Aim   string
	Why   string // where the answer comes from
	Hand  string // R or L
	Music string // see stage
	Tempo int    // quarters a minute
	Set   map[string]any
	// Accept lists answers, one word an event as struck, chords from the lowest key up: "1 3 5", a dot for any finger, a star for any with or without a
	// silent change, "4>5" for a silent change, "{2 3}" a row for a sign.
	Accept []string
	// Without turns an aim off: the answer must then be none of the accepted ones, so that it is the aim that gives them.
	Without string
}

var stagedNote = regexp.MustCompile(`^(\(*)([~^]?)([A-G][#b]?\d(?:\+[A-G][#b]?\d)*|r)(?:/(\d+\.?))?([.'_>]*)(?:=(\d))?(?:!([a-z-]+\d?))?(\)*)$`)

// stage turns "C4/8 (D4 E4+G4/4) r/4 F4'" into a measure: notes joined by + sound together, /8 is an eighth and holds on, a
// parenthesis is a slur, ' a staccato, _ a tenuto, =5 a digit that stands there, !trill a sign, ~ a tie from the note before, ^ a rolled chord.
func stage(t *testing.T, p stagedPassage) *score.Score {
	t.Helper()
	staff, value := 1, 8
	dot := false
	if p.Hand == "L" {
		staff = 2
	}
	var b strings.Builder
	length, slurs := 0, 0
	tokens := strings.Fields(p.Music)
	for i, token := range tokens {
		m := stagedNote.FindStringSubmatch(token)
		require.NotNil(t, m, "%s: %q", p.Name, token)
		if m[4] != "" {
			dot = strings.HasSuffix(m[4], ".")
			value, _ = strconv.Atoi(strings.TrimSuffix(m[4], "."))
		}
		d := 64 / value
		if dot {
			d += d / 2
		}
		length += d
		if m[3] == "r" {
			fmt.Fprintf(&b, `<note><rest/><duration>%d</duration><voice>1</voice><staff>%d</staff></note>`, d, staff)
			continue
		}
		tieOn := i+1 < len(tokens) && strings.Contains(tokens[i+1], "~")
		for k, pitch := range strings.Split(m[3], "+") {
			more, notations := "", ""
			if m[2] == "~" {
				more += `<tie type="stop"/>`
				notations += `<tied type="stop"/>`
			}
			if tieOn {
				more += `<tie type="start"/>`
				notations += `<tied type="start"/>`
			}
			if k == 0 {
				for range m[1] {
					slurs++
					notations += fmt.Sprintf(`<slur type="start" number="%d"/>`, slurs)
				}
				for range m[8] {
					notations += fmt.Sprintf(`<slur type="stop" number="%d"/>`, slurs)
					slurs--
				}
			}
			if strings.Contains(m[5], "'") {
				notations += `<articulations><staccato/></articulations>`
			}
			if strings.Contains(m[5], "_") {
				notations += `<articulations><tenuto/></articulations>`
			}
			if m[2] == "^" {
				notations += `<arpeggiate/>`
			}
			if m[6] != "" && k == 0 {
				notations += fmt.Sprintf(`<technical><fingering>%s</fingering></technical>`, m[6])
			}
			switch sign := m[7]; {
			case sign == "trill":
				notations += `<ornaments><trill-mark/></ornaments>`
			case strings.HasPrefix(sign, "tremolo"):
				notations += fmt.Sprintf(`<ornaments><tremolo type="single">%s</tremolo></ornaments>`, strings.TrimPrefix(sign, "tremolo"))
			case sign == "shake":
				notations += fmt.Sprintf(`<ornaments><tremolo type="%s">3</tremolo></ornaments>`, map[bool]string{true: "start", false: "stop"}[i%2 == 0])
			case sign == "glide":
				notations += fmt.Sprintf(`<glissando type="%s" number="1"/>`, map[bool]string{true: "start", false: "stop"}[i == 0])
			case sign != "":
				notations += fmt.Sprintf(`<ornaments><%s/></ornaments>`, sign)
			}
			chord := ""
			if k > 0 {
				chord = "<chord/>"
			}
			alter := map[byte]string{'#': "<alter>1</alter>", 'b': "<alter>-1</alter>"}[pitch[1]]
			fmt.Fprintf(&b, `<note>%s<pitch><step>%c</step>%s<octave>%c</octave></pitch><duration>%d</duration>%s<voice>1</voice><staff>%d</staff><notations>%s</notations></note>`,
				chord, pitch[0], alter, pitch[len(pitch)-1], d, tiesFirst(more), staff, notations)
		}
	}
	text := `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1"><measure number="1">` +
		fmt.Sprintf(`<attributes><divisions>16</divisions><time><beats>%d</beats><beat-type>16</beat-type></time><staves>2</staves></attributes>`, max(length/4, 1)) +
		fmt.Sprintf(`<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>%d</per-minute></metronome></direction-type></direction>`, p.Tempo) +
		b.String() + `</measure></part></score-partwise>`
	return read(t, text)
}

// tiesFirst: the standard puts tie before voice, and after duration, as it stands.
func tiesFirst(ties string) string { return ties }

// asked is what the stage is asked about a score under the default policy, changed by settings, later ones over earlier ones.
func asked(t *testing.T, s *score.Score, sets ...map[string]any) suggest.Input {
	t.Helper()
	settings := map[string]any{"extends": "default"}
	for _, from := range sets {
		for key, v := range from {
			nest(settings, strings.Split(key, "."), v)
		}
	}
	data, err := yaml.Marshal(settings)
	require.NoError(t, err)
	file := t.TempDir() + "/policy.yaml"
	require.NoError(t, os.WriteFile(file, data, 0o600))
	policy, err := policies.Load(file)
	require.NoError(t, err)
	assigned, err := hands.Assign(s, hands.Scoring{Kind: "two hands"})
	require.NoError(t, err)
	whose, err := attribute.Whose(s, score.Composer)
	require.NoError(t, err)
	pace := tempo.Find(tempo.Input{Score: s, Policy: policy})
	profile, err := hand.Named(policy.HandName())
	require.NoError(t, err)
	return suggest.Input{Score: s, Whose: whose, Playing: playing.New(s, *assigned), Tempo: &pace, Policy: policy, Touch: policy.Touch(0), Profile: profile, Weights: effort.Delivered()}
}

// answer fingers a staged passage under its policy, changed by more settings.
func answer(t *testing.T, p stagedPassage, set map[string]any) string {
	t.Helper()
	s := stage(t, p)
	got := suggest.Suggest(asked(t, s, p.Set, set))
	var words []string
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Kind != score.Pitched || n.TiedFrom >= 0 {
			continue
		}
		word := fmt.Sprint(got.Notes[i].Finger)
		if to := got.Notes[i].Substitution; to > 0 {
			word += fmt.Sprintf(">%d", to)
		}
		if row := got.Notes[i].Row; row != nil {
			word = strings.ReplaceAll(strings.NewReplacer("[", "{", "]", "}").Replace(fmt.Sprint(row)), " ", ",")
		}
		if n.Chord {
			words[len(words)-1] += "+" + word
			continue
		}
		words = append(words, word)
	}
	return strings.Join(words, " ")
}

func nest(into map[string]any, path []string, v any) {
	if len(path) == 1 {
		into[path[0]] = v
		return
	}
	inner, ok := into[path[0]].(map[string]any)
	if !ok {
		inner = map[string]any{}
		into[path[0]] = inner
	}
	nest(inner, path[1:], v)
}

func accepted(answers []string, got string) bool {
	for _, a := range answers {
		pattern := "^" + strings.NewReplacer(`\.`, `[1-5]`, `\*`, `[1-5](?:>[1-5])?`).Replace(regexp.QuoteMeta(a)) + "$"
		if regexp.MustCompile(pattern).MatchString(got) {
			return true
		}
	}
	return false
}

// TestStagedPassages holds the suggestion against answers written down beforehand from handbooks and common practice: comfort alone is
// not what editors print, and each aim has to move what it is there for.
func TestStagedPassages(t *testing.T) {
	data, err := os.ReadFile("testdata/staged.yaml")
	require.NoError(t, err)
	var passages []stagedPassage
	require.NoError(t, yaml.Unmarshal(data, &passages))
	musical := 0
	for _, p := range passages {
		t.Run(p.Name, func(t *testing.T) {
			require.NotEmpty(t, p.Why)
			got := answer(t, p, nil)
			require.True(t, accepted(p.Accept, got), "%s\ngot    %s\naccept %v\nwithout line and tempo %s", p.Music, got, p.Accept, answer(t, p, map[string]any{"aims.line": 0, "aims.tempo": 0, "aims.reach": 0}))
			if p.Without != "" {
				plain := answer(t, p, map[string]any{p.Without: 0})
				require.False(t, accepted(p.Accept, plain), "%s gives %s without %s too", p.Music, plain, p.Without)
			}
		})
		if p.Without != "" {
			musical++
		}
	}
	require.GreaterOrEqual(t, 3*musical, len(passages), "too few passages in which the musical answer differs from the comfortable one")
}

// Every aim of the policy moves passages, and moves them towards itself: leaving it out changes an answer.
func TestEachAimMovesSomething(t *testing.T) {
	data, err := os.ReadFile("testdata/staged.yaml")
	require.NoError(t, err)
	var passages []stagedPassage
	require.NoError(t, yaml.Unmarshal(data, &passages))
	for _, aim := range []string{"comfort", "line", "memory", "habit", "tempo", "reach"} {
		moved := 0
		for _, p := range passages {
			if answer(t, p, nil) != answer(t, p, map[string]any{"aims." + aim: 0}) {
				moved++
			}
		}
		require.GreaterOrEqual(t, moved, 3, "%s moves %d passages", aim, moved)
	}
}
