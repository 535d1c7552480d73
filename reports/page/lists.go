package page

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
)

// list is a page across the collection.
type list struct {
	File, Title, Collection, Composer, Publisher, Invented string
	Intro, None                                            string
	Sums                                                   []table // before the pictures
	Tables                                                 []table
	Pictures                                               []sideBySide
	Glyphs                                                 template.HTML
	Notation                                               string
}

type table struct {
	Title  string
	First  string // head of the first column
	Places bool   // rows have a place
	Heads  []string
	Rows   []listRow
	Box    bool // each row has a box to tick
	// ByPiece says that the rows of a piece stand together below its name.
	ByPiece bool
}

type listRow struct {
	Piece, Href, Place string
	Cells              []string
	Head               string // stands above the rows of a piece, where they stand together
}

// byPiece puts the name of a piece, with how many rows it has, above its rows.
func byPiece(t table) table {
	t.ByPiece, t.Rows = true, slices.Clone(t.Rows)
	for k := 0; k < len(t.Rows); {
		n := 1
		for k+n < len(t.Rows) && t.Rows[k+n].Piece == t.Rows[k].Piece {
			n++
		}
		t.Rows[k].Head = fmt.Sprintf("%s: %d", t.Rows[k].Piece, n)
		k += n
	}
	return t
}

// onceAPiece says what the last cells of all rows of a piece have in common beside its name, and there alone.
func onceAPiece(t table) table {
	for k := 0; k < len(t.Rows); {
		n := 1
		for k+n < len(t.Rows) && t.Rows[k+n].Head == "" {
			n++
		}
		of, last := t.Rows[k:k+n], len(t.Heads)-1
		common := of[0].Cells[last]
		if common != "" && !slices.ContainsFunc(of, func(r listRow) bool { return r.Cells[last] != common }) {
			of[0].Head += "; all because of " + common
			for j := range of {
				of[j].Cells = append(slices.Clone(of[j].Cells[:last]), "")
			}
		}
		k += n
	}
	return t
}

// Count is how many rows a list has.
func (l list) Count() int {
	n := 0
	for _, t := range l.Tables {
		n += len(t.Rows)
	}
	return n
}

// list takes what the pages across the collection say of a piece.
func (i *Index) list(m *Material, title string) {
	r := m.Result
	file := FileName(r.Piece)
	i.Handovers = append(i.Handovers, m.redistributions(file, title)...)
	measure := map[int]int{}
	for k := range r.Notes {
		measure[r.Notes[k].N] = r.Notes[k].MeasureIndex
	}
	for _, f := range figures(r) {
		for _, p := range f.Places {
			agree := "all agree"
			if p.Alike < p.Notes {
				agree = fmt.Sprintf("%d of %d alike", p.Alike, p.Notes)
			}
			i.Returns = append(i.Returns, listRow{
				Piece: title, Href: fmt.Sprintf("%s#m%d", file, f.First.MeasureIndex), Place: f.First.String(),
				Cells: []string{p.Later.String(), p.Says, fmt.Sprint(p.Notes), agree},
			})
		}
	}
	names, rows := m.concordance()
	for _, c := range rows {
		if !c.Differs {
			continue
		}
		var parts []string
		for k, d := range c.Digits {
			if d != "" {
				parts = append(parts, names[k]+": "+d)
			}
		}
		i.Concordance = append(i.Concordance, listRow{
			Piece: title, Href: fmt.Sprintf("%s#m%d", file, c.Measure), Place: c.Place,
			Cells: []string{c.Pitch, strings.Join(parts, "; "), c.Here},
		})
	}
	for _, c := range inSums(m.Changes) {
		i.Corrections = append(i.Corrections, listRow{
			Piece: title, Href: fmt.Sprintf("%s#m%d", file, c.Index), Place: cmp.Or(c.Place, "whole piece"),
			Cells: []string{strings.TrimSuffix(c.What, ", printed"), cmp.Or(c.Old, "nothing"), cmp.Or(c.New, "nothing"), c.Cause},
		})
	}
}

// redistributions lists those that are offered and those that were decided, either way, in order of the music.
func (m *Material) redistributions(file, title string) (out []listRow) {
	type placed struct {
		first int
		row   listRow
	}
	var all []placed
	passage := map[int]int{} // by redistribution
	for _, p := range m.Passages {
		if p.Redistribution >= 0 {
			passage[p.Redistribution] = p.Number
		}
	}
	add := func(notes []int, number int, cells ...string) {
		first, last := len(m.Music), 0
		for _, n := range notes {
			if note := m.look().notes.Of(n); note != nil {
				first, last = min(first, note.MeasureIndex), max(last, note.MeasureIndex)
			}
		}
		if first > last {
			return
		}
		href := fmt.Sprintf("%s#m%d", file, first)
		if number > 0 {
			href = fmt.Sprintf("%s#p%d", file, number)
		}
		all = append(all, placed{first, listRow{Piece: title, Href: href, Place: m.measureRange(first, last), Cells: cells}})
	}
	for k := range m.Result.Redistributions {
		d := &m.Result.Redistributions[k]
		state := "suggested"
		if d.Decided {
			state = "taken"
		}
		var notes []int
		for _, n := range d.Notes {
			notes = append(notes, n.N)
		}
		add(notes, passage[k], d.To.Words(), fmt.Sprint(len(d.Notes)), d.Reason, fmt.Sprintf("%.2f", float64(d.Gain)/1000), state)
	}
	for _, notes := range m.Declined {
		if note := m.look().notes.Of(notes[0]); note != nil {
			add(notes, 0, note.Hand.Other().Words(), fmt.Sprint(len(notes)), "", "", "not taken: they stay with their hand")
		}
	}
	slices.SortStableFunc(all, func(a, b placed) int { return cmp.Compare(a.first, b.first) })
	for _, p := range all {
		out = append(out, p.row)
	}
	return out
}

// inSums gives changes with those of responsibility summed up by what they were, are, and come from: a proof reader
// looks for digits one by one, and for whose they are as a whole.
func inSums(changes []Change) []Change {
	type key struct{ old, now, cause string }
	at, count, last := map[key]int{}, map[int]int{}, map[int]string{}
	var out []Change
	for _, c := range changes {
		k := key{c.Old, c.New, c.Cause}
		place, known := at[k]
		if !c.Whose || !known {
			if c.Whose {
				at[k] = len(out)
				count[len(out)], last[len(out)] = 1, c.Measure
			}
			out = append(out, c)
			continue
		}
		count[place]++
		last[place] = c.Measure
	}
	for place, n := range count {
		c := &out[place]
		c.What = "whose the digits of " + wording.Count(n, "note") + " are"
		c.Old, c.New = cmp.Or(c.Old, "open"), cmp.Or(c.New, "open")
		if n > 1 && last[place] != c.Measure {
			c.Place = "mm. " + c.Measure + "–" + last[place]
		}
	}
	return out
}

// noCorrections says why there is nothing to correct.
func (i *Index) noCorrections() string {
	switch {
	case i.Passed+i.PassedEarlier+i.Unlike == 0:
		return "No piece was passed yet, so there is nothing to compare with."
	case i.Passed+i.PassedEarlier == 0:
		return "Nothing could be compared with what was last passed: " + i.PassedWords() + "."
	}
	return "Nothing differs from what was last passed, where that could be compared: " + i.PassedWords() + "."
}

func (i *Index) lists() []list {
	of := func(file, title, intro, none string, tables ...table) list {
		return list{
			File: file, Title: title, Collection: i.Title, Composer: i.Composer, Publisher: i.Publisher,
			Invented: i.Invented, Intro: intro, None: none, Tables: tables,
		}
	}
	return []list{
		of(
			"index.redistributions.html", "Redistributions",
			"Notes that the other hand could take. The text as written keeps its complete fingering beside each.",
			"No redistribution is suggested or decided.",
			byPiece(table{Places: true, Heads: []string{"To the", "Notes", "Reason", "Gain", "State"}, Rows: i.Handovers}),
		),
		of(
			"index.returns.html", "Returns and concordance",
			"Passages that come back, and whether they are fingered alike; then every digit of the composer or a "+
				"witness that differs from what stands here.",
			"No passage returns, and no source differs from what stands here.",
			byPiece(table{
				Title: "Passages that return", Places: true, Heads: []string{"Returns in", "How", "Notes", "Fingers"}, Rows: i.Returns,
			}),
			byPiece(table{
				Title: "Where sources differ", Places: true, Heads: []string{"Note", "Sources", "Here"}, Rows: i.Concordance,
			})),
		of(
			"index.corrections.html", "Correction sheet",
			"What differs from the state last passed for press, piece by piece, to be ticked off in the proof.",
			i.noCorrections(),
			onceAPiece(byPiece(table{
				Places: true, Heads: []string{"What", "Was passed", "Stands now", "Because of"}, Rows: i.Corrections, Box: true,
			})),
		),
	}
}
