// Package opendata reads the open data that measurements rest on: the tables of notes and digits of the fingered
// material, and scores of the shared folders.
package opendata

import (
	"bufio"
	"cmp"
	"fmt"
	"hash/crc32"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score/playing"
	"golang.org/x/sync/errgroup"

	"fingerproof/rules/fingering"
)

// Piece is one score of the fingered material, read from its table of notes.
type Piece struct {
	Name, Composer, Licence string
	Fold                    int
	Notes, Fingered, Clean  int
	Hands                   [2][]fingering.Note // without constraints; Note.ID is the row of the table
	Rows                    []Row
	// Lines are the hands as the engine is asked about them: see readLines, and Row for their ids.
	Lines [2][]fingering.Note

	text string // of the score
	row  []int  // note element of the score → row of the table, -1 for a rest
}

// Row is what the tables say of one note beyond its music.
type Row struct {
	Hand    fingering.Hand
	Finger  fingering.Finger // the digit printed, where exactly one is
	Clean   bool             // counts for measuring, as tools/agreement.py defines it
	Hidden  [5]bool          // whether hiding fifth k takes it out
	Given   bool             // carries exactly one digit, clean or not
	Chord   bool             // struck together with others of its hand
	grace   int              // 1… in playing order before the note of that onset, 0 for an ordinary note
	note    string           // its number in the table, and in the score
	Measure string
	Onset   string
	Pitch   string
}

// ReadTable reads a tab-separated table with a header into rows by column name.
func ReadTable(path string) ([]map[string]string, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("reading a table: %w", err)
	}
	defer f.Close()
	var head []string
	var out []map[string]string
	scan := bufio.NewScanner(f)
	scan.Buffer(nil, 1<<20)
	for scan.Scan() {
		cells := strings.Split(scan.Text(), "\t")
		if head == nil {
			head = cells
			continue
		}
		r := make(map[string]string, len(head))
		for i, h := range head {
			if i < len(cells) {
				r[h] = cells[i]
			}
		}
		out = append(out, r)
	}
	if err := scan.Err(); err != nil {
		return nil, fmt.Errorf("reading a table: %s: %w", path, err)
	}
	return out, nil
}

// ReadPieces reads every piece of a folder of fingered scores in the order of its index, with folds as
// tools/agreement.py makes them: whole groups, balanced by clean digits.
func ReadPieces(dir string) ([]*Piece, error) {
	rows, err := ReadTable(filepath.Join(dir, "INDEX.tsv"))
	if err != nil {
		return nil, err
	}
	fold := foldsOf(rows)
	var pieces []*Piece
	for _, r := range rows {
		p := &Piece{Name: r["piece"], Composer: r["composer"], Licence: r["licence"], Fold: fold[r["piece"]]}
		p.Notes, _ = strconv.Atoi(r["notes"])
		p.Fingered, _ = strconv.Atoi(r["fingered"])
		p.Clean, _ = strconv.Atoi(r["clean"])
		if err := p.read(filepath.Join(dir, p.Name+".tsv")); err != nil {
			return nil, err
		}
		pieces = append(pieces, p)
	}
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	for _, p := range pieces {
		work.Go(func() error { return p.readScore(dir) })
	}
	return pieces, work.Wait()
}

// Folds gives the fold of each piece of a folder of fingered scores, by name, as ReadPieces does.
func Folds(dir string) (map[string]int, error) {
	rows, err := ReadTable(filepath.Join(dir, "INDEX.tsv"))
	return foldsOf(rows), err
}

// foldsOf spreads whole groups over five folds, balanced by clean digits.
func foldsOf(index []map[string]string) map[string]int {
	size := map[string]int{}
	for _, r := range index {
		clean, _ := strconv.Atoi(r["clean"])
		size[r["group"]] += clean
	}
	groups := slices.SortedFunc(maps.Keys(size), func(a, b string) int {
		return cmp.Or(size[b]-size[a], strings.Compare(a, b))
	})
	var load [5]int
	fold := map[string]int{}
	for _, g := range groups {
		f := 0
		for i, l := range load {
			if l < load[f] {
				f = i
			}
		}
		load[f] += size[g]
		fold[g] = f
	}
	out := map[string]int{}
	for _, r := range index {
		out[r["piece"]] = fold[r["group"]]
	}
	return out
}

func (p *Piece) read(path string) error {
	rows, err := ReadTable(path)
	if err != nil {
		return err
	}
	type place struct {
		hand, onset, grace string
	}
	struck := map[place]int{}
	for _, r := range rows {
		if r["tie"] != "stop" && r["tie"] != "both" {
			struck[place{r["hand"], r["onset"], r["grace"]}]++
		}
	}
	for i, r := range rows {
		h, err := fingering.ParseHand(r["hand"])
		if err != nil {
			return fmt.Errorf("%s:%d: %w", path, i+2, err)
		}
		onset, err1 := moment(r["onset"])
		dur, err2 := moment(r["dur"])
		key, err3 := strconv.Atoi(r["midi"])
		if err1 != nil || err2 != nil || err3 != nil {
			return fmt.Errorf("%s:%d: onset, dur or midi is no number", path, i+2)
		}
		grace, _ := strconv.Atoi(r["grace"])
		tied := r["tie"] == "stop" || r["tie"] == "both"
		end := fingering.Moment{Num: onset.Num*dur.Den + dur.Num*onset.Den, Den: onset.Den * dur.Den}
		p.Hands[h] = append(p.Hands[h],
			fingering.Note{ID: i, Key: key, Onset: onset, End: end, Rank: playing.GraceNote(grace), Tied: tied})
		n := Row{note: r["note"], Hand: h, grace: grace, Measure: r["measure"], Onset: r["onset"], Pitch: r["pitch"],
			Chord: struck[place{r["hand"], r["onset"], r["grace"]}] > 1}
		if f, err := strconv.Atoi(r["finger"]); err == nil && f >= 1 && f <= 5 && r["finger_all"] == "" {
			n.Finger, n.Given = fingering.Finger(f), true
			n.Clean = grace == 0 && !tied && !strings.ContainsAny(r["flags"], "AXCTMG")
		}
		k := crc32.ChecksumIEEE([]byte(r["piece"]+" "+r["note"])) % 5
		n.Hidden[k] = true
		p.Rows = append(p.Rows, n)
	}
	return nil
}

// moment reads an exact fraction p or p/q.
func moment(s string) (fingering.Moment, error) {
	num, den, ok := strings.Cut(s, "/")
	if !ok {
		den = "1"
	}
	n, err := strconv.ParseInt(num, 10, 64)
	if err != nil {
		return fingering.Moment{}, err
	}
	d, err := strconv.ParseInt(den, 10, 64)
	if err != nil {
		return fingering.Moment{}, err
	}
	return fingering.Moment{Num: n, Den: d}, nil
}
