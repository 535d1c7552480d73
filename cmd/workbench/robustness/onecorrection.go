package robustness

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"slices"
	"strconv"

	"github.com/beevik/etree"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
)

// oneCorrection decides the fingers of whole pieces, makes one correction of each kind as an editor does, and counts what is lost
// of decisions whose own notes are as they were.
type oneCorrection struct {
	sample opendata.Sample
	rounds int
	list   bool

	out    io.Writer
	pieces int
	kinds  []correction
}

// correction is one kind of change, with what came of it.
type correction struct {
	name  string
	apply func(d *alteration.Draft) bool

	made, hit, notes, lost, alike, wrong, changed int
}

func oneCorrectionCommand() *cobra.Command {
	t := &oneCorrection{kinds: corrections()}
	return measurement.Measurement{
		Use:   "one-correction",
		Short: "decide whole pieces and make one correction in the text: how many decisions lose notes that did not change",
		Long: `one-correction takes scores evenly from the fingered and the engraved material, decides a finger for every note
that is struck, in passages of one to four measures a staff, writes the decisions to their file, and reads them
beside the score with one correction: a note's pitch, a measure put in, a repeat written out. Of the notes that
the correction left as they were it counts those that their decisions do not find, and of all those that are
found elsewhere: "alike" are those that stand in another measure whose music is that of their own, note by note, which
nobody can tell from it by the text; "wrong" are all others.`,
		Fails: "a decision landed on a wrong note",
		Flags: func(f *pflag.FlagSet) {
			t.sample.Flags(f, 50)
			f.IntVar(&t.rounds, "rounds", 5, "corrections of each kind in each score")
			f.BoolVar(&t.list, "list", false, "list every note that is lost or wrong")
		},
		Run: func(_ context.Context, out io.Writer, _ []string) error {
			t.out = out
			if err := t.sample.Each(t.piece); err != nil {
				return err
			}
			return t.print()
		},
	}.Command()
}

func (t *oneCorrection) piece(name string, data []byte, rng *rand.Rand) error {
	original, err := alteration.Read(name, data)
	if err != nil {
		return err
	}
	f := decision.NewFinder(original.Score)
	d := decideAll(original, f, rng)
	if _, d.decisions, err = programruns.ThroughTheirFile(f, d.decisions); err != nil {
		return err
	}
	t.pieces++
	for k := range t.kinds {
		for range t.rounds {
			if err := t.version(&t.kinds[k], d, rng, f.Music()); err != nil {
				return err
			}
		}
	}
	return nil
}

// decideAll decides every note that is struck, as on a page: a staff and one to four measures at a time.
func decideAll(o *alteration.Original, f *decision.Finder, rng *rand.Rand) *decided {
	out := &decided{original: o}
	type staff struct{ part, number int }
	rows := map[staff][]int{}
	var order []staff
	draft := o.Draft(rng)
	for _, e := range draft.Notes {
		n := draft.OldN[e]
		note := &o.Score.Notes[n]
		if !note.Struck() {
			continue
		}
		at := staff{note.Part, note.Staff}
		if rows[at] == nil {
			order = append(order, at)
		}
		rows[at] = append(rows[at], n)
	}
	addresses := o.Score.Addresses()
	for _, at := range order {
		row := rows[at]
		slices.SortStableFunc(row, func(a, b int) int { return decision.InTime(addresses[a], addresses[b]) })
		for len(row) > 0 {
			end, k := o.Score.Notes[row[0]].Measure+1+rng.IntN(4), 0
			for k < len(row) && o.Score.Notes[row[k]].Measure < end {
				k++
			}
			out.decisions, out.notes, row = append(out.decisions, decideRun(f, row[:k])), append(out.notes, row[:k]), row[k:]
		}
	}
	return out
}

// version makes a correction and looks where the decisions on the score stand; music is that of its measures.
func (t *oneCorrection) version(c *correction, d *decided, rng *rand.Rand, music []string) error {
	draft := d.original.Draft(rng)
	if !c.apply(draft) {
		return nil
	}
	s, f, landings, err := d.landings(draft)
	if err != nil {
		return err
	}
	o, lost := d.original, c.lost
	for i := range landings {
		l := &landings[i]
		asBefore := l.there && s.Notes[l.truth].Midi == l.ref.Midi && s.Notes[l.truth].Onset == l.ref.Onset && s.Notes[l.truth].Struck()
		if asBefore {
			c.notes++
		} else {
			c.changed++
		}
		if l.found < 0 {
			if asBefore {
				c.lost++
				t.say("%s, %s: %s, %s: lost: %s\n", o.Name, c.name, s.Place(l.truth), l.ref.Pitch, l.why)
			}
			continue
		}
		was, is := &o.Score.Notes[l.old], &s.Notes[l.found]
		switch {
		case l.isRight(s):
		case f.Music()[is.Measure] == music[was.Measure] && is.Onset == l.ref.Onset && is.Midi == l.ref.Midi:
			c.alike++
			t.say("%s, %s: alike: was %s, %s; landed on %s\n", o.Name, c.name, o.Score.Place(l.old), l.ref.Pitch, s.Place(l.found))
		case was.Measure == is.Measure && unison(o.Score, l.old): // which of the two is gone nobody can tell
		default:
			c.wrong++
			t.say("%s, %s: WRONG: was %s, %s; landed on %s\n", o.Name, c.name, o.Score.Place(l.old), l.ref.Pitch, s.Place(l.found))
		}
	}
	c.made++
	if c.lost > lost {
		c.hit++
	}
	return nil
}

// unison says that another note has a note's key at its moment.
func unison(s *score.Score, n int) bool {
	for m := range s.Notes {
		if m != n && s.Notes[m].Measure == s.Notes[n].Measure && s.Notes[m].Onset == s.Notes[n].Onset && sameStroke(s, m, n) {
			return true
		}
	}
	return false
}

func (t *oneCorrection) say(format string, args ...any) {
	if t.list {
		fmt.Fprintf(t.out, format, args...)
	}
}

func (t *oneCorrection) print() error {
	fmt.Fprintf(t.out, "%d pieces\n%-28s %11s %11s %10s %8s %6s %6s %8s\n", t.pieces, "correction", "corrections", "with losses", "notes", "lost", "alike", "wrong", "changed")
	all := correction{name: "all"}
	for i := range t.kinds {
		c := &t.kinds[i]
		c.print(t.out)
		all.made, all.hit, all.notes = all.made+c.made, all.hit+c.hit, all.notes+c.notes
		all.lost, all.alike, all.wrong, all.changed = all.lost+c.lost, all.alike+c.alike, all.wrong+c.wrong, all.changed+c.changed
	}
	all.print(t.out)
	if all.wrong > 0 {
		return measurement.Failed("%d decisions landed on a wrong note", all.wrong)
	}
	return nil
}

func (c *correction) print(out io.Writer) {
	fmt.Fprintf(out, "%-28s %11d %11d %10d %8d %6d %6d %8d\n", c.name, c.made, c.hit, c.notes, c.lost, c.alike, c.wrong, c.changed)
}

// corrections are the kinds of correction, in the order in which they are told.
func corrections() (out []correction) {
	named := func(name string) func(d *alteration.Draft) bool {
		k := slices.IndexFunc(alteration.All, func(a alteration.Alteration) bool { return a.Name == name })
		return alteration.All[k].Apply
	}
	for _, name := range []string{
		"pitch", "octave", "duration", "onset", "tie", "note missing", "note added", "spelling", "voices renumbered", "chord over two voices",
		"one measure an octave off", "measure added", "measure missing",
	} {
		out = append(out, correction{name: name, apply: named(name)})
	}
	then := func(a, b func(d *alteration.Draft) bool) func(d *alteration.Draft) bool {
		return func(d *alteration.Draft) bool { return a(d) && b(d) }
	}
	return append(out,
		correction{name: "accidental", apply: otherAccidental},
		correction{name: "measure added, renumbered", apply: then(named("measure added"), renumberFrom(1))},
		correction{name: "measure missing, renumbered", apply: then(named("measure missing"), renumberFrom(1))},
		correction{name: "measure written twice", apply: copyMeasures(1, 1)},
		correction{name: "repeat written out", apply: copyMeasures(4, 16)},
		correction{name: "repeat written out, renumbered", apply: then(copyMeasures(4, 16), renumberFrom(1))},
		correction{name: "two measures exchanged", apply: exchangeMeasures},
		correction{name: "two numbers exchanged", apply: exchangeNumbers},
		correction{name: "upbeat counted", apply: renumberFrom(1)},
		correction{name: "upbeat not counted", apply: renumberFrom(0)},
		correction{name: "pitch, and upbeat counted", apply: then(named("pitch"), renumberFrom(2))},
	)
}

// otherAccidental raises or lowers a note by a semitone.
func otherAccidental(d *alteration.Draft) bool {
	for range 60 {
		if len(d.Notes) == 0 {
			return false
		}
		e := d.Notes[d.Rng.IntN(len(d.Notes))]
		if e.FindElement("tie") != nil || e.FindElement("pitch") == nil {
			continue
		}
		step, alter, octave := e.FindElement("pitch/step").Text(), e.FindElement("pitch/alter"), e.FindElement("pitch/octave").Text()
		was := 0
		if alter != nil {
			was, _ = strconv.Atoi(alter.Text())
		}
		o, err := strconv.Atoi(octave)
		if err != nil {
			return false
		}
		by := 1
		if was > 0 || was == 0 && d.Rng.IntN(2) == 0 {
			by = -1
		}
		alteration.SetPitch(e, step, was+by, o)
		return true
	}
	return false
}

// inStep gives the measures of each part, nil where the parts do not have as many.
func inStep(d *alteration.Draft) (out [][]*etree.Element) {
	for _, p := range d.Doc.FindElements("//part") {
		m := p.SelectElements("measure")
		if len(out) > 0 && len(m) != len(out[0]) {
			return nil
		}
		out = append(out, m)
	}
	return out
}

// tied says that a tie begins, ends or goes through a measure.
func tied(parts [][]*etree.Element, k int) bool {
	return slices.ContainsFunc(parts, func(p []*etree.Element) bool { return p[k].FindElement(".//tie") != nil })
}

// copyMeasures writes so many measures a second time, behind themselves.
func copyMeasures(least, most int) func(d *alteration.Draft) bool {
	return func(d *alteration.Draft) bool {
		parts := inStep(d)
		if parts == nil {
			return false
		}
		for range 40 {
			k := least + d.Rng.IntN(most-least+1)
			if len(parts[0]) < k+2 {
				continue
			}
			at := d.Rng.IntN(len(parts[0]) - k + 1)
			if tied(parts, at) || tied(parts, at+k-1) {
				continue
			}
			for _, p := range parts {
				last := p[at+k-1]
				for m := at + k - 1; m >= at; m-- {
					c := p[m].Copy()
					for _, tag := range []string{"barline", "print"} {
						for _, e := range c.SelectElements(tag) {
							c.RemoveChild(e)
						}
					}
					for _, e := range c.FindElements(".//note") {
						e.RemoveAttr("id")
					}
					last.Parent().InsertChildAt(last.Index()+1, c)
				}
			}
			return true
		}
		return false
	}
}

// exchangeMeasures lets two neighbours change places; each bears the number of its new place.
func exchangeMeasures(d *alteration.Draft) bool {
	parts := inStep(d)
	for range 40 {
		if parts == nil || len(parts[0]) < 4 {
			return false
		}
		at := 1 + d.Rng.IntN(len(parts[0])-3)
		calm := true
		for _, p := range parts {
			for _, m := range p[at : at+2] {
				calm = calm && m.FindElement("attributes") == nil && m.FindElement("barline") == nil && m.FindElement(".//tie") == nil
			}
		}
		if !calm {
			continue
		}
		for _, p := range parts {
			first, second := p[at], p[at+1]
			a, b := first.SelectAttrValue("number", ""), second.SelectAttrValue("number", "")
			parent := first.Parent()
			parent.RemoveChild(second)
			parent.InsertChildAt(first.Index(), second)
			first.CreateAttr("number", b)
			second.CreateAttr("number", a)
		}
		return true
	}
	return false
}

// exchangeNumbers gives two neighbours each the number of the other.
func exchangeNumbers(d *alteration.Draft) bool {
	parts := inStep(d)
	if parts == nil || len(parts[0]) < 4 {
		return false
	}
	at := 1 + d.Rng.IntN(len(parts[0])-3)
	for _, p := range parts {
		a, b := p[at].SelectAttrValue("number", ""), p[at+1].SelectAttrValue("number", "")
		p[at].CreateAttr("number", b)
		p[at+1].CreateAttr("number", a)
	}
	return true
}

// renumberFrom counts the measures anew from a number on.
func renumberFrom(first int) func(d *alteration.Draft) bool {
	return func(d *alteration.Draft) bool {
		for _, p := range d.Doc.FindElements("//part") {
			for i, m := range p.SelectElements("measure") {
				m.CreateAttr("number", strconv.Itoa(first+i))
			}
		}
		return true
	}
}
