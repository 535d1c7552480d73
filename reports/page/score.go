package page

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"fingerproof/corpus/printwords"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/reports/engrave"
)

// WholeScore is the edition's score as it will print, drawn system by system.
type WholeScore struct {
	Systems []string // drawings
	Glyphs  string   // the outlines they share
	Key     string   // stands for everything the drawing depends on
	Note    string   // why there is none, or what is missing in it
	Legend  []policies.LegendRow
	// Unshown names the parts that the drawing leaves out, "" where it has them all.
	Unshown string
}

// scoreWidth is the width of a system of the score, in CSS pixels: its staff is 7.4 mm high on the paper of a proof, as in print.
const scoreWidth = 1000

// scoreForm rises when the same score is drawn otherwise.
const scoreForm = "23"

// DrawScore engraves the whole edition, unless it stands unchanged on the page that an earlier run wrote; earlier is
// that page, nil where there is none. Why a score cannot be drawn stands on the page and spoils nothing; an error
// means that the run is over.
func (m *Material) DrawScore(
	ctx context.Context, worker *engrave.Worker, w *pipeline.PieceRun, earlier []byte,
) error {
	m.Score = WholeScore{}
	edition, occurs, err := w.EditionData, w.Occurs, error(nil)
	withheld := w.Press && len(w.Open) > 0 && edition != nil
	if withheld { // what is open is drawn, and seen as soon as it is taken
		edition, occurs, err = pipeline.AsTaken(w)
	}
	var sheet *engrave.Sheet
	if err == nil {
		sheet, err = editionSheet(w, edition)
	}
	if err != nil {
		m.Score.Note = "The edition could not be drawn: " + err.Error()
		return nil
	}
	m.markStates(sheet, withheld)
	m.asColumns(sheet)
	// A proof says whose the digits are, whether the edition has a legend or not.
	m.Score.Legend = w.Policy.LegendOf(printwords.In("en"), *occurs) // there where an edition is
	m.Score.Unshown = unshown(w.Score.Parts, pianoParts(w))
	m.Score.Key = scoreKey(edition, pianoParts(w), sheet)
	if m.Score.takeFrom(earlier) {
		return nil
	}
	glyphs := &engrave.Glyphs{}
	drawn, err := worker.Score(ctx, sheet, engrave.ScoreOptions{
		Title: "the score as it will print", Width: scoreWidth, Glyphs: glyphs,
	})
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		m.Score.Note, m.Score.Key = "The edition could not be drawn: "+err.Error(), ""
		return nil
	}
	for _, s := range drawn.Systems {
		m.Score.Systems = append(m.Score.Systems, s.SVG)
	}
	m.Score.Glyphs, m.Score.Note = glyphs.SVG(), m.shortcomings(&drawn)
	return nil
}

// editionSheet is the edition of a run, made fit for the engraver.
func editionSheet(w *pipeline.PieceRun, edition []byte) (*engrave.Sheet, error) {
	if edition == nil {
		return nil, errors.New("the run made no edition")
	}
	document, err := source.Open(w.Edition, edition, source.DefaultLimits())
	if err != nil {
		return nil, err
	}
	return engrave.Copy([]byte(document.Text), engrave.CopyOptions{Parts: pianoParts(w)})
}

// unshown says which parts are not drawn: of a song the voice, and with it the tempo marks that stand above it alone.
func unshown(parts []score.Part, drawn []string) string {
	var names []string
	for i := range parts {
		if slices.Contains(drawn, parts[i].ID) {
			continue
		}
		name := parts[i].Name
		if name == "" {
			name = parts[i].ID
		}
		names = append(names, name)
	}
	if len(names) == 0 {
		return ""
	}
	return "Not drawn here, as it has no digits: " + wording.List(names) + ", with what stands there alone, as tempo marks above it. " +
		"The edition’s file has it as it was."
}

// shortcomings says what of the score is not as it will print.
func (m *Material) shortcomings(drawn *engrave.Score) string {
	var parts []string
	numbers := func(list []int) string {
		var out []string
		for _, i := range list {
			out = append(out, m.number(i))
		}
		return wording.List(out)
	}
	if len(drawn.Missing) > 0 {
		parts = append(parts, "The engraver could not draw m. "+numbers(drawn.Missing)+".")
	}
	if len(drawn.Cut) > 0 {
		parts = append(parts, "The engraver could not draw the score in one: no slur or tie crosses to m. "+
			numbers(drawn.Cut)+".")
	}
	return strings.Join(parts, " ")
}

// asColumns draws digits of several keys that stand at one of them as the column that they are read as, not as a change of finger.
func (m *Material) asColumns(sheet *engrave.Sheet) {
	for i := range m.Result.Notes {
		n := &m.Result.Notes[i]
		if n.Piled == "" || len(n.Source) == 0 || n.N >= len(sheet.Notes) {
			continue
		}
		for k := range sheet.Notes[n.N].Digits {
			sheet.Notes[n.N].Digits[k].Substitution = false
		}
	}
}

// markStates says of each fingering sign what state its note is in: asked (nobody has decided it), unsure beside that
// where it is a real doubt, changed where it differs from what was last passed; withheld where it prints only once it is decided.
func (m *Material) markStates(sheet *engrave.Sheet, withheld bool) {
	asked, unsure, changed := map[int]bool{}, map[int]bool{}, map[int]bool{}
	doubt := inDoubt(m.Passages)
	standing := map[int]int{} // digits of the text: they come first
	for _, n := range m.Open {
		asked[n] = true
	}
	for i := range m.Result.Notes {
		n := &m.Result.Notes[i]
		unsure[n.N] = confidenceWord(n, doubt) == doubtfulWord && asked[n.N]
		for k := range n.Source {
			if !n.Source[k].WitnessOnly {
				standing[n.N]++
			}
		}
	}
	for i := range m.Changes {
		changed[m.Changes[i].N] = true
	}
	for i := range sheet.Notes {
		var classes []string
		if asked[i] {
			classes = append(classes, "asked")
		}
		if unsure[i] {
			classes = append(classes, "unsure")
		}
		if changed[i] {
			classes = append(classes, "altered")
		}
		for k := range sheet.Notes[i].Digits {
			d := &sheet.Notes[i].Digits[k]
			d.Class, d.Boxed = strings.Join(classes, " "), changed[i]
			if withheld && asked[i] && k >= standing[i] {
				d.Class += " withheld"
			}
		}
	}
	for i := range m.Result.Redistributions {
		d := &m.Result.Redistributions[i]
		if d.Decided {
			continue
		}
		for _, n := range d.Notes {
			if n.N < len(sheet.Notes) {
				sheet.Notes[n.N].Ring = "handed"
			}
		}
	}
}

// scoreKey stands for everything a drawing of the score depends on.
func scoreKey(edition []byte, parts []string, sheet *engrave.Sheet) string {
	h := sha256.New()
	fmt.Fprintln(h, scoreForm, engrave.Version(), scoreWidth, parts)
	notes, err := json.Marshal(sheet.Notes)
	if err != nil {
		return "" // plain values: no error can arise
	}
	h.Write(notes)
	h.Write(edition)
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// What stands between these on a page is the drawn score; its sum stands beside the key.
const (
	scoreBegins = "<!-- the drawn score -->"
	scoreEnds   = "<!-- the drawn score ends -->"
	systemEnds  = "<!-- system -->"
)

var drawnMark = regexp.MustCompile(`data-drawn="([0-9a-f]{32}) ([0-9a-f]{32})" data-note="([^"]*)"`)

// drawing is everything drawn, as it stands on the page.
func (s *WholeScore) drawing() string {
	return s.Glyphs + systemEnds + strings.Join(s.Systems, systemEnds)
}

// sum is the sum of what is drawn, by which a page's drawing is known to be whole.
func (s *WholeScore) sum() string {
	sum := sha256.Sum256([]byte(s.drawing()))
	return hex.EncodeToString(sum[:16])
}

// takeFrom takes the drawing from the page of an earlier run, where it is of the same score and unharmed. Only a
// drawing of the whole is taken: what was missing may be had this time.
func (s *WholeScore) takeFrom(earlier []byte) bool {
	match := drawnMark.FindSubmatch(earlier)
	if match == nil || string(match[1]) != s.Key || len(match[3]) > 0 {
		return false
	}
	_, rest, found := strings.Cut(string(earlier), scoreBegins)
	inside, _, ends := strings.Cut(rest, scoreEnds)
	parts := strings.Split(inside, systemEnds)
	if !found || !ends || len(parts) < 2 {
		return false
	}
	was := WholeScore{Glyphs: parts[0], Systems: parts[1:]}
	if was.sum() != string(match[2]) {
		return false
	}
	s.Glyphs, s.Systems = was.Glyphs, was.Systems
	return true
}

// passageOf gives, for each note that is to be judged, the number of the passage in which it is.
func (m *Material) passageOf() (out numbered[int]) {
	out = newNumbered[int](len(m.More))
	own := make(map[int]int, len(m.Passages)) // by number of a passage, that with which it is judged
	for i := range m.Passages {
		p := &m.Passages[i]
		if own[p.Number] = p.Number; p.ReturnOf > 0 {
			own[p.Number] = p.ReturnOf
		}
	}
	asked := newNumbered[bool](len(m.More))
	for i := len(m.Passages) - 1; i >= 0; i-- { // the first passage of a note counts
		p := &m.Passages[i]
		if p.Redistribution >= 0 {
			continue
		}
		asked.clear()
		for _, list := range [3][]int{p.Open, p.Doubts, p.Rest} {
			for _, n := range list {
				asked.set(n, true)
			}
		}
		for _, n := range p.Notes {
			if !out.has(n) || asked.has(n) {
				out.set(n, own[p.Number])
			}
		}
	}
	return out
}
