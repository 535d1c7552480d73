package pipeline

import (
	"strconv"
	"strings"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_stages/04_attribute"
)

// recordField is the name of the field in which an edition carries what was
// done to its text.
const recordField = "record"

const (
	recordBefore = `<miscellaneous-field name="` + musicxml.FieldPrefix + recordField + `">`
	recordAfter  = `</miscellaneous-field>`
)

// Kept is what an edition brings along beside the text it was made from.
type Kept struct {
	// Whose has a letter for each digit that stands in the text, in order: the
	// first letter of its responsibility, d for the editor's.
	Whose string `json:"whose,omitempty"`
	// Digits that were added and are not open.
	Digits []KeptDigit `json:"digits,omitempty"`
	// What the editors settled, printed or not.
	Decided         []KeptDecision       `json:"decided,omitempty"`
	Redistributions []KeptRedistribution `json:"redistributions,omitempty"`
	Declined        [][]int              `json:"declined,omitempty"` // redistributions decided against, by their notes
}

// KeptDigit is an added digit that someone is responsible for.
type KeptDigit struct {
	N      int                  `json:"n"`
	Finger int                  `json:"finger"`
	Then   []int                `json:"then,omitempty"` // the rest of a change or of a row
	Who    score.Responsibility `json:"who"`
	Agent  string               `json:"agent,omitempty"`
	Sigla  []string             `json:"sigla,omitempty"`
}

var whoseLetters = map[byte]score.Responsibility{'c': score.Composer, 'e': score.Earlier, 'd': score.Editor, 'o': score.Open}

func letterOf(who score.Responsibility) byte {
	for l, r := range whoseLetters { // one letter each: any order will do
		if r == who {
			return l
		}
	}
	return '-'
}

// unmark takes an edition back to the text it was made from, where it carries
// what was done to it and no other program has changed it since. Otherwise the
// document is its own text.
func unmark(doc *source.Document) (*source.Document, *Kept) {
	_, rest, found := strings.Cut(doc.Text, recordBefore)
	if !found {
		return doc, nil
	}
	content, _, found := strings.Cut(rest, recordAfter)
	if !found {
		return doc, nil
	}
	var kept Kept
	text, ok := source.Unpack(doc.Text, recordBefore, content, recordAfter, &kept)
	if !ok {
		return doc, nil
	}
	return doc.WithText(text), &kept
}

// readBase reads the text that marks are put into. Its notes and digits have
// the places at which they stand in the document that was given.
func readBase(doc, base *source.Document) (*score.Score, *musicxml.Layout, error) {
	s, layout, err := musicxml.Read(base, musicxml.DefaultLimits())
	if err != nil || doc == base {
		return s, layout, err
	}
	given, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	if err != nil {
		return nil, nil, err
	}
	for i := range s.Notes {
		if i >= len(given.Notes) {
			break
		}
		from, to := &given.Notes[i], &s.Notes[i]
		to.Line, to.Column = from.Line, from.Column
		k := 0
		for at := range to.Indications {
			for k < len(from.Indications) && from.Indications[k].Text != to.Indications[at].Text {
				k++
			}
			if k < len(from.Indications) {
				to.Indications[at].Line, to.Indications[at].Column = from.Indications[k].Line, from.Indications[k].Column
				k++
			}
		}
	}
	for k := range s.Directions {
		if len(given.Directions) == len(s.Directions) { // else signs were added among them
			s.Directions[k].Line, s.Directions[k].Column = given.Directions[k].Line, given.Directions[k].Column
		}
	}
	return s, layout, nil
}

// keptReadings gives what an edition brings along as readings beside those of
// the witnesses: a witness that the manifest still names speaks for itself.
func keptReadings(kept *Kept, sources *attribute.Sources, witnesses []attribute.Witness) {
	if kept == nil {
		return
	}
	named := map[string]bool{}
	for _, w := range witnesses {
		named[w.Siglum] = true
	}
	for _, d := range kept.Digits {
		if d.N < 0 || d.N >= len(sources.Readings) {
			continue
		}
		sigla := d.Sigla
		if len(sigla) == 0 {
			sigla = []string{""}
		}
		for _, siglum := range sigla {
			if siglum != "" && named[siglum] {
				continue
			}
			sources.Readings[d.N] = append(sources.Readings[d.N], attribute.Reading{
				Siglum: siglum, Text: spell(d.Finger, d.Then), Fingers: append([]int{d.Finger}, d.Then...), Responsibility: d.Who, Agent: d.Agent,
			})
		}
	}
}

// whoseKept says whose the digits of the text are by what the edition brings
// along; false where it says nothing.
func whoseKept(s *score.Score, kept *Kept) ([][]score.Responsibility, bool) {
	if kept == nil {
		return nil, false
	}
	out, at := make([][]score.Responsibility, len(s.Notes)), 0
	for i := range s.Notes {
		for range s.Notes[i].Indications {
			if at >= len(kept.Whose) || whoseLetters[kept.Whose[at]] == score.Unattributed {
				return nil, false
			}
			out[i] = append(out[i], whoseLetters[kept.Whose[at]])
			at++
		}
	}
	return out, at == len(kept.Whose)
}

// spell writes a digit with those that follow on it.
func spell(finger int, then []int) string {
	out := strconv.Itoa(finger)
	for _, f := range then {
		out += " " + strconv.Itoa(f)
	}
	return out
}

// keep gathers what the edition brings along; then has by note the fingers
// that follow on a digit.
func keep(whose [][]score.Responsibility, marking *score.Marking, credits []attribute.Credit, fingers []int, then [][]int) Kept {
	var out Kept
	var letters []byte
	for _, digits := range whose {
		for _, who := range digits {
			letters = append(letters, letterOf(who))
		}
	}
	out.Whose = string(letters)
	for _, m := range marking.Marks {
		if len(m.Digits) == 0 || m.Note >= len(credits) {
			continue
		}
		if c := credits[m.Note]; c.Who != score.Open && !c.Carried {
			out.Digits = append(out.Digits, KeptDigit{N: m.Note, Finger: fingers[m.Note], Then: then[m.Note], Who: c.Who, Agent: c.Agent, Sigla: c.Sigla})
		}
	}
	return out
}

// edit splices a marking into the text and gives the edits of the document
// that was given. What was done to the text goes along in the head.
func edit(doc, base *source.Document, layout *musicxml.Layout, marking score.Marking, kept Kept, options musicxml.SpliceOptions) ([]source.Edit, error) {
	marking.Fields = append(marking.Fields, score.Field{Name: recordField})
	edits, err := musicxml.Splice(base, layout, marking, options)
	if err != nil {
		return nil, err
	}
	if edits, err = source.Pack(base.Text, edits, recordBefore+recordAfter, recordBefore+"%s"+recordAfter, kept); err != nil {
		return nil, err
	}
	if doc == base {
		return edits, nil
	}
	text, err := source.Apply(base.Text, edits)
	if err != nil {
		return nil, err
	}
	return source.Whole(doc.Text, text), nil
}
