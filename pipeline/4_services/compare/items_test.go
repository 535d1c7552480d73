package compare_test

import (
	"strings"
	"testing"

	"fingerproof/pipeline/4_services/compare"

	"github.com/google/go-cmp/cmp"
)

// marksOf writes a direction before what follows.
func marksOf(inner string) string {
	return `<direction><direction-type>` + inner + `</direction-type><staff>1</staff></direction>`
}

func attributes(inner string) string { return `<attributes>` + inner + `</attributes>` }

func barlineAt(location, inner string) string {
	return `<barline location="` + location + `">` + inner + `</barline>`
}

// tiedTo is a measure whose first two notes sound tied, with what is drawn of the tie at either.
func tiedTo(start, stop string) string {
	first := inside(n("G4", 2, start), `<voice>`, `<tie type="start"/><voice>`)
	second := inside(n("G4", 2, stop), `<voice>`, `<tie type="stop"/><voice>`)
	return first + second + n("B4", 2) + n("C5", 2)
}

// What stands on the page beside the notes: each kind by what it reads, and what looks the same by nothing.
func TestWhatStandsOnThePageIsCompared(t *testing.T) {
	plain := n("G4", 2) + tail
	pedalled := func(start, stop string) string {
		return marksOf(`<pedal type="start" `+start+`/>`) + plain + marksOf(`<pedal type="stop" `+stop+`/>`)
	}
	at := func(inner string) string { return n("G4", 2, inner) + tail }
	rest := func(inner string) string {
		return n("G4", 2) + n("A4", 2) + `<note` + inner + `><rest/><duration>4</duration><voice>1</voice><type>half</type><staff>1</staff></note>`
	}
	turned := func(sharp string) string {
		return inside(plain, `<duration>`, `<accidental`+sharp+`</accidental><duration>`)
	}
	for name, c := range map[string]struct {
		old, new string
		want     []string
	}{
		"clef":                          {attributes(`<clef><sign>F</sign><line>4</line></clef>`) + plain, attributes(`<clef><sign>C</sign><line>3</line></clef>`) + plain, []string{"clef: bass clef → alto clef"}},
		"clef of another octave":        {plain, attributes(`<clef number="2"><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>`) + plain, []string{"clef:  → treble clef, 8 below"}},
		"clef said again":               {attributes(`<clef><sign>F</sign></clef>`) + plain, attributes(`<clef number="1"><sign>F</sign><line>4</line></clef>`) + n("G4", 2) + attributes(`<clef><sign>F</sign></clef>`) + tail, []string{}},
		"key":                           {attributes(`<key><fifths>-3</fifths></key>`) + plain, attributes(`<key><fifths>1</fifths></key>`) + plain, []string{"key: 3 flats → 1 sharp"}},
		"key at each staff":             {attributes(`<key><fifths>-3</fifths></key>`) + plain, attributes(`<key number="1"><fifths>-3</fifths></key><key number="2"><fifths>-3</fifths></key>`) + plain, []string{}},
		"key of another mode":           {attributes(`<key><fifths>-3</fifths></key>`) + plain, attributes(`<key><fifths>-3</fifths><mode>minor</mode></key>`) + plain, []string{}},
		"metre":                         {plain, attributes(`<time symbol="common"><beats>4</beats><beat-type>4</beat-type></time>`) + plain, []string{"metre:  → C"}},
		"double barline":                {plain, plain + barlineAt("right", `<bar-style>light-light</bar-style>`), []string{"barline:  → double barline"}},
		"usual barline":                 {plain, plain + barlineAt("right", `<bar-style>regular</bar-style>`), []string{}},
		"repeat":                        {plain + barlineAt("right", `<bar-style>light-heavy</bar-style><repeat direction="backward"/>`), plain, []string{"repeat: sign to repeat back → "}},
		"repeat and its usual barline":  {plain + barlineAt("right", `<bar-style>light-heavy</bar-style><repeat direction="backward"/>`), plain + barlineAt("right", `<repeat direction="backward"/>`), []string{}},
		"repeat that leaves a barline":  {plain + barlineAt("right", `<bar-style>light-heavy</bar-style><repeat direction="backward"/>`), plain + barlineAt("right", `<bar-style>light-heavy</bar-style>`), []string{"repeat: sign to repeat back → "}},
		"ending":                        {barlineAt("left", `<ending number="1" type="start"/>`) + plain + barlineAt("right", `<ending number="1" type="stop"/>`), barlineAt("left", `<ending number="2" type="start"/>`) + plain + barlineAt("right", `<ending number="2" type="discontinue"/>`), []string{"ending: ending 1 → ending 2, left open"}},
		"segno":                         {plain, marksOf(`<segno/>`) + plain, []string{"jump:  → segno sign"}},
		"da capo":                       {marksOf(`<words>D.C. al Fine</words>`) + plain, marksOf(`<words>D.S. al Fine</words>`) + plain, []string{"jump: D.C. al Fine → D.S. al Fine"}},
		"tempo":                         {marksOf(`<words>Allegro</words>`) + plain, marksOf(`<words>Allegretto</words>`) + plain, []string{"tempo: Allegro → Allegretto"}},
		"tempo misprinted":              {marksOf(`<words>Allegro</words>`) + plain, marksOf(`<words>Allgro</words>`) + plain, []string{"tempo: Allegro → Allgro"}},
		"words cut in two":              {marksOf(`<words>poco rit.</words>`) + plain, marksOf(`<words>poco </words><words font-style="italic">rit.</words>`) + plain, []string{}},
		"words moved":                   {marksOf(`<words>dolce</words>`) + plain, n("G4", 2) + marksOf(`<words>dolce</words>`) + tail, []string{"words: dolce at m. 2, beat 1 → dolce at m. 2, beat 2"}},
		"words between the staves":      {`<direction placement="below"><direction-type><words>dolce</words></direction-type><staff>1</staff></direction>` + plain, `<direction placement="above"><direction-type><words>dolce</words></direction-type><staff>2</staff></direction>` + plain, []string{}},
		"metronome mark":                {marksOf(`<metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>72</per-minute></metronome>`) + plain, marksOf(`<metronome><beat-unit>quarter</beat-unit><per-minute>72</per-minute></metronome>`) + plain, []string{"metronome: dotted quarter = 72 → quarter = 72"}},
		"rehearsal mark":                {marksOf(`<rehearsal>A</rehearsal>`) + plain, marksOf(`<rehearsal>B</rehearsal>`) + plain, []string{"rehearsal: A → B"}},
		"dynamics":                      {marksOf(`<dynamics><p/></dynamics>`) + plain, marksOf(`<dynamics><f/></dynamics>`) + plain, []string{"dynamics: p → f"}},
		"dynamics at the note":          {marksOf(`<dynamics><p/></dynamics>`) + plain, at(`<dynamics><p/></dynamics>`), []string{}},
		"dynamics in two elements":      {marksOf(`<dynamics><other-dynamics>più</other-dynamics><f/></dynamics>`) + plain, marksOf(`<dynamics><other-dynamics>più</other-dynamics></dynamics>`) + marksOf(`<dynamics><f/></dynamics>`) + plain, []string{}},
		"hairpin turned":                {marksOf(`<wedge type="crescendo"/>`) + n("G4", 2) + marksOf(`<wedge type="stop"/>`) + tail, marksOf(`<wedge type="diminuendo"/>`) + n("G4", 2) + marksOf(`<wedge type="stop"/>`) + tail, []string{"hairpin: crescendo → diminuendo"}},
		"hairpin too long":              {marksOf(`<wedge type="crescendo"/>`) + n("G4", 2) + marksOf(`<wedge type="stop"/>`) + tail, marksOf(`<wedge type="crescendo"/>`) + plain + marksOf(`<wedge type="stop"/>`), []string{"hairpin: crescendo to m. 2, beat 2 → crescendo to the end of m. 2"}},
		"end before its beginning":      {marksOf(`<wedge type="crescendo"/>`) + n("G4", 2) + marksOf(`<wedge type="stop"/>`) + tail, n("G4", 2) + marksOf(`<wedge type="stop"/>`) + `<backup><duration>2</duration></backup>` + marksOf(`<wedge type="crescendo"/>`) + `<forward><duration>2</duration></forward>` + tail, []string{}},
		"pedal":                         {marksOf(`<pedal type="start"/>`) + plain + marksOf(`<pedal type="stop"/>`), plain, []string{"pedal: pedal to the end of m. 2 → "}},
		"pedal changed":                 {marksOf(`<pedal type="start"/>`) + n("G4", 2) + marksOf(`<pedal type="change"/>`) + tail + marksOf(`<pedal type="stop"/>`), marksOf(`<pedal type="start"/>`) + plain + marksOf(`<pedal type="stop"/>`), []string{"pedal: change of pedal → "}},
		"pedal of no signs":             {pedalled(`sign="yes"`, `sign="yes"`), pedalled(`sign="no"`, `sign="no"`), []string{"pedal: pedal → pedal, not shown"}},
		"pedal without its star":        {pedalled(`line="no" sign="yes"`, `line="no"`), pedalled(``, `sign="no"`), []string{"pedal: pedal → pedal, its end not shown"}},
		"pedal without its Ped.":        {pedalled(`sign="no"`, ``), pedalled(``, ``), []string{"pedal: pedal, its beginning not shown → pedal"}},
		"pedal's line without a sign":   {pedalled(`line="yes" sign="yes"`, `line="yes"`), pedalled(`line="yes" sign="no"`, `line="yes" sign="no"`), []string{"pedal: pedal, as a line with its sign → pedal, as a line"}},
		"octave line":                   {marksOf(`<octave-shift type="down" size="8"/>`) + n("G4", 2) + marksOf(`<octave-shift type="stop"/>`) + tail, plain, []string{"octave-line: 8va to m. 2, beat 2 → "}},
		"dashes":                        {plain, marksOf(`<dashes type="start"/>`) + plain + marksOf(`<dashes type="stop"/>`), []string{"line:  → dashes to the end of m. 2"}},
		"sign of a direction":           {plain, marksOf(`<damp/>`) + plain, []string{"direction-sign:  → damp"}},
		"chord symbol":                  {`<harmony><root><root-step>A</root-step></root><kind>minor</kind></harmony>` + plain, `<harmony><root><root-step>A</root-step></root><kind>major</kind></harmony>` + plain, []string{"chord-symbol: A minor → A major"}},
		"figured bass":                  {`<figured-bass><figure><figure-number>6</figure-number></figure></figured-bass>` + plain, plain, []string{"figured-bass: 6 → "}},
		"fermata":                       {plain, at(`<fermata/>`), []string{"fermata:  → fermata"}},
		"fermata on both of a chord":    {n("G4", 2, `<fermata/>`) + chord(n("E4", 2)) + tail, n("G4", 2, `<fermata/>`) + chord(n("E4", 2, `<fermata/>`)) + tail, []string{}},
		"fermata at the barline":        {plain, plain + barlineAt("right", `<fermata/>`), []string{"fermata:  → fermata"}},
		"fermata on its head":           {at(`<fermata type="upright"/>`), at(`<fermata type="inverted"/>`), []string{}},
		"small note by its type":        {typed("G4", 2, "quarter") + tail, inside(typed("G4", 2, "quarter")+tail, `<type>`, `<type size="cue">`), []string{"notehead:  → small"}},
		"syllable":                      {inside(plain, `</note>`, `<lyric number="1"><syllabic>begin</syllabic><text>Freu</text></lyric></note>`), inside(plain, `</note>`, `<lyric number="1"><text>Freud</text></lyric></note>`), []string{"lyric: Freu- → Freud"}},
		"second verse":                  {inside(plain, `</note>`, `<lyric number="2"><text>la</text></lyric></note>`), plain, []string{"lyric: verse 2: la → "}},
		"accidental":                    {turned(`>sharp`), plain, []string{"accidental: sharp → "}},
		"courtesy":                      {turned(`>sharp`), turned(` cautionary="yes">sharp`), []string{"accidental: sharp → sharp, courtesy"}},
		"notehead":                      {plain, inside(plain, `<staff>`, `<notehead>diamond</notehead><staff>`), []string{"notehead:  → diamond"}},
		"note value of the same length": {typed("G4", 2, "quarter") + tail, typed("G4", 2, "eighth") + tail, []string{"note-value: quarter note → eighth note"}},
		"dot lost":                      {inside(typed("G4", 2, "quarter"), `<staff>`, `<dot/><staff>`) + tail, typed("G4", 2, "quarter") + tail, []string{"dots: dotted quarter note → quarter note"}},
		"tuplet without number":         {at(`<tuplet type="start"/>`), at(`<tuplet type="start" show-number="none"/>`), []string{"tuplet: number of the tuplet → no number"}},
		"grace slash":                   {grace("G4") + plain, strings.ReplaceAll(grace("G4"), `<grace/>`, `<grace slash="yes"/>`) + plain, []string{"grace-slash: without slash → with slash"}},
		"staff of a note":               {plain, inside(plain, `<staff>1`, `<staff>2`), []string{"staff: upper staff → lower staff"}},
		"one voice's stem":              {inside(plain, `<staff>`, `<stem>up</stem><staff>`), inside(plain, `<staff>`, `<stem>down</stem><staff>`), []string{}},
		"stem among voices":             {inside(plain, `<staff>`, `<stem>up</stem><staff>`) + second, inside(plain, `<staff>`, `<stem>down</stem><staff>`) + second, []string{"stem: up → down"}},
		"rest hidden":                   {rest(``), rest(` print-object="no"`), []string{"rest: half rest → hidden"}},
		"rest lost":                     {rest(``), n("G4", 2) + n("A4", 2) + `<forward><duration>4</duration></forward>`, []string{"rest: half rest → "}},
		"rest never printed":            {rest(` print-object="no"`), n("G4", 2) + n("A4", 2) + `<forward><duration>4</duration></forward>`, []string{}},
		"rest in another voice":         {rest(``), strings.ReplaceAll(rest(``), `<voice>1</voice><type>`, `<voice>7</voice><type>`), []string{}},
		"caesura":                       {at(`<articulations><caesura/></articulations>`), at(`<articulations><breath-mark/></articulations>`), []string{"articulation: caesura → breath mark"}},
		"rolled the other way":          {at(`<arpeggiate/>`), at(`<arpeggiate direction="down"/>`), []string{"arpeggio: rolled → rolled downwards"}},
		"strokes of a tremolo":          {at(`<ornaments><tremolo type="single">2</tremolo></ornaments>`), at(`<ornaments><tremolo type="single">3</tremolo></ornaments>`), []string{"ornament: tremolo, 2 strokes → tremolo, 3 strokes"}},
		"glissando":                     {plain, at(`<glissando type="start">gliss.</glissando>`), []string{"glissando:  → glissando (gliss.)"}},
		"glissando dashed":              {at(`<glissando type="start" line-type="dashed">gliss.</glissando>`), at(`<glissando type="start" line-type="wavy">gliss.</glissando>`), []string{"glissando: glissando, dashed (gliss.) → glissando (gliss.)"}},
		"long mordent":                  {at(`<ornaments><mordent long="yes"/></ornaments>`), at(`<ornaments><mordent/></ornaments>`), []string{"ornament: long mordent → mordent"}},
		"turn with a slash":             {at(`<ornaments><turn slash="yes"/></ornaments>`), at(`<ornaments><turn/></ornaments>`), []string{"ornament: turn with a slash → turn"}},
		"bracket dashed":                {marksOf(`<bracket type="start" line-end="none" line-type="dashed"/>`) + plain + marksOf(`<bracket type="stop" line-end="none"/>`), marksOf(`<bracket type="start" line-end="none"/>`) + plain + marksOf(`<bracket type="stop" line-end="none"/>`), []string{"line: bracket, dashed → bracket"}},
		"sign of playing":               {plain, at(`<technical><heel/></technical>`), []string{"technical:  → heel"}},
		"sign at a note":                {plain, at(`<other-notation type="single">cross</other-notation>`), []string{"notation:  → other notation cross single"}},
		"tie into the open":             {plain, at(`<tied type="let-ring"/>`), []string{"let-ring:  → let ring"}},
		"dashed tie":                    {n("G4", 2, `<tied type="start" line-type="dashed"/>`) + n("G4", 2, `<tied type="stop"/>`) + n("B4", 2) + n("C5", 2), n("G4", 2, `<tied type="start"/>`) + n("G4", 2, `<tied type="stop"/>`) + n("B4", 2) + n("C5", 2), []string{"tie: dashed → full line"}},
		"accidental of a turn":          {n("G4", 2, `<ornaments><turn/><accidental-mark placement="above">sharp</accidental-mark></ornaments>`) + n("B4", 2), n("G4", 2, `<ornaments><turn/><accidental-mark placement="below">sharp</accidental-mark></ornaments>`) + n("B4", 2), []string{"ornament: turn with sharp → turn with sharp below"}},
		"dashed slur":                   {n("G4", 2, slur("start", "1")) + n("A4", 2, slur("stop", "1")) + n("B4", 2) + n("C5", 2), n("G4", 2, `<slur type="start" number="1" line-type="dashed"/>`) + n("A4", 2, slur("stop", "1")) + n("B4", 2) + n("C5", 2), []string{"slur: full line → dashed"}},
		"note without pitch":            {plain, inside(plain, `<pitch><step>C</step><octave>5</octave></pitch>`, `<unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched>`), []string{"note-missing: C5, 1 quarter → ", "unpitched-note:  → note on the line of E4"}},
		"transposed":                    {plain, attributes(`<transpose><diatonic>1</diatonic><chromatic>2</chromatic></transpose>`) + plain, []string{"transposition:  → sounds 2 semitones higher than written"}},
		"transposed by nothing":         {plain, attributes(`<transpose><chromatic>0</chromatic></transpose>`) + plain, []string{}},
		"transposed at each staff":      {attributes(`<transpose><chromatic>-2</chromatic></transpose>`) + plain, attributes(`<transpose number="1"><chromatic>-2</chromatic></transpose><transpose number="2"><chromatic>-2</chromatic></transpose>`) + plain, []string{}},
		"transposed otherwise":          {attributes(`<transpose><chromatic>-2</chromatic></transpose>`) + plain, attributes(`<transpose><chromatic>-3</chromatic></transpose>`) + plain, []string{"transposition: sounds 2 semitones lower than written → sounds 3 semitones lower than written"}},
		"lines of a staff":              {plain, attributes(`<staff-details number="1"><staff-lines>1</staff-lines></staff-details>`) + plain, []string{"staff-details:  → 1 line"}},
		"usual lines of a staff":        {plain, attributes(`<staff-details number="1"><staff-lines>5</staff-lines></staff-details>`) + plain, []string{}},
		"measure repeated by a sign":    {plain, attributes(`<measure-style><measure-repeat type="start">1</measure-repeat></measure-style>`) + plain, []string{"measure-sign:  → measure repeat 1 start"}},
		"numbers of measures":           {plain, `<print><measure-numbering>measure</measure-numbering></print>` + plain, []string{"measure-numbering:  → measure"}},
		"new system":                    {plain, `<print new-system="yes"/>` + plain, []string{}},
		"rolled with an arrow":          {at(`<arpeggiate/>`), at(`<arpeggiate direction="up"/>`), []string{"arpeggio: rolled → rolled, with an arrow upwards"}},
		"accidental over a note":        {plain, at(`<accidental-mark>sharp</accidental-mark>`), []string{"notation:  → sharp over or under the note"}},
		"mordent twice":                 {at(`<ornaments><mordent/></ornaments>`), at(`<ornaments><mordent/><mordent/></ornaments>`), []string{"ornament:  → mordent, once more"}},
		"feathered beam":                {inside(plain, `<staff>`, `<beam number="1">begin</beam><staff>`), inside(plain, `<staff>`, `<beam number="1" fan="accel">begin</beam><staff>`), []string{"notation:  → feathered beam (accel)"}},
		"pedal's sign abbreviated":      {pedalled(`sign="yes"`, `sign="yes"`), pedalled(`sign="yes" abbreviated="yes"`, `sign="yes"`), []string{"pedal: pedal → pedal, its sign abbreviated"}},
		"repeat with wings":             {plain + barlineAt("right", `<repeat direction="backward"/>`), plain + barlineAt("right", `<repeat direction="backward" winged="curved"/>`), []string{"repeat: sign to repeat back → sign to repeat back, with wings"}},
		"word at the head":              {plain, attributes(`<directive>Solo</directive>`) + plain, []string{"words:  → Solo"}},
		"staff not shown":               {plain, attributes(`<staff-details number="1" print-object="no"/>`) + plain, []string{"staff-details:  → staff, not shown"}},
		"staff said to be shown":        {plain, attributes(`<staff-details number="1" print-object="yes"/>`) + plain, []string{}},
		"tie for the ear":               {tiedTo(`<tied type="start"/>`, `<tied type="stop"/>`), tiedTo(``, ``), []string{"tie: drawn → sounding, and not drawn"}},
		"tie drawn from its beginning":  {tiedTo(`<tied type="start"/>`, `<tied type="stop"/>`), tiedTo(`<tied type="start"/>`, ``), []string{"tie: drawn → sounding, and not drawn"}},
		"tie's beginning left out":      {n("G4", 2, `<tied type="start"/>`) + n("G4", 2, `<tied type="stop"/>`) + n("B4", 2) + n("C5", 2), n("G4", 2) + n("G4", 2, `<tied type="stop"/>`) + n("B4", 2) + n("C5", 2), []string{"tie: tied → struck"}},
	} {
		t.Run(name, func(t *testing.T) {
			if d := cmp.Diff(c.want, listed(t, c.old, c.new)); d != "" {
				t.Error(d)
			}
		})
	}
}

// second is a second voice on the upper staff.
var second = `<backup><duration>8</duration></backup>` +
	strings.ReplaceAll(n("C4", 8), `<voice>1`, `<voice>2`)

// Layout is compared where it is asked for, and then only what is asked for.
func TestClassesAreComparedAsAsked(t *testing.T) {
	fill := n("C4", 2) + n("D4", 2) + n("E4", 2) + n("F4", 2)
	new := `<print new-system="yes"/>` + marksOf(`<dynamics><p/></dynamics>`) + n("C4", 2, fingers(f("1"))) + n("D4", 2) + n("E4", 2) + n("F4", 2)
	kinds := func(classes ...compare.Class) (out []string) {
		for _, c := range compare.Scores("x", bare(read(t, fill, fill)), bare(read(t, fill, new)), classes...).Changes {
			out = append(out, string(c.Kind))
		}
		return out
	}
	for _, c := range []struct {
		classes []compare.Class
		want    []string
	}{
		{nil, []string{"digit-added", "dynamics"}},
		{[]compare.Class{compare.Fingering}, []string{"digit-added"}},
		{[]compare.Class{compare.Text}, []string{"dynamics"}},
		{[]compare.Class{compare.Layout}, []string{"system-break"}},
		{compare.Classes(), []string{"system-break", "digit-added", "dynamics"}},
	} {
		if d := cmp.Diff(c.want, kinds(c.classes...)); d != "" {
			t.Error(c.classes, d)
		}
	}
}
