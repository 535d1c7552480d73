package main

import (
	"bufio"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
)

// keyedLine is a line keyed in, with its place among the others.
type keyedLine struct {
	number int
	text   string
}

// sheetLine is how lines name their sheet themselves, before the first of them.
var sheetLine = regexp.MustCompile(`^sheet\s+(\S+)$`)

// numbered is a line that speaks of a passage by its number on a sheet.
var numbered = regexp.MustCompile(`^#\d`)

// readLines reads the lines that are keyed in, and the sheet that they name themselves.
func readLines(name string, input io.Reader) (lines []keyedLine, sheet string, err error) {
	in := bufio.NewScanner(input)
	for n := 1; in.Scan(); n++ {
		text := strings.TrimSpace(strings.TrimPrefix(in.Text(), "\ufeff")) // some editors of text put a mark of order first
		if m := sheetLine.FindStringSubmatch(text); m != nil {
			if sheet != "" && sheet != m[1] {
				return nil, "", fmt.Errorf("%s:%d: the lines name two sheets, %s and %s\nhint: key each in by itself",
					name, n, sheet, m[1])
			}
			sheet = m[1]
		}
		lines = append(lines, keyedLine{n, text})
	}
	if err := in.Err(); err != nil {
		return nil, "", fmt.Errorf("reading %s: %w", name, err)
	}
	return lines, sheet, nil
}

// asOnSheet gives the piece as it stood when a sheet was printed: as it stands now, or as it stood before what was added
// last by enter and take. Numbers are good for the sheet they are printed on, and for no other.
func (p *decidedPiece) asOnSheet(sheet, name string, lines []keyedLine) (*decidedPiece, error) {
	now := sheetName(sheetPassages(p.run))
	if sheet == "" {
		for _, l := range lines {
			if numbered.MatchString(l.text) {
				return nil, fmt.Errorf("%s:%d: %s is a number of a sheet, and no sheet is named: after each entry the passages "+
					"are numbered anew\nhint: --sheet NAME, or a line `sheet NAME` before the others; the name stands at "+
					"the head of the sheet; printed now it would be %s", name, l.number, strings.Fields(l.text)[0], now)
			}
		}
		return p, nil
	}
	if sheet == now {
		return p, nil
	}
	before, err := statesBefore(p.job.Collection, p.run.Piece.ID)
	if err != nil {
		return nil, err
	}
	for _, instead := range before {
		then := *p
		then.job.Decisions = func(piece *corpus.Piece) ([]decision.Decision, error) {
			return readDecisionsAsOf(p.job.Collection, piece.ID, instead)
		}
		if then.run, err = then.job.Work(p.run.Piece); err != nil {
			return nil, err
		}
		if sheetName(sheetPassages(then.run)) == sheet {
			return &then, nil
		}
	}
	return nil, fmt.Errorf("the passages of %s are not numbered as on sheet %s, nor were they before what was added last: "+
		"decisions, text or policy have changed since\n"+
		"hint: name the places, as in: 12 r ok; or print the sheet anew, it is %s now", p.run.Piece.ID, sheet, now)
}

// statesBefore gives what the files of decisions on a piece were before each of the batches that were added to them, the
// last one first, as far back as they are known. A file that was changed by other means ends it.
func statesBefore(c *corpus.Collection, piece string) (out []map[string][]byte, err error) {
	dir := filepath.Join(c.Root, decision.Folder)
	record := filepath.Join(dir, batchName)
	data, err := files.ReadIfThere(record, files.StateLimit)
	if err != nil {
		return nil, fmt.Errorf("reading what was added last: %w", err)
	}
	batches, err := readBatches(record, data)
	if err != nil {
		return nil, err
	}
	names, err := decision.Names(dir, piece)
	if err != nil {
		return nil, err
	}
	at := map[string][]byte{}
	for _, name := range names {
		if at[name], err = files.ReadIfThere(filepath.Join(dir, name), files.StateLimit); err != nil {
			return nil, fmt.Errorf("reading decisions: %w", err)
		}
	}
	for _, b := range slices.Backward(batches) {
		touched := false
		for _, e := range b.Entries {
			text, ours := at[filepath.Base(e.File)]
			switch {
			case !ours, text == nil && e.Before == "", text != nil && source.Sum(text) == e.Before: // or it was not written
				continue
			case text == nil || source.Sum(text) != e.After || e.Was == nil && e.Bytes > len(text):
				return out, nil
			}
			touched, at[filepath.Base(e.File)] = true, e.textBefore(text)
		}
		if touched {
			out = append(out, maps.Clone(at))
		}
	}
	return out, nil
}
