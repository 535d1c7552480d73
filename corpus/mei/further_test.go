package mei_test

import (
	"encoding/xml"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/mei"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_services/compare"
)

// everySign is music with one of each element that is read.
var everySign = piano([3]string{
	`<beam><note xml:id="a1" dur="8" pname="f" oct="5" accid.ges="s"><artic artic="stacc"/></note><note xml:id="a2" dur="8" pname="g" oct="5"><accid accid="s"/></note></beam>` +
		`<tuplet num="3" numbase="2"><note xml:id="a3" dur="8" pname="a" oct="5"/><note dur="8" pname="g" oct="5"/><note xml:id="a5" dur="8" pname="a" oct="5"/></tuplet>` +
		`<graceGrp grace="acc"><note xml:id="g1" dur="16" pname="b" oct="5"/></graceGrp>` +
		`<note xml:id="a6" dur="4" pname="d" oct="6"><verse n="1"><syl wordpos="i" con="d">la</syl></verse></note><rest dur="4"/>`,
	`<chord xml:id="c1" dur="2"><note xml:id="b1" pname="d" oct="3"/><note xml:id="b2" pname="a" oct="3"/></chord>` +
		`<bTrem><note xml:id="t1" dur="4" pname="e" oct="3" stem.mod="3slash"/></bTrem><clef shape="G" line="2"/><note xml:id="x1" dur="4" pname="a" oct="4"/>`,
	`<slur startid="#a1" endid="#a3"/><tie startid="#x1" endid="#y1"/><fing startid="#a1" staff="1" place="above">2</fing>` +
		`<fingGrp form="subst" startid="#a6" staff="1" place="above"><fing>5</fing><fing>4</fing></fingGrp>` +
		`<dynam tstamp="1" staff="1" place="below">mf</dynam><hairpin form="cres" tstamp="2" tstamp2="0m+4" staff="1" place="below"/>` +
		`<pedal dir="down" tstamp="1" staff="2"/><pedal dir="up" tstamp="3.5" staff="2"/><arpeg plist="#c1"/><trill startid="#a6"/><mordent startid="#a3"/>` +
		`<turn startid="#a5"/><fermata startid="#a6"/><breath startid="#a2"/><tempo tstamp="1" staff="1">Andante</tempo><dir tstamp="2" staff="1"><rend fontstyle="italic">dolce</rend></dir>` +
		`<reh tstamp="1" staff="1">A</reh><harm tstamp="1" staff="1">C</harm><octave tstamp="1" tstamp2="0m+2" staff="1" dis="8" dis.place="above"/>` +
		`<gliss startid="#a5" endid="#a6"/><bracketSpan tstamp="1" tstamp2="0m+2" staff="2"/><repeatMark func="segno" tstamp="1" staff="1"/><lv startid="#t1"/><caesura startid="#a2"/>`,
}, [3]string{`<mRest/>`, `<note xml:id="y1" dur="1" pname="a" oct="4"/>`, ``}, [3]string{`<note dur="1" pname="a" oct="4"/>`, `<mRest/>`, ``})

// schema is MEI's schema, as far as it says which attributes elements have and which words these may be.
type schema struct {
	attributes map[string]map[string][]string
}

// node is an element of the schema.
type node struct {
	XMLName  xml.Name
	Name     string `xml:"name,attr"`
	Text     string `xml:",chardata"`
	Children []node `xml:",any"`
}

func readSchema(t *testing.T) schema {
	data, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("schemas", "mei-5.1")), "mei-all.rng"))
	require.NoError(t, err)
	var root node
	require.NoError(t, xml.Unmarshal(data, &root))
	defines, elements := map[string][]node{}, map[string]node{}
	var walk func(n node)
	walk = func(n node) {
		switch n.XMLName.Local {
		case "define":
			defines[n.Name] = append(defines[n.Name], n)
		case "element":
			elements[n.Name] = n
		}
		for _, c := range n.Children {
			walk(c)
		}
	}
	walk(root)
	var values func(n node, seen map[string]bool) []string
	values = func(n node, seen map[string]bool) (out []string) {
		for _, c := range n.Children {
			switch c.XMLName.Local {
			case "value":
				out = append(out, strings.TrimSpace(c.Text))
			case "ref":
				if !seen[c.Name] {
					seen[c.Name] = true
					for _, d := range defines[c.Name] {
						out = append(out, values(d, seen)...)
					}
				}
			default:
				out = append(out, values(c, seen)...)
			}
		}
		return out
	}
	s := schema{map[string]map[string][]string{}}
	for name, e := range elements {
		out, seen := map[string][]string{}, map[string]bool{}
		var gather func(n node)
		gather = func(n node) {
			for _, c := range n.Children {
				switch c.XMLName.Local {
				case "attribute":
					if c.Name != "" && !strings.Contains(c.Name, ":") {
						out[c.Name] = append(out[c.Name], values(c, map[string]bool{})...)
					}
				case "ref":
					if !seen[c.Name] {
						seen[c.Name] = true
						for _, d := range defines[c.Name] {
							gather(d)
						}
					}
				case "element":
				default:
					gather(c)
				}
			}
		}
		gather(e)
		s.attributes[name] = out
	}
	require.Greater(t, len(s.attributes), 400)
	return s
}

// partners are what attributes need beside themselves at their element.
var partners = map[string]string{"note num": ` numbase="2"`, "rest num": ` numbase="2"`, "clef dis": ` dis.place="below"`, "staffDef clef.dis": ` clef.shape="G"`}

// toldWithOthers are attributes of which one alone changes nothing that prints here: what they need besides.
var toldWithOthers = map[string]string{
	"chord beam": "another note with it", "note beam": "another note with it", "rest beam": "another note with it",
	"chord tuplet": "another note with it", "note tuplet": "another note with it", "rest tuplet": "another note with it",
	"chord stem.dir": "stems in the other score, else named as not compared", "note stem.dir": "the same",
	"rest num":        "a note behind it",
	"graceGrp attach": "a barline behind it, else the same print", "scoreDef clef.shape": "staves without clefs of their own",
	"scoreDef dur.default": "notes without values of their own", "staffDef dur.default": "the same",
}

// Every attribute that the schema allows at an element of the music is told by a comparison where it comes, unless it is one
// of those that reports name as not compared: what the reader takes no notice of is kept as it is written.
func TestEveryAttributeOfTheSchemaIsToldWhereItComes(t *testing.T) {
	rules := readSchema(t)
	old := compare.Side{Score: read(t, everySign)}
	told := func(text string) (lines []string, err error) {
		doc, err := openAs(text)
		if err != nil {
			return nil, err
		}
		for _, c := range compare.Scores("x", old, compare.Side{Score: doc}, compare.Classes()...).Changes {
			lines = append(lines, fmt.Sprintf("%s: %s → %s", c.Kind, c.Old, c.New))
		}
		return lines, nil
	}
	same, err := told(everySign)
	require.NoError(t, err)
	require.Empty(t, same)
	names := []string{}
	for name := range rules.attributes {
		names = append(names, name)
	}
	slices.Sort(names)
	body := strings.Index(everySign, "<body>")
	looked := 0
	for _, element := range names {
		at := strings.Index(everySign[body:], "<"+element+" ")
		if short := strings.Index(everySign[body:], "<"+element+"/"); at < 0 || short >= 0 && short < at {
			at = short
		}
		if at < 0 {
			continue
		}
		at += body + len("<"+element)
		end := at + strings.IndexByte(everySign[at:], '>')
		attributes := []string{}
		for name := range rules.attributes[element] {
			attributes = append(attributes, name)
		}
		slices.Sort(attributes)
		for _, name := range attributes {
			values := append(slices.Clone(rules.attributes[element][name]), "1", "true", "2s", "3", "8", "t")
			open := func(value string) bool { return !mei.PassedOver(element, name, value) || mei.ReadAt(element, name) }
			if strings.Contains(everySign[at:end], " "+name+`="`) || !slices.ContainsFunc(values, open) {
				continue
			}
			looked++
			found := false
			for _, v := range values {
				lines, err := told(everySign[:at] + fmt.Sprintf(" %s=%q", name, v) + partners[element+" "+name] + everySign[at:])
				if found = err != nil || len(lines) > 0; found {
					break
				}
			}
			if needs := toldWithOthers[element+" "+name]; needs != "" {
				require.False(t, found, "<%s %s> is told: it is none of those that need %s", element, name, needs)
				continue
			}
			if !found {
				t.Errorf("<%s %s> comes, and nothing is told (%v)", element, name, values)
			}
		}
	}
	require.Greater(t, looked, 300)
}

func openAs(text string) (*score.Score, error) {
	doc, err := source.Open("t.mei", []byte(text), source.DefaultLimits())
	if err != nil {
		return nil, err
	}
	s, _, err := mei.Read(doc, mei.DefaultLimits(), mei.Options{})
	return s, err
}

// What an engraver draws otherwise is told of MEI as it is of MusicXML: in the words of music where it has some, else as it is
// written, in place and with what it stands at.
func TestWhatPrintsOtherwiseIsTold(t *testing.T) {
	note := `<note xml:id="n1" dur="1" pname="a" oct="4"/>`
	two := `<note xml:id="n1" dur="2" pname="a" oct="4"/><note xml:id="n2" dur="2" pname="a" oct="4"/>`
	mark := func(glyph, number string) string {
		return `<tempo tstamp="1" staff="1" mm="72" mm.unit="4">Lento <rend glyph.auth="smufl">` + glyph + `</rend> = ` + number + `</tempo>`
	}
	for name, c := range map[string]struct {
		old, new [3]string
		want     string
	}{
		"digit in parentheses":  {[3]string{note, note, `<fing startid="#n1">3</fing>`}, [3]string{note, note, `<fing startid="#n1"><rend rend="paren">3</rend></fing>`}, "style: 3 plain → 3 in parentheses"},
		"digit in a box":        {[3]string{note, note, `<fing startid="#n1">3</fing>`}, [3]string{note, note, `<fing startid="#n1"><rend rend="box">3</rend></fing>`}, "further-notation:  → fing 3: rend box"},
		"dynamic":               {[3]string{note, note, `<dynam tstamp="1" staff="1">p</dynam>`}, [3]string{note, note, `<dynam enclose="paren" tstamp="1" staff="1">p</dynam>`}, "further-notation:  → dynam p: enclose paren"},
		"note of the mark":      {[3]string{note, note, mark("&#xECA5;", "72")}, [3]string{note, note, mark("&#xECA3;", "72")}, "metronome: quarter = 72 → half = 72"},
		"number of the mark":    {[3]string{note, note, mark("&#xECA5;", "72")}, [3]string{note, note, mark("&#xECA5;", "76")}, "metronome: quarter = 72 → quarter = 76"},
		"stem of the mark":      {[3]string{note, note, mark("&#xECA5;", "72")}, [3]string{note, note, mark("&#xECA6;", "72")}, ""},
		"words behind it":       {[3]string{note, note, mark("&#xECA5;", "72")}, [3]string{note, note, mark("&#xECA5;", "72 circa")}, "tempo: Lento → Lento circa"},
		"refrain":               {[3]string{note, note, ``}, [3]string{`<note xml:id="n1" dur="1" pname="a" oct="4"><refrain><syl>la</syl></refrain></note>`, note, ``}, "further-notation:  → refrain la (fingerprint 53b51594)"},
		"glyph":                 {[3]string{note, note, `<turn startid="#n1"/>`}, [3]string{note, note, `<turn startid="#n1" glyph.num="U+E569"/>`}, "further-notation:  → turn: glyph.num U+E569"},
		"sign as its sound":     {[3]string{note, note, `<turn startid="#n1"/>`}, [3]string{note, note, `<turn startid="#n1" glyph.auth="smufl" vo="3"/>`}, ""},
		"arrow":                 {[3]string{note, note, `<arpeg plist="#n1"/>`}, [3]string{note, note, `<arpeg arrow="true" plist="#n1"/>`}, "further-notation:  → arpeg: arrow true"},
		"dashed tie":            {[3]string{two, note, `<tie startid="#n1" endid="#n2"/>`}, [3]string{two, note, `<tie lform="dashed" startid="#n1" endid="#n2"/>`}, "tie: full line → dashed"},
		"small rest":            {[3]string{`<rest dur="1"/>`, note, ``}, [3]string{`<rest dur="1" cue="true"/>`, note, ``}, "further-notation:  → rest: cue true"},
		"beam over the barline": {[3]string{note, note, ``}, [3]string{note, note, `<beamSpan startid="#n1" endid="#n1"/>`}, "further-notation:  → beamSpan to m. 1, beat 1"},
	} {
		t.Run(name, func(t *testing.T) {
			p := compare.Scores("x", compare.Side{Score: read(t, piano(c.old))}, compare.Side{Score: read(t, piano(c.new))}, compare.Classes()...)
			var lines []string
			for _, change := range p.Changes {
				lines = append(lines, fmt.Sprintf("%s: %s → %s", change.Kind, change.Old, change.New))
			}
			require.Equal(t, c.want, strings.Join(lines, "; "))
		})
	}
}

// What only one format can say is not compared with a file of another, and the report says so.
func TestFurtherNotationIsNotComparedAcrossFormats(t *testing.T) {
	one := read(t, piano([3]string{`<note xml:id="n1" dur="1" pname="a" oct="4"/>`, `<mRest/>`, `<turn startid="#n1" glyph.num="U+E569"/>`}))
	other := *one
	other.Format, other.Items = "musicxml", slices.DeleteFunc(slices.Clone(one.Items), func(i score.Item) bool { return i.Kind == score.ItemFurther })
	p := compare.Scores("x", compare.Side{Score: &other}, compare.Side{Score: one})
	require.Empty(t, p.Changes)
	require.Contains(t, strings.Join(p.NotSaid, "; "), "of the new score and is not read, since the other is of another format (1 place; the first in m. 1: turn: glyph.num U+E569)")
}
