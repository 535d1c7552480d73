package formats

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
)

// placed is where an event stands in its measure in Verovio's MEI, and how long it lasts: by the values and tuplets that
// are written there, and by the ticks (@dur.ppq) that Verovio took from the lengths of the MusicXML. In quarters.
type placed struct {
	byValue, byTicks float64
	value, ticks     float64
	layer            *laid
	order            int     // in its layer
	asPlayed         float64 // where it stands by the values, a space without one counted as a quarter
}

// laid is a layer of Verovio's MEI.
type laid struct {
	events         []string // their ids
	byValue, ticks float64
	full           float64 // by the values, each note of a tremolo between two with all of its value
	grace          bool    // holds a grace note
	whole          bool    // a rest for a whole measure stands in it, alone or among notes
	filled         bool    // holds a space whose value is not its ticks
	unvalued       float64 // spaces that have no value
}

// written is a score as Verovio wrote it.
type written struct {
	at       map[string]placed
	measures []writtenMeasure
	modified map[string]bool // notes that have a <time-modification> in the MusicXML
	ppq      map[int]float64 // by staff
}

type writtenMeasure struct {
	id               string
	layers           []*laid
	grace, forbidden bool // holds a grace note, a bracket that forbids a roll
	rolled           bool
	beats            []float64 // at which signs stand or end (@tstamp, @tstamp2), 1 for the first
}

// writtenBy reads Verovio's MEI with a reading of its own, so that the reader under test is not its own witness.
func writtenBy(musicxml, mei []byte) (*written, error) {
	w := &written{at: map[string]placed{}, modified: map[string]bool{}, ppq: map[int]float64{}}
	for _, note := range strings.Split(string(musicxml), "<note ")[1:] {
		note, _, _ = strings.Cut(note, "</note>")
		if strings.Contains(note, "<time-modification>") {
			id, _, _ := strings.Cut(strings.TrimPrefix(note, `id="`), `"`)
			w.modified[id] = true
		}
	}
	document := etree.NewDocument()
	if err := document.ReadFromBytes(mei); err != nil {
		return nil, fmt.Errorf("Verovio's MEI: %w", err)
	}
	for _, d := range document.FindElements("//staffDef") {
		if p, err := strconv.ParseFloat(d.SelectAttrValue("ppq", ""), 64); err == nil && p > 0 {
			n, _ := strconv.Atoi(d.SelectAttrValue("n", ""))
			w.ppq[n] = p
		}
	}
	ends := map[int][]float64{} // by measure, the beats at which signs of measures before it end
	for at, e := range document.FindElements("//measure") {
		m := writtenMeasure{id: e.SelectAttrValue("xml:id", "")}
		for _, a := range e.SelectElements("arpeg") {
			forbidden := a.SelectAttrValue("order", "") == "nonarp"
			m.forbidden, m.rolled = m.forbidden || forbidden, m.rolled || !forbidden
		}
		m.beats = ends[at]
		for _, sign := range e.ChildElements() {
			if beat, err := strconv.ParseFloat(sign.SelectAttrValue("tstamp", ""), 64); err == nil {
				m.beats = append(m.beats, beat)
			}
			measures, beat, _ := strings.Cut(sign.SelectAttrValue("tstamp2", ""), "m+")
			k, _ := strconv.Atoi(measures)
			if until, err := strconv.ParseFloat(beat, 64); err == nil && k == 0 {
				m.beats = append(m.beats, until)
			} else if err == nil {
				ends[at+k] = append(ends[at+k], until)
			}
		}
		for _, staff := range e.SelectElements("staff") {
			n, _ := strconv.Atoi(staff.SelectAttrValue("n", ""))
			for _, layer := range staff.SelectElements("layer") {
				l := &laid{}
				w.lay(l, layer, w.ppq[n], 1, 1)
				m.layers = append(m.layers, l)
				m.grace = m.grace || l.grace
			}
		}
		w.measures = append(w.measures, m)
	}
	return w, nil
}

// lay places what stands in an element of a layer.
func (w *written) lay(l *laid, in *etree.Element, ppq, ratio, full float64) {
	for _, e := range in.ChildElements() {
		switch e.Tag {
		case "tuplet":
			num, _ := strconv.ParseFloat(e.SelectAttrValue("num", "3"), 64)
			base, _ := strconv.ParseFloat(e.SelectAttrValue("numbase", "2"), 64)
			w.lay(l, e, ppq, ratio*base/num, full*base/num)
		case "fTrem":
			w.lay(l, e, ppq, ratio/2, full)
		case "beam", "bTrem", "graceGrp":
			w.lay(l, e, ppq, ratio, full)
		case "mRest":
			l.whole = true
		case "note", "chord", "rest", "space":
			if e.SelectAttrValue("grace", "") != "" || in.Tag == "graceGrp" {
				l.grace = true
				continue
			}
			p := placed{byValue: l.byValue, byTicks: l.ticks, layer: l, order: len(l.events), asPlayed: l.byValue + l.unvalued}
			p.value = valueOf(e) * ratio
			if ticks, err := strconv.ParseFloat(e.SelectAttrValue("dur.ppq", ""), 64); err == nil && ppq > 0 {
				p.ticks = ticks / ppq
			} else {
				p.ticks = p.value
			}
			if e.Tag == "space" && e.SelectAttrValue("dur", "") == "" {
				l.unvalued += ratio
			}
			l.filled = l.filled || e.Tag == "space" && math.Abs(p.value-p.ticks) > 1.0/1024
			l.full += valueOf(e) * full
			ids := []string{e.SelectAttrValue("xml:id", "")}
			for _, n := range e.SelectElements("note") {
				ids = append(ids, n.SelectAttrValue("xml:id", ""))
			}
			for _, id := range ids {
				w.at[id] = p
			}
			l.events = append(l.events, ids[len(ids)-1])
			l.byValue += p.value
			l.ticks += p.ticks
		}
	}
}

// valueOf is a written value with its dots.
func valueOf(e *etree.Element) float64 {
	v := 0.0
	switch dur := e.SelectAttrValue("dur", ""); dur {
	case "breve":
		v = 8
	case "long":
		v = 16
	default:
		if n, err := strconv.ParseFloat(dur, 64); err == nil && n > 0 {
			v = 4 / n
		}
	}
	dots, _ := strconv.Atoi(e.SelectAttrValue("dots", "0"))
	return v * (2 - math.Pow(2, -float64(dots)))
}

// why there is a difference; each is shown by what Verovio's own MEI says, or by what else stands in the measure.
const (
	byValues   = "the MusicXML counts other lengths (duration) than its values and tuplets show; Verovio plays the values, the readers follow the lengths"
	tupletLost = "Verovio's MEI has no tuplet for notes that the MusicXML has in one (time-modification); the readers follow the lengths"
	notRolled  = "Verovio plays chords under a bracket that forbids a roll (non-arpeggiate) as rolled"
	afterGrace = "Verovio lets what follows grace notes, or a roll, begin later than it writes it"
	tremolos   = "Verovio lets a measure last as long as both notes of a tremolo between two, each with its whole value"
	jumps      = "Verovio follows jumps (segno, da capo, dal segno); compared are signs to repeat and endings alone"
	lastFrom   = "a sign to repeat has none to repeat from behind the passage that was repeated before it: Verovio goes back to the " +
		"last sign to repeat from, here it is taken to go back behind that passage"
	gapLost  = "Verovio's MEI leaves out a step in time that the MusicXML takes (forward); what follows stands earlier in its layer"
	restLost = "Verovio writes rests whose value the MusicXML does not name (no type) as rests of a whole measure among notes, and " +
		"counts them as nothing, or a measure longer; the readers follow the lengths"
	beatsOfOthers = "Verovio counts the beats of signs (@tstamp) by the metre of the first staff, where staves have metres of their own, and " +
		"lets a measure last as long as the last of them"
	remainder = "Verovio fills a step in time of the MusicXML (forward) with spaces of plain values, and drops what is left over, or writes it " +
		"as a space without a value and plays a quarter"
	unexplained = "unexplained"
)

const rolling = 0.1 // quarters that a roll delays a key at most

// whyAt says why a note begins at another moment of its measure than there, or lasts otherwise.
func (w *written) whyAt(n *score.Note, begin, length float64, onset bool) string {
	p, known := w.at[n.ID]
	if !known || n.Measure >= len(w.measures) {
		return unexplained
	}
	same := func(a, b float64) bool { return math.Abs(a-b) <= within }
	ours, written, ticks, there := n.Onset.Float(), p.byValue, p.byTicks, begin
	if !onset {
		ours, written, ticks, there = n.Duration.Float(), p.value, p.ticks, length
	}
	m := &w.measures[n.Measure]
	switch {
	case onset && p.layer.filled && same(there, p.asPlayed):
		return remainder
	case same(ours, ticks) && same(there, written) && !same(ours, there):
		return w.whyLengths(p)
	case same(ours, ticks) && same(ours, written) && there > ours && onset && m.forbidden:
		return notRolled
	case same(ours, ticks) && same(ours, written) && (m.grace || m.rolled):
		return afterGrace
	case onset && same(there, written) && same(there, ticks) && there < ours && p.layer.whole:
		return restLost
	case onset && same(there, written) && same(there, ticks) && there < ours:
		return gapLost
	case same(ours, ticks) && onset && there > written && there-written < rolling && m.rolled:
		return afterGrace
	case onset && there > ours && there-ours < rolling && m.forbidden:
		return notRolled
	}
	return unexplained
}

// whyLengths says whether the first event of a layer, up to one, whose ticks are not its value was in a tuplet.
func (w *written) whyLengths(p placed) string {
	for k, id := range p.layer.events {
		if q := w.at[id]; k <= p.order && math.Abs(q.value-q.ticks) > within/8 {
			if w.modified[id] {
				return tupletLost
			}
			return byValues
		}
	}
	return unexplained
}

// whyBar says why a measure lasts longer or shorter than there.
func (w *written) whyBar(index int, ours, there float64) string {
	if index >= len(w.measures) {
		return unexplained
	}
	for _, l := range w.measures[index].layers {
		if l.filled && math.Abs(there-l.byValue-l.unvalued) <= within {
			return remainder
		}
		if math.Abs(there-l.byValue) <= within && math.Abs(l.byValue-l.ticks) > within {
			return w.whyLengths(placed{layer: l, order: len(l.events)})
		}
		if l.full > l.byValue+within && l.full >= there-2*within && l.full <= there+within {
			return tremolos
		}
	}
	longest, whole := 0.0, false
	for _, l := range w.measures[index].layers {
		longest = max(longest, l.ticks)
		whole = whole || l.whole && l.ticks > 0
	}
	if whole && there > ours {
		return restLost
	}
	if last := slices.Max(append(w.measures[index].beats, 0)) - 1; there > longest+within && math.Abs(there-last) <= within {
		return beatsOfOthers
	}
	if longest < ours-within && there < ours-within {
		return gapLost
	}
	return unexplained
}

// why two readings join other notes by a tie.
const (
	overGap  = "the tie leads over a gap, as from a figure into the chord that gathers it; Verovio joins by the key, the readers report both ends and count the second note as struck"
	noTie    = "Verovio writes no whole tie between notes that the MusicXML ties and that follow each other"
	otherTie = "Verovio ties two notes to one that follows; the readers take the one of the same voice or staff"
)

// whyTie says why a note is not tied as there, where its tie leads to the note of that id.
func whyTie(s *score.Score, ids map[string]int, from int, to string) string {
	n := &s.Notes[from]
	end := s.At(from).Add(n.Duration)
	if to == "" {
		if k := n.TiedTo; k >= 0 && s.Notes[k].TieStop && n.TieStart && s.At(k) == end && s.Notes[k].Midi == n.Midi {
			return noTie
		}
		return unexplained
	}
	k, known := ids[to]
	switch {
	case !known:
		return unexplained
	case s.At(k) != end:
		return overGap
	case s.Notes[k].TiedFrom >= 0 && s.Notes[k].TiedFrom != from:
		return otherTie
	}
	return unexplained
}

// whyOrder says why a score is played in another order.
func whyOrder(s *score.Score, musicxml []byte, there []int) string {
	if slices.Equal(score.OrderOfRepeats(s.Measures, true, 4*len(s.Measures)), there) {
		return lastFrom
	}
	for _, jump := range []string{"<segno", "<coda", " dacapo=", " dalsegno=", " tocoda="} {
		if strings.Contains(string(musicxml), jump) {
			return jumps
		}
	}
	return unexplained
}
