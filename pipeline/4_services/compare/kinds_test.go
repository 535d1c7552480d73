package compare_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/compare"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
)

const tail = `<note><pitch><step>A</step><octave>4</octave></pitch><duration>2</duration><voice>1</voice><staff>1</staff></note>` +
	`<note><pitch><step>B</step><octave>4</octave></pitch><duration>2</duration><voice>1</voice><staff>1</staff></note>` +
	`<note><pitch><step>C</step><octave>5</octave></pitch><duration>2</duration><voice>1</voice><staff>1</staff></note>`

func slur(kind, number string) string { return `<slur type="` + kind + `" number="` + number + `"/>` }

func sign(words string) string {
	return `<direction><direction-type><words>` + words + `</words></direction-type><staff>1</staff></direction>`
}

// inside replaces a part of a written note.
func inside(note, old, new string) string { return strings.Replace(note, old, new, 1) }

// Each sign and each look is named in the trade's words.
func TestSignsAndLooksAreNamed(t *testing.T) {
	plain := n("G4", 2) + tail
	const restOfTwo = `<note><rest/><duration>2</duration><voice>1</voice><staff>1</staff></note>`
	low := `<backup><duration>8</duration></backup>` + strings.ReplaceAll(n("C3", 8), `<staff>1`, `<staff>2`)
	lowFingered := `<backup><duration>8</duration></backup>` + strings.ReplaceAll(n("C3", 8, fingers(f("3"))), `<staff>1`, `<staff>2`)
	marked := func(inner string) string { return n("G4", 2, inner) + tail }
	for name, c := range map[string]struct {
		old, new string
		want     []string
	}{
		"staccatissimo":                 {marked(`<articulations><staccatissimo/></articulations>`), plain, []string{"articulation: staccatissimo → "}},
		"tenuto":                        {plain, marked(`<articulations><tenuto/></articulations>`), []string{"articulation:  → tenuto"}},
		"accent":                        {plain, marked(`<articulations><accent/></articulations>`), []string{"articulation:  → accent"}},
		"strong accent":                 {plain, marked(`<articulations><strong-accent/></articulations>`), []string{"articulation:  → strong accent"}},
		"portato":                       {plain, marked(`<articulations><detached-legato/></articulations>`), []string{"articulation:  → portato"}},
		"breath mark":                   {plain, marked(`<articulations><breath-mark/></articulations>`), []string{"articulation:  → breath mark"}},
		"two signs":                     {plain, marked(`<articulations><staccato/><accent/></articulations>`), []string{"articulation:  → staccato", "articulation:  → accent"}},
		"trill":                         {plain, marked(`<ornaments><trill-mark/></ornaments>`), []string{"ornament:  → trill"}},
		"trill with its line":           {marked(`<ornaments><trill-mark/></ornaments>`), marked(`<ornaments><trill-mark/><wavy-line type="start" number="1"/></ornaments>`), []string{}},
		"turn with sharp":               {plain, marked(`<ornaments><turn/><accidental-mark>sharp</accidental-mark></ornaments>`), []string{"ornament:  → turn with sharp"}},
		"turn with flat":                {plain, marked(`<ornaments><turn/><accidental-mark>flat</accidental-mark></ornaments>`), []string{"ornament:  → turn with flat"}},
		"turn with natural":             {marked(`<ornaments><turn/></ornaments>`), marked(`<ornaments><turn/><accidental-mark>natural</accidental-mark></ornaments>`), []string{"ornament: turn → turn with natural"}},
		"mordent with double sharp":     {plain, marked(`<ornaments><mordent/><accidental-mark>double-sharp</accidental-mark></ornaments>`), []string{"ornament:  → mordent with double sharp"}},
		"mordent with double flat":      {plain, marked(`<ornaments><mordent/><accidental-mark>flat-flat</accidental-mark></ornaments>`), []string{"ornament:  → mordent with double flat"}},
		"tremolo":                       {plain, marked(`<ornaments><tremolo type="single">3</tremolo></ornaments>`), []string{"ornament:  → tremolo, 3 strokes"}},
		"rolled":                        {plain, marked(`<arpeggiate/>`), []string{"arpeggio:  → rolled"}},
		"not rolled":                    {marked(`<non-arpeggiate type="bottom"/>`), plain, []string{"arpeggio: bracket: not rolled → "}},
		"sign on each note of a chord":  {n("G4", 2, `<articulations><staccato/></articulations>`) + chord(n("E4", 2, `<articulations><staccato/></articulations>`)) + tail, n("G4", 2) + chord(n("E4", 2)) + tail, []string{"articulation: staccato → "}},
		"italic and bold":               {marked(fingers(f("3"))), marked(fingers(`<fingering font-style="italic" font-weight="bold">3</fingering>`)), []string{"style: 3 plain → 3 italic, bold"}},
		"size and colour":               {marked(fingers(f("3"))), marked(fingers(`<fingering font-size="6" color="#FF0000">3</fingering>`)), []string{"style: 3 plain → 3 size 6, colour #FF0000"}},
		"slur ends elsewhere":           {n("G4", 2, slur("start", "1")) + n("A4", 2) + n("B4", 2, slur("stop", "1")) + n("C5", 2), n("G4", 2, slur("start", "1")) + n("A4", 2) + n("B4", 2) + n("C5", 2, slur("stop", "1")), []string{"slur: to m. 2, beat 3 → to m. 2, beat 4"}},
		"slur begins elsewhere":         {n("G4", 2, slur("start", "1")) + n("A4", 2) + n("B4", 2, slur("stop", "1")) + n("C5", 2), n("G4", 2) + n("A4", 2, slur("start", "1")) + n("B4", 2, slur("stop", "1")) + n("C5", 2), []string{"slur: from m. 2, beat 1 → from m. 2, beat 2"}},
		"slur added":                    {plain, n("G4", 2, slur("start", "1")) + n("A4", 2, slur("stop", "1")) + n("B4", 2) + n("C5", 2), []string{"slur:  → to m. 2, beat 2"}},
		"two slurs, one lost":           {n("G4", 2, slur("start", "1"), slur("start", "2")) + n("A4", 2, slur("stop", "2")) + n("B4", 2, slur("stop", "1")) + n("C5", 2), n("G4", 2, slur("start", "1")) + n("A4", 2) + n("B4", 2, slur("stop", "1")) + n("C5", 2), []string{"slur: to m. 2, beat 2 → "}},
		"slur without end":              {n("G4", 2, slur("start", "1")) + tail, plain, []string{"slur: begins and has no end → "}},
		"slur without end added":        {plain, n("G4", 2, slur("start", "1")) + tail, []string{"slur:  → begins and has no end"}},
		"slur without beginning":        {n("G4", 2, slur("stop", "1")) + tail, plain, []string{"slur: ends and has no beginning → "}},
		"slur without beginning added":  {plain, n("G4", 2, slur("stop", "1")) + tail, []string{"slur:  → ends and has no beginning"}},
		"slur lost its end":             {n("G4", 2, slur("start", "1")) + n("A4", 2, slur("stop", "1")) + n("B4", 2) + n("C5", 2), n("G4", 2, slur("start", "1")) + tail, []string{"slur: to m. 2, beat 2 → begins and has no end"}},
		"slur lost its beginning":       {n("G4", 2, slur("start", "1")) + n("A4", 2, slur("stop", "1")) + n("B4", 2) + n("C5", 2), n("G4", 2) + n("A4", 2, slur("stop", "1")) + n("B4", 2) + n("C5", 2), []string{"slur: from m. 2, beat 1 → ends and has no beginning"}},
		"open slurs elsewhere":          {n("G4", 2, slur("start", "1")) + n("A4", 2) + n("B4", 2) + n("C5", 2), n("G4", 2) + n("A4", 2) + n("B4", 2, slur("start", "1")) + n("C5", 2), []string{"slur: begins and has no end → ", "slur:  → begins and has no end"}},
		"open slurs in both":            {n("G4", 2, slur("start", "1")) + tail, n("G4", 2, slur("start", "2")) + tail, []string{}},
		"tie without end":               {n("G4", 2, `<tied type="start"/>`) + tail, plain, []string{"tie: begins and has no end → "}},
		"tie without end added":         {plain, n("G4", 2, `<tied type="start"/>`) + tail, []string{"tie:  → begins and has no end"}},
		"tie without beginning":         {n("G4", 2, `<tied type="stop"/>`) + tail, plain, []string{"tie: ends and has no beginning → "}},
		"tie without beginning added":   {plain, n("G4", 2, `<tied type="stop"/>`) + tail, []string{"tie:  → ends and has no beginning"}},
		"open ties in both":             {n("G4", 2, `<tied type="start"/>`) + tail, n("G4", 2, `<tied type="start"/>`) + tail, []string{}},
		"slurs in a row":                {n("G4", 2, slur("start", "1")) + n("A4", 2, slur("stop", "1"), slur("start", "1")) + n("B4", 2, slur("stop", "1")) + n("C5", 2), n("G4", 2, slur("start", "1")) + n("A4", 2, slur("stop", "1"), slur("start", "2")) + n("B4", 2, slur("stop", "2")) + n("C5", 2), []string{}},
		"hand sign changed":             {sign("m.d.") + plain, sign("m.s.") + plain, []string{"hand-sign: m.d. → m.s."}},
		"hand sign in another language": {sign("m.d.") + plain, sign("r.H.") + plain, []string{"hand-sign: m.d. → r.H."}},
		"hand sign lost its brackets":   {sign("[m.d.]") + plain, sign("m.d.") + plain, []string{"hand-sign: [m.d.] → m.d."}},
		"hand sign on another staff":    {sign("m.s.") + plain, strings.Replace(sign("m.s."), "<staff>1<", "<staff>2<", 1) + plain, []string{"hand-sign: m.s., upper staff → m.s., lower staff"}},
		"hand sign missing":             {sign("m.d.") + plain, plain, []string{"hand-sign: m.d. → "}},
		"hand sign moved":               {sign("m.d.") + plain, n("G4", 2) + sign("m.d.") + tail, []string{"hand-sign: m.d. → ", "hand-sign:  → m.d."}},
		"spelling":                      {inside(plain, `<step>G</step>`, `<step>F</step><alter>1</alter>`), inside(plain, `<step>G</step>`, `<step>G</step><alter>-1</alter>`), []string{"spelling: F#4 → Gb4"}},
		"cue size":                      {plain, inside(plain, `<note>`, `<note><cue/>`), []string{"size: full size → cue size"}},
		"pitch of a small note":         {inside(plain, `<note>`, `<note><cue/>`), inside(inside(plain, `<note>`, `<note><cue/>`), `<step>G`, `<step>F`), []string{"pitch: G4 → F4"}},
		"pitch of a hidden note":        {inside(plain, `<note>`, `<note print-object="no">`), inside(inside(plain, `<note>`, `<note print-object="no">`), `<step>G`, `<step>F`), []string{}},
		"hidden":                        {plain, inside(plain, `<note>`, `<note print-object="no">`), []string{"size: full size → hidden"}},
		"dotted value":                  {inside(typed("G4", 3, "quarter"), `<staff>`, `<dot/><staff>`) + n("B4", 1) + n("C5", 4), typed("G4", 2, "quarter") + `<forward><duration>1</duration></forward>` + n("B4", 1) + n("C5", 4), []string{"duration: dotted quarter note → quarter note"}},
		"digit moved in its chord":      {n("G4", 2, fingers(f("3"))) + chord(n("E4", 2)) + tail, n("G4", 2) + chord(n("E4", 2, fingers(f("3")))) + tail, []string{"digit-moved: 3 at G4, beat 1 → 3 at E4, beat 1"}},
		"digit moved to the nearer":     {n("G4", 2, fingers(f("3"))) + n("A4", 2) + n("B4", 2) + n("C5", 2), n("G4", 2) + chord(n("B3", 2, fingers(f("3")))) + n("A4", 2, fingers(f("3"))) + n("B4", 2) + n("C5", 2), []string{"digit-moved: 3 at G4, beat 1 → 3 at A4, beat 2", "note-added:  → B3, 1 quarter, digit 3"}},
		"digit moved over a note":       {n("G4", 2, fingers(f("3"))) + n("A4", 2) + n("B4", 2) + n("C5", 2), n("G4", 2) + n("A4", 2) + n("B4", 2, fingers(f("3"))) + n("C5", 2), []string{"digit-moved: 3 at G4, beat 1 → 3 at B4, beat 3"}},
		"digit over one that stayed":    {n("G4", 2, fingers(f("3"))) + n("A4", 2, fingers(f("1"))) + n("B4", 2) + n("C5", 2), n("G4", 2) + n("A4", 2, fingers(f("1"))) + n("B4", 2, fingers(f("3"))) + n("C5", 2), []string{"digit-missing: 3 → ", "digit-added:  → 3"}},
		"digit too far on is another":   {n("G4", 2, fingers(f("3"))) + n("A4", 2) + n("B4", 2) + n("C5", 2), n("G4", 2) + n("A4", 2) + n("B4", 2) + n("C5", 2, fingers(f("3"))), []string{"digit-missing: 3 → ", "digit-added:  → 3"}},
		"digit moved to the other hand": {n("G4", 2, fingers(f("3"))) + tail + low, n("G4", 2) + tail + lowFingered, []string{"digit-moved: 3 at G4, beat 1 → 3 at C3, beat 1"}},
		"digit at a rest":               {plain, `<note><rest/><duration>2</duration><voice>1</voice><staff>1</staff><notations>` + fingers(f("2")) + `</notations></note>` + tail, []string{"note-missing: G4, 1 quarter → ", "digit-added:  → 2"}},
		"digit moved onto a rest":       {n("G4", 2, fingers(f("2"))) + restOfTwo + n("B4", 2) + n("C5", 2), n("G4", 2) + inside(restOfTwo, `</note>`, `<notations>`+fingers(f("2"))+`</notations></note>`) + n("B4", 2) + n("C5", 2), []string{"digit-moved: 2 at G4, beat 1 → 2 at a rest, beat 2"}},
		"digits in another order":       {marked(fingers(f("3"), f("1"))), marked(fingers(f("1"), f("3"))), []string{"digit-changed: 3 1 → 1 3"}},
		"digit doubled":                 {marked(fingers(f("3"))), marked(fingers(f("3"), f("3"))), []string{"digit-added:  → 3"}},
		"digit at a tied note":          {n("G4", 2, `<tied type="start"/>`) + n("G4", 2, `<tied type="stop"/>`) + n("B4", 2) + n("C5", 2), n("G4", 2, `<tied type="start"/>`) + n("G4", 2, `<tied type="stop"/>`, fingers(f("3"))) + n("B4", 2) + n("C5", 2), []string{"digit-added:  → 3"}},
		"digit that is not printed":     {marked(fingers(f("3"))), strings.Replace(marked(fingers(f("3"))), `<notations>`, `<notations print-object="no">`, 1), []string{"digit-missing: 3 → "}},
		"row of digits":                 {marked(fingers(f("1 2 3"))), marked(fingers(f("1 2 4"))), []string{"digit-changed: 1 2 3 → 1 2 4"}},
		"offered by a stroke":           {marked(fingers(f("1/2"))), marked(fingers(f("1"), `<fingering alternate="yes">2</fingering>`)), []string{}},
		"offered digit lost":            {marked(fingers(f("1/2"))), marked(fingers(f("1"))), []string{"alternative: 1 (2) → 1"}},
		"first of a silent change":      {marked(fingers(f("2"), `<fingering substitution="yes">1</fingering>`)), marked(fingers(f("1"), `<fingering substitution="yes">1</fingering>`)), []string{"digit-changed: 2–1 → 1–1"}},
		"both of a silent change":       {marked(fingers(f("2"), `<fingering substitution="yes">1</fingering>`)), marked(fingers(f("4"), `<fingering substitution="yes">3</fingering>`)), []string{"digit-changed: 2–1 → 4–3"}},
		"one of two changed":            {marked(fingers(f("3"), f("1"))), marked(fingers(f("3"), f("2"))), []string{"digit-changed: 3 1 → 3 2"}},
		"one changed, one lost":         {marked(fingers(f("3"), f("1"))), marked(fingers(f("2"))), []string{"digit-missing: 1 → ", "digit-changed: 3 → 2"}},
		"no finger at all":              {marked(fingers(f("x"))), marked(fingers(f("3"))), []string{"digit-changed: x → 3"}},
		"digit of a note that is gone":  {n("G4", 2, fingers(f("3"))) + chord(n("E4", 2, fingers(f("1")))) + tail, n("G4", 2, fingers(f("3"))) + tail, []string{"note-missing: E4, 1 quarter, digit 1 → "}},
	} {
		t.Run(name, func(t *testing.T) {
			if d := cmp.Diff(c.want, listed(t, c.old, c.new)); d != "" {
				t.Error(d)
			}
		})
	}
}

// compared lists what differs between scores of several measures, with its place in either.
func compared(a, b compare.Side) (out []string) {
	for _, c := range compare.Scores("x", a, b).Changes {
		out = append(out, fmt.Sprintf("%s: %s: %s → %s", c.At().Words(true), c.Kind, c.Old, c.New))
	}
	return out
}

func bare(s *score.Score) compare.Side { return compare.Side{Score: s} }

// Whole measures: missing, added, divided by other barlines.
func TestMeasuresAreNamed(t *testing.T) {
	first, second, third := n("C4", 2)+n("D4", 2)+n("E4", 2)+n("F4", 2), n("G4", 4)+n("B4", 4, fingers(f("2"))), n("A4", 2)+n("F4", 6)
	rests := `<note><rest/><duration>8</duration><voice>1</voice><staff>1</staff></note>`
	all := bare(read(t, first, second, third))
	require.Equal(t, []string{"m. 2, beat 1: measure-missing: 2 notes, 1 digit → "}, compared(all, bare(read(t, first, third))))
	require.Equal(t, []string{"m. 2, beat 1: measure-added:  → 2 notes, 1 digit"}, compared(bare(read(t, first, third)), all))
	require.Equal(t, []string{"m. 2, beat 1: measure-added:  → rests"}, compared(bare(read(t, first, third)), bare(read(t, first, rests, third))))
	halves := bare(read(t, first, n("G4", 4), n("B4", 4, fingers(f("2"))), third))
	require.Equal(t, []string{"m. 2, beat 1: barring: m. 2 of 4 quarters → mm. 2–3 of 2 and 2 quarters"}, compared(all, halves))
	require.Equal(t, []string{"m. 2, beat 1: barring: mm. 2–3 of 2 and 2 quarters → m. 2 of 4 quarters"}, compared(halves, all))
	require.Empty(t, compared(all, all))
}

// A repeat that one side writes out is one difference, not many measures.
func TestARepeatWrittenOut(t *testing.T) {
	open, shut := `<barline location="left"><repeat direction="forward"/></barline>`, `<barline location="right"><repeat direction="backward"/></barline>`
	a, b, c := n("C4", 2)+n("E4", 2)+n("G4", 4), n("D4", 2)+n("F4", 2)+n("A4", 4), n("B4", 2)+n("G4", 2)+n("C5", 4)
	signed, written := bare(read(t, open+a, b+shut, c)), bare(read(t, a, b, a, b, c))
	require.Equal(t, []string{"m. 3, beat 1: repeat-written-out:  → mm. 3–4 again, of mm. 1–2"}, compared(signed, written))
	require.Equal(t, []string{"m. 3, beat 1: repeat-written-out: mm. 3–4 again, of mm. 1–2 → "}, compared(written, signed))
}

// Ties, unisons, lengths and moments.
func TestNotesAreNamed(t *testing.T) {
	first := n("C4", 2) + n("D4", 2) + n("E4", 2) + n("F4", 2)
	tied := func(pitch string, duration int, kind string) string {
		return n(pitch, duration, `<tied type="`+kind+`"/>`)
	}
	long := bare(read(t, first, n("D4", 4)+tied("G4", 4, "start"), tied("G4", 4, "stop")+n("A4", 4), first))
	short := bare(read(t, first, n("D4", 4)+n("G4", 4), `<forward><duration>4</duration></forward>`+n("A4", 4), first))
	require.Equal(t, []string{"m. 2, right hand, beat 3, G4: duration: 2 quarters tied to 2 quarters → 2 quarters"}, compared(long, short))
	voice2 := func(note string) string { return strings.ReplaceAll(note, `<voice>1</voice>`, `<voice>2</voice>`) }
	back := `<backup><duration>8</duration></backup>`
	two := bare(read(t, first, n("G4", 4)+n("B4", 4)+back+voice2(n("G4", 8)), first))
	one := bare(read(t, first, n("G4", 4)+n("B4", 4), first))
	require.Equal(t, []string{"m. 2, right hand, beat 1, G4: unison: G4, 4 quarters → "}, compared(two, one))
	moved := bare(read(t, first, n("G4", 4)+`<forward><duration>2</duration></forward>`+n("B4", 2), first))
	require.Equal(t, []string{"m. 2, right hand, beat 4, B4: onset: m. 2, beat 3 → m. 2, beat 4", "m. 2, right hand, beat 4, B4 (was beat 3): duration: 2 quarters → 1 quarter"}, compared(one, moved))
	small := bare(read(t, first, inside(inside(n("G4", 4), `<note>`, `<note><grace/>`), `<duration>4</duration>`, ``)+n("A4", 4)+n("B4", 4), first))
	full := bare(read(t, first, n("G4", 1)+n("A4", 3)+n("B4", 4), first))
	require.Contains(t, strings.Join(compared(small, full), "; "), "grace: grace note → 1/2 quarters")
}

// A place is named by its page where the file knows its pages, by the hand that the run found, and by its beat.
func TestPlacesAreNamed(t *testing.T) {
	first := n("C4", 2) + n("D4", 2) + n("E4", 2) + n("F4", 2)
	page := `<print new-page="yes"/>`
	low := strings.ReplaceAll(strings.ReplaceAll(n("G3", 4), `<staff>1</staff>`, `<staff>2</staff>`), `<voice>1</voice>`, `<voice>5</voice>`)
	a := bare(read(t, first, page+low+n("A4", 4), first))
	b := bare(read(t, first, page+strings.ReplaceAll(low, `<duration>4</duration>`, `<duration>4</duration>`)+n("C5", 4), first))
	require.Equal(t, []string{"p. 2, system 1, m. 2, right hand, beat 3, C5: pitch: A4 → C5"}, compared(a, b))
	b = bare(read(t, first, page+strings.ReplaceAll(low, `<octave>3</octave>`, `<octave>2</octave>`)+n("A4", 4), first))
	require.Equal(t, []string{"p. 2, system 1, m. 2, left hand, beat 1, G2: octave: G3 → G2"}, compared(a, b))
	run := &state.Result{}
	for i := range b.Score.Notes {
		run.Notes = append(run.Notes, state.Note{N: i, Hand: score.Right})
	}
	b.Result = run
	require.Equal(t, []string{"p. 2, system 1, m. 2, right hand, beat 1, G2: octave: G3 → G2"}, compared(a, b), "as the run has it")
	require.Equal(t, "whole piece", (&compare.Place{}).Words(true))
	require.Equal(t, "m. 3", (&compare.Place{Measure: "3", Pitch: "C4"}).Words(false))
	require.Equal(t, "m. 3, C4", (&compare.Place{Measure: "3", Pitch: "C4"}).Words(true))
}

// What two runs found where nothing is printed: fingers, hands, whose digit it is; redistributions by their notes.
func TestWhatRunsFoundIsNamed(t *testing.T) {
	s := read(t, n("C4", 2)+n("D4", 2)+n("E4", 4))
	run := func(change func(r *state.Result)) compare.Side {
		r := &state.Result{}
		for i := range s.Notes {
			r.Notes = append(r.Notes, state.Note{N: i, Hand: score.Right, Finger: i + 1, Responsibility: score.Open})
		}
		change(r)
		return compare.Side{Score: s, Result: r}
	}
	listed := func(a, b func(r *state.Result)) (out []string) {
		for _, c := range compare.Scores("x", run(a), run(b)).Changes {
			out = append(out, fmt.Sprintf("%s: %s → %s", c.Kind, c.Old, c.New))
		}
		return out
	}
	none := func(*state.Result) {}
	offer := func(notes ...int) func(r *state.Result) {
		return func(r *state.Result) {
			o := state.Redistribution{To: score.Left}
			for _, n := range notes {
				o.Notes = append(o.Notes, state.RedistributedNote{N: n, Finger: n + 1})
			}
			r.Redistributions = append(r.Redistributions, o, state.Redistribution{To: score.Left})
		}
	}
	require.Empty(t, listed(none, none))
	require.Equal(t, []string{"suggestion: 2 → 5"}, listed(none, func(r *state.Result) { r.Notes[1].Finger = 5 }))
	require.Equal(t, []string{"suggestion: 2 → none"}, listed(none, func(r *state.Result) { r.Notes[1].Finger = 0 }))
	require.Equal(t, []string{"suggestion: 2 → 5"}, listed(none, func(r *state.Result) { r.Notes[1].Finger, r.Notes[1].Printed = 5, true }), "printed in one")
	require.Empty(t, listed(func(r *state.Result) { r.Notes[1].Printed = true }, func(r *state.Result) { r.Notes[1].Finger, r.Notes[1].Printed = 5, true }), "printed in both: the digits themselves are compared")
	require.Equal(t, []string{"responsibility: 2: open → 2: editor"}, listed(func(r *state.Result) { r.Notes[1].Printed = true },
		func(r *state.Result) { r.Notes[1].Printed, r.Notes[1].Responsibility = true, score.Editor }))
	require.Empty(t, listed(none, func(r *state.Result) { r.Notes[1].Responsibility = score.Editor }), "printed in neither")
	require.Equal(t, []string{"hand: right hand → left hand"}, listed(none, func(r *state.Result) { r.Notes[1].Hand = score.Left }))
	require.Equal(t, []string{"hand: right hand → no hand"}, listed(none, func(r *state.Result) { r.Notes[1].Hand = score.NoHand }))
	require.Empty(t, listed(none, func(r *state.Result) { r.Notes = r.Notes[:2] }), "a note that one run does not know")
	require.Equal(t, []string{"redistribution:  → 2 notes to the left hand, fingers 1 2, suggested"}, listed(none, offer(0, 1)))
	require.Equal(t, []string{"redistribution: 1 note to the left hand, fingers 3, suggested → "}, listed(offer(2), none))
	require.Equal(t, []string{"redistribution: 1 note to the left hand, fingers 3, suggested → 1 note to the left hand, fingers 3, decided"},
		listed(offer(2), func(r *state.Result) { offer(2)(r); r.Redistributions[0].Decided = true }))
	require.Equal(t, []string{"redistribution: 1 note to the left hand, fingers 3, suggested → 1 note to the left hand, fingers 5, suggested"},
		listed(offer(2), func(r *state.Result) { offer(2)(r); r.Redistributions[0].Notes[0].Finger = 5 }))
	require.Empty(t, listed(func(r *state.Result) { offer(0)(r); offer(2)(r) }, func(r *state.Result) { offer(2)(r); offer(0)(r) }))
	require.Len(t, listed(offer(2), func(r *state.Result) { offer(2)(r); r.Redistributions[0].To = score.Right }), 2, "to another hand it is another")
}

// Whose a digit is counts where both sides know it, with the editor's initials.
func TestWhoseADigitIs(t *testing.T) {
	with := func(who score.Responsibility, agent string) compare.Side {
		s := read(t, n("C4", 2, fingers(f("1")))+n("D4", 2)+n("E4", 4))
		s.Notes[0].Indications[0].Responsibility, s.Notes[0].Indications[0].Agent = who, agent
		return bare(s)
	}
	listed := func(a, b compare.Side) (out []string) {
		for _, c := range compare.Scores("x", a, b).Changes {
			out = append(out, fmt.Sprintf("%s: %s → %s", c.Kind, c.Old, c.New))
		}
		return out
	}
	require.Equal(t, []string{"responsibility: 1: composer → 1: editor AB"}, listed(with(score.Composer, ""), with(score.Editor, "AB")))
	require.Equal(t, []string{"responsibility: 1: editor AB → 1: editor CD"}, listed(with(score.Editor, "AB"), with(score.Editor, "CD")))
	require.Empty(t, listed(with(score.Editor, "AB"), with(score.Editor, "AB")))
	require.Empty(t, listed(with(score.Unattributed, ""), with(score.Editor, "AB")))
	require.Empty(t, listed(with(score.Editor, "AB"), with(score.Unattributed, "")))
	old := with(score.Composer, "")
	old.Score.Notes[0].Indications[0].Old, old.Score.Notes[0].Indications[0].Text = true, " + "
	require.Equal(t, []string{"digit-changed: + → 1"}, listed(old, with(score.Composer, "")), "the sign of the old numbering")
	look := with(score.Composer, "")
	look.Score.Notes[0].Indications[0].Style = score.Style{Enclosure: score.Parentheses}
	require.Equal(t, []string{"style: 1 plain → 1 in " + string(score.Parentheses)}, listed(with(score.Composer, ""), look))
}

// Each correction is asked for in the words of a correction sheet.
func TestCorrectionsAreAskedFor(t *testing.T) {
	for _, c := range []struct {
		change compare.Change
		want   string
	}{
		{compare.Change{Kind: compare.DigitChanged, Old: "3", New: "4"}, "digit at G4: 4 → 3"},
		{compare.Change{Kind: compare.DigitMissing, Old: "3"}, "put in digit 3 at G4"},
		{compare.Change{Kind: compare.DigitAdded, New: "3"}, "take out digit 3 at G4"},
		{compare.Change{Kind: compare.DigitMoved, Old: "3 at G4, beat 1", New: "3 at A4, beat 2"}, "move digit 3 at A4, beat 2 → 3 at G4, beat 1"},
		{compare.Change{Kind: compare.NoteMissing, Old: "E4, 1 quarter"}, "put in the note E4, 1 quarter"},
		{compare.Change{Kind: compare.NoteAdded, New: "E4, 1 quarter"}, "take out the note E4, 1 quarter"},
		{compare.Change{Kind: compare.Unison, Old: "G4, 4 quarters"}, "put in the second stem, G4, 4 quarters"},
		{compare.Change{Kind: compare.Unison, New: "G4, 4 quarters"}, "take out the second stem, G4, 4 quarters"},
		{compare.Change{Kind: compare.MeasureMissing, Old: "12 notes"}, "put in the measure (12 notes)"},
		{compare.Change{Kind: compare.MeasureAdded, New: "rests"}, "take out the measure (rests)"},
		{compare.Change{Kind: compare.Articulation, Old: "staccato"}, "put in staccato at G4"},
		{compare.Change{Kind: compare.Slur, New: "to m. 2, beat 4"}, "take out slur at G4: to m. 2, beat 4"},
		{compare.Change{Kind: compare.Style, Old: "3 italic", New: "3 plain"}, "style at G4: 3 plain → 3 italic"},
		{compare.Change{Kind: compare.Pitch, Old: "G4", New: "F4"}, "F4 → G4"},
		{compare.Change{Kind: compare.Octave, Old: "G4", New: "G5"}, "G5 → G4 (octave)"},
		{compare.Change{Kind: compare.Spelling, Old: "F#4", New: "Gb4"}, "Gb4 → F#4 (spelling)"},
		{compare.Change{Kind: compare.Substitution, Old: "4–3", New: "4"}, "substitution at G4: 4 → 4–3"},
	} {
		c.change.B = &compare.Place{Measure: "2", Pitch: "G4"}
		d := &compare.Diff{Pieces: []compare.Piece{{ID: "x", Changes: []compare.Change{c.change}}}}
		sheet := compare.Sheet(d, nil)
		require.Equal(t, c.want, sheet[0].Ask)
		require.Equal(t, c.change.Kind.Class(), sheet[0].Class)
		require.NotEmpty(t, c.change.Kind.Words())
	}
	for kind, want := range map[compare.Kind]string{compare.PieceMissing: "put in the whole piece", compare.PieceAdded: "take out the whole piece"} {
		d := &compare.Diff{Pieces: []compare.Piece{compare.Lone("x", kind)}}
		require.Equal(t, want, compare.Sheet(d, nil)[0].Ask)
		require.Equal(t, "whole piece", compare.Sheet(d, nil)[0].At.Words(true))
		require.Equal(t, "whole piece", compare.Sheet(d, nil)[0].Place())
		require.True(t, d.Differs())
		require.False(t, d.Failed())
		require.Equal(t, map[compare.Kind]int{kind: 1}, d.Pieces[0].Counts())
	}
	require.False(t, (&compare.Diff{Pieces: []compare.Piece{{ID: "x"}}}).Differs())
	require.True(t, (&compare.Diff{Pieces: []compare.Piece{{ID: "x"}, {ID: "y", Problem: "p"}}}).Failed())
	require.Equal(t, []compare.Class{compare.Fingering, compare.Text, compare.Layout}, compare.Classes())
	for _, k := range compare.Kinds() {
		require.Contains(t, compare.Classes(), k.Class(), string(k))
		require.NotEmpty(t, k.Words(), string(k))
	}
}

// A piece that went away between two proofs has all its corrections done; one that comes anew in this proof has them new.
func TestSheetsOfPiecesThatComeAndGo(t *testing.T) {
	one := compare.Change{Kind: compare.DigitMissing, Old: "3", B: &compare.Place{Measure: "2", Pitch: "G4"}}
	with := func(ids ...string) *compare.Diff {
		d := &compare.Diff{}
		for _, id := range ids {
			d.Pieces = append(d.Pieces, compare.Piece{ID: id, Changes: []compare.Change{one}})
		}
		return d
	}
	states := func(sheet []compare.Correction) (out []string) {
		for _, c := range sheet {
			out = append(out, c.Piece+" "+string(c.State))
		}
		return out
	}
	require.Equal(t, []string{"a missed", "b done"}, states(compare.Sheet(with("a"), with("a", "b"))))
	require.Equal(t, []string{"a missed", "b new"}, states(compare.Sheet(with("a", "b"), with("a"))))
	require.Equal(t, []string{"a open"}, states(compare.Sheet(with("a"), nil)))
}

// Changes stand in the order of the music, at one moment from the upper staff and key down; notes are counted on both sides.
func TestTheOrderOfChanges(t *testing.T) {
	low := func(note string) string {
		return strings.ReplaceAll(strings.ReplaceAll(note, `<staff>1</staff>`, `<staff>2</staff>`), `<voice>1</voice>`, `<voice>5</voice>`)
	}
	back := `<backup><duration>8</duration></backup>`
	a := n("G4", 4, fingers(f("1"))) + chord(n("B4", 4, fingers(f("2")))) + n("A4", 4) + back + low(n("C3", 4, fingers(f("5")))) + low(n("D3", 4))
	b := n("G4", 4) + chord(n("B4", 4)) + n("A4", 4, fingers(f("4"))) + back + low(n("C3", 4)) + low(n("D3", 4))
	p := compare.Scores("x", bare(read(t, a, a)), bare(read(t, b, a)))
	var order []string
	for _, c := range p.Changes {
		order = append(order, c.At().Pitch+string(c.Kind))
	}
	require.Equal(t, []string{"B4digit-missing", "G4digit-missing", "C3digit-missing", "A4digit-added"}, order)
	require.Equal(t, 20, p.Notes)
	require.Equal(t, 100_000, p.Covered)
}

// A correction is known again by its place in the approved copy: the same fault elsewhere is a new one.
func TestTheSameFaultElsewhereIsNew(t *testing.T) {
	plain := n("C4", 2) + n("D4", 2) + n("E4", 2) + n("F4", 2)
	other, third := n("G4", 4)+n("B4", 4), n("A4", 2)+n("F4", 6)
	extra, more := n("D5", 2)+n("E5", 2)+n("C6", 4), n("C6", 4)+n("D6", 4)
	md := sign("m.d.")
	sheet := func(approved, now, before []string) (out []string) {
		against := func(typeset []string) *compare.Diff {
			return &compare.Diff{Pieces: []compare.Piece{compare.Scores("x", bare(read(t, approved...)), bare(read(t, typeset...)))}}
		}
		for _, c := range compare.Sheet(against(now), against(before)) {
			out = append(out, fmt.Sprintf("%s: m. %s: %s", c.State, c.At.Measure, c.Ask))
		}
		return out
	}
	signed := []string{plain, md + other, md + third}
	require.Equal(t, []string{"new: m. 3: put in hand sign: m.d.", "done: m. 2: put in hand sign: m.d."}, sheet(signed, []string{plain, md + other, third}, []string{plain, other, md + third}))
	require.Equal(t, []string{"missed: m. 2: put in hand sign: m.d."}, sheet(signed, []string{plain, other, md + third}, []string{plain, other, md + third}))
	unsigned := []string{plain, other, third}
	require.Equal(t, []string{"new: m. 3: take out hand sign: m.d.", "done: m. 2: take out hand sign: m.d."}, sheet(unsigned, []string{plain, other, md + third}, []string{plain, md + other, third}))
	require.Equal(t, []string{"new: m. 3: take out the measure (3 notes)", "done: m. 2: take out the measure (3 notes)"},
		sheet(unsigned, []string{plain, other, extra, third}, []string{plain, extra, other, third}))
	require.Equal(t, []string{"missed: m. 2: take out the measure (3 notes)", "done: m. 3: take out the measure (2 notes)"},
		sheet(unsigned, []string{plain, extra, other, third}, []string{plain, extra, more, other, third}))
}

// Measures that a repeat writes out are compared with those that they repeat: their digits, and the signs at their notes. What is
// not looked at there is named.
func TestWhatARepeatWritesOutIsCompared(t *testing.T) {
	one := n("C4", 2, fingers(f("1"))) + n("D4", 2) + n("E4", 4)
	two := n("F4", 2) + n("G4", 2, `<articulations><staccato/></articulations>`) + n("A4", 4, fingers(f("4")))
	last := n("B4", 8)
	signed := []string{barlineAt("left", `<repeat direction="forward"/>`) + one, two + barlineAt("right", `<repeat direction="backward"/>`), last}
	compared := func(written ...string) compare.Piece {
		return compare.Scores("x", bare(read(t, signed...)), bare(read(t, written...)))
	}
	lines := func(p compare.Piece) (out []string) {
		for _, c := range p.Changes {
			if c.Kind != compare.Repeat && c.Kind != compare.Barline {
				out = append(out, c.At().Measure+": "+string(c.Kind)+": "+c.Old+" → "+c.New)
			}
		}
		return out
	}
	again := "3: repeat-written-out:  → mm. 3–4 again, of mm. 1–2"
	same := compared(one, two, one, two, last)
	require.Equal(t, []string{again}, lines(same))
	require.Contains(t, strings.Join(same.NotSaid, "; "), "in what a repeat writes out (mm. 3–4)")
	require.ElementsMatch(t, []string{
		again, "3: digit-changed: 1 → 2", "4: articulation: staccato → ", "4: digit-missing: 4 → ",
	}, lines(compared(one, two, strings.Replace(one, f("1"), f("2"), 1), n("F4", 2)+n("G4", 2)+n("A4", 4), last)))
}
