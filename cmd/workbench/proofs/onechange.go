package proofs

import (
	"context"
	_ "embed"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline/4_services/compare"
)

// Two scores of our own that hold an example of most that a piano score can print.
var (
	//go:embed rich/rich.musicxml
	richMusicXML string
	//go:embed rich/rich.mei
	richMEI string
)

// OneChange says what is changed.
type OneChange struct {
	Schemas string // folder of the published schemas
	Each    int    // most values that are tried of an attribute
	Show    bool
}

func oneChangeCommand() *cobra.Command {
	var ask OneChange
	return measurement.Measurement{
		Use:   "one-change",
		Short: "Change one thing in a score, and ask what diff says of it",
		Long: `one-change takes two scores that hold an example of most that a piano score can print, one in MusicXML and one in
MEI, and changes one thing at a time: an element goes, a text is another, an attribute goes, has another value, or comes
where the published schema allows it and it did not stand. Each changed score is compared with the one it was made of, in
all classes. What diff is silent of has to be of a kind that its reports name as not compared, or that prints nothing
(compare.SilentAttribute): the rest is counted as silent and unnamed. --show lists both.`,
		Fails: "something may print, and diff neither tells it nor names it as not compared",
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&ask.Schemas, "schemas", "", "folder of the published schemas (default: that of the shared folder)")
			f.IntVar(&ask.Each, "each", 3, "most values that are tried of an attribute")
			f.BoolVar(&ask.Show, "show", false, "list what diff is silent of")
		},
		Run: func(_ context.Context, out io.Writer, _ []string) error { return ask.measure(out) },
	}.Command()
}

// changed is one change of a score and what became of it.
type changed struct {
	what    string // "attribute place of words: above -> below"
	outcome outcome
	because string // of what is silent: as what reports name it
}

type outcome int

const (
	told    outcome = iota
	refused         // the score cannot be read any more
	named           // silent, and named as not compared
	nothing         // silent, and it prints nothing
	unnamed
	outcomes
)

var outcomeWords = [outcomes]string{"told", "refused", "not compared, and named", "prints nothing", "silent and unnamed"}

func (ask OneChange) measure(out io.Writer) error {
	if ask.Schemas == "" {
		found, ok := shared.Find("schemas")
		if !ok {
			return fmt.Errorf("there is no shared folder with schemas\nhint: name one with --schemas")
		}
		ask.Schemas = found
	}
	table := figures.NewTable(append([]string{"format", "changes"}, outcomeWords[:]...)...)
	left := 0
	var shown []string
	for _, format := range []string{"MusicXML", "MEI"} {
		all, err := ask.of(format)
		if err != nil {
			return err
		}
		var counts [outcomes]int
		for _, c := range all {
			counts[c.outcome]++
			if c.outcome >= named {
				shown = append(shown, fmt.Sprintf("%s: %s: %s%s", format, outcomeWords[c.outcome], c.what, c.because))
			}
		}
		row := []any{format, len(all)}
		for _, n := range counts {
			row = append(row, n)
		}
		table.Row(row...)
		left += counts[unnamed]
	}
	table.Print(out)
	if ask.Show {
		slices.Sort(shown)
		fmt.Fprintln(out, strings.Join(slices.Compact(shown), "\n"))
	}
	if left > 0 {
		return measurement.Failed("%d changes are silent and unnamed", left)
	}
	return nil
}

// of makes every change in the score of a format.
func (ask OneChange) of(format string) ([]changed, error) {
	text, name, attributes := richMusicXML, "rich.musicxml", xsdAttributes
	file := filepath.Join(ask.Schemas, "musicxml-4.0", "musicxml.xsd")
	if format == "MEI" {
		text, name, attributes = richMEI, "rich.mei", rngAttributes
		file = filepath.Join(ask.Schemas, "mei-5.1", "mei-all.rng")
	}
	schema := etree.NewDocument()
	if err := schema.ReadFromFile(file); err != nil {
		return nil, fmt.Errorf("reading the schema: %w", err)
	}
	may := attributes(schema.Root())
	before, err := opendata.ParseScore(name, []byte(text))
	if err != nil {
		return nil, err
	}
	m := oneChange{format: format, name: name, text: text, before: before}
	m.never = compare.Scores("x", compare.Side{Score: before}, compare.Side{Score: before}, compare.Classes()...).NotSaid
	doc := etree.NewDocument()
	if err := doc.ReadFromString(text); err != nil {
		return nil, err
	}
	tried := map[string]bool{} // attributes that were added, by element
	for i, e := range elementsOf(doc) {
		if !inMusic(format, e) {
			continue
		}
		at := placeIn(e)
		m.try("element "+e.Tag+" gone"+at, e.Tag, "", func(d *etree.Document) { at := elementsOf(d)[i]; at.Parent().RemoveChild(at) })
		if said := strings.TrimSpace(e.Text()); said != "" {
			m.try("text of "+e.Tag+": "+said+at, e.Tag, "", func(d *etree.Document) { elementsOf(d)[i].SetText(otherText(said)) })
		}
		for _, a := range e.Attr {
			if !saysNothing(format, e, a.FullKey(), a.Value, "") {
				m.try("attribute "+a.FullKey()+" of "+e.Tag+" gone: "+a.Value+at, e.Tag, a.FullKey(), func(d *etree.Document) {
					elementsOf(d)[i].RemoveAttr(a.FullKey())
				})
			}
		}
		for _, key := range sortedKeys(may[e.Tag]) {
			was := e.SelectAttrValue(key, "")
			if was == "" && tried[e.Tag+" "+key] {
				continue
			}
			tried[e.Tag+" "+key] = true
			tries := 0
			for _, value := range valuesFor(may[e.Tag][key], was) {
				if tries == ask.Each {
					break
				}
				if saysNothing(format, e, key, was, value) {
					continue
				}
				tries++
				m.try(fmt.Sprintf("attribute %s of %s: %q -> %q%s", key, e.Tag, was, value, at), e.Tag, key, func(d *etree.Document) {
					elementsOf(d)[i].CreateAttr(key, value)
				})
			}
		}
	}
	return m.all, nil
}

// oneChange makes changes in one score.
type oneChange struct {
	format, name, text string
	before             *score.Score
	never              []string // what is not compared even with itself
	all                []changed
}

// try makes one change, and asks.
func (m *oneChange) try(what, element, attribute string, change func(*etree.Document)) {
	doc := etree.NewDocument()
	if doc.ReadFromString(m.text) != nil {
		return
	}
	change(doc)
	text, err := doc.WriteToString()
	if err != nil {
		return
	}
	c := changed{what: what, outcome: told}
	after, err := opendata.ParseScore(m.name, []byte(text))
	if err != nil {
		c.outcome = refused
		m.all = append(m.all, c)
		return
	}
	p := compare.Scores("x", compare.Side{Score: m.before}, compare.Side{Score: after}, compare.Classes()...)
	if len(p.Changes) == 0 && len(p.Causes) == 0 {
		c.outcome = unnamed
		if n := slices.IndexFunc(p.NotSaid, func(s string) bool { return !slices.Contains(m.never, s) }); n >= 0 {
			c.outcome, c.because = named, " ["+p.NotSaid[n]+"]"
		} else if why, prints, known := compare.Silent(m.format, element, attribute); known && prints {
			c.outcome, c.because = named, " ["+why+"]"
		} else if known {
			c.outcome = nothing
		}
	}
	m.all = append(m.all, c)
}

// placeIn names where an element stands, by its measure and its name.
func placeIn(e *etree.Element) string {
	for at := e; at != nil; at = at.Parent() {
		if at.Tag == "measure" {
			name := e.SelectAttrValue("id", e.SelectAttrValue("type", ""))
			return strings.TrimRight(" (m. "+at.SelectAttrValue("n", at.SelectAttrValue("number", ""))+" "+name, " ") + ")"
		}
	}
	return ""
}

// elementsOf lists the elements of a document in the order in which they stand.
func elementsOf(doc *etree.Document) []*etree.Element { return doc.FindElements("//*") }

// inMusic says that an element is of the music, and no frame without which there is none.
func inMusic(format string, e *etree.Element) bool {
	if format == "MEI" {
		for at := e.Parent(); at != nil; at = at.Parent() {
			if at.Tag == "score" {
				return true
			}
		}
		return false
	}
	return e.Parent() != nil && e.Parent().Tag != ""
}

// otherText is a text that says something else.
func otherText(said string) string {
	if n, err := strconv.Atoi(said); err == nil {
		return strconv.Itoa(n + 1)
	}
	other := map[string]string{
		"up": "down", "down": "up", "quarter": "eighth", "eighth": "quarter", "half": "quarter", "whole": "half", "begin": "end", "end": "begin",
		"sharp": "flat", "flat": "sharp", "yes": "no", "no": "yes", "G": "F", "F": "G", "light-heavy": "light-light", "heavy-light": "light-light",
		"minor": "major", "add": "alter", "comma": "tick", "angled": "square", "diamond": "x", "brace": "bracket", "normal": "thick",
		"system": "measure", "C": "D", "D": "E", "E": "F", "A": "B", "B": "C",
	}
	if o := other[said]; o != "" {
		return o
	}
	return said + "x"
}

// valuesFor are values that an attribute can have instead of the one it has, "" for none. What no list of a schema names is a
// number, or letters.
func valuesFor(listed []string, was string) (out []string) {
	if len(listed) == 0 {
		listed = []string{"1", "2"}
		if _, err := strconv.Atoi(was); err != nil && was != "" {
			listed = []string{was + "x"}
		}
	}
	for _, v := range listed {
		if v != was {
			out = append(out, v)
		}
	}
	return out
}

// usual are the values of attributes that hold where they are not written: written or not, the page is the same.
var usual = map[string][]string{
	"MusicXML": strings.Fields("print-object=yes print-dot=yes print-lyric=yes print-leger=yes show-number=actual show-type=none separator=none " +
		"fan=none line-type=solid size=full size=8 winged=none show-frets=numbers print-frame=yes type=up type=upright type=start type=single " +
		"sign=yes symbol=normal location=right line-through=0 line-type=wavy"),
	"MEI": strings.Fields("visible=true lines.visible=true head.visible=true stem.visible=true keysig.visible=true meter.visible=true " +
		"num.visible=true num.format=count form=norm form=comma lform=solid stem.mod=none meter.form=norm dis.place=above lines=5 enclose=none form=pedstar form=upper"),
}

// references are attributes of MEI that name other things of the document: a made-up name says nothing. What they say where
// they stand is told where they go.
var references = strings.Fields("staff startid endid plist tstamp tstamp2 tie slur ornam beam tuplet num dis clef.dis trans.semi gliss keysig")

// saysNothing says that a change of an attribute is none of the page: a value that holds without it comes or goes, or it
// stands at the end of a line whose beginning says it.
func saysNothing(format string, e *etree.Element, key, was, is string) bool {
	if format == "MEI" && slices.Contains(references, key) {
		return true
	}
	if key == "accid" && e.SelectElement("accid") != nil { // the sign in the note says it
		return true
	}
	shown := slices.Contains(usual[format], key+"=yes") || slices.Contains(usual[format], key+"=true")
	common := func(v string) bool {
		return v == "" || (v == "no" || v == "false") && !shown || slices.Contains(usual[format], key+"="+v)
	}
	if common(was) && common(is) && (was == "" || is == "") {
		return true
	}
	kind := e.SelectAttrValue("type", "")
	return format == "MusicXML" && (kind == "stop" || kind == "continue") && key != "type" && e.Tag != "barline"
}
