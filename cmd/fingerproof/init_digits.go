package main

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/align"
	"fingerproof/corpus/files"
	"fingerproof/corpus/format"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/edition"
)

// digitsInText is what a score shows of the digits that stand in it, and of who may have put them there.
type digitsInText struct {
	count    int
	work     string   // what the file calls the music, in small letters; "" where it says nothing
	measures int      // as many as its first part has, or all together
	ours     bool     // it is an edition of ours, which says whose its digits are
	named    []string // "editor Somebody", as the file's head names them
	music    align.Music
	fault    error // why the file cannot be read to its end; what was seen before that says nothing of the rest
}

// scoresSeen holds what the scores of a folder show, each read once: init asks for it several times.
type scoresSeen struct {
	dir string
	by  map[string]digitsInText // by score, as the manifest names it
}

func newScoresSeen(dir string) *scoresSeen { return &scoresSeen{dir, map[string]digitsInText{}} }

// of gives what a score shows.
func (s *scoresSeen) of(name string) digitsInText {
	d, seen := s.by[name]
	if !seen {
		d = lookForDigits(filepath.Join(s.dir, filepath.FromSlash(name)))
		s.by[name] = d
	}
	return d
}

// lookForDigits counts the digits in a score's file and reads whom its head names.
func lookForDigits(path string) (out digitsInText) {
	data, err := files.Read(path, files.ScoreLimit)
	if err != nil {
		return digitsInText{fault: err}
	}
	doc, err := source.Open(path, data, source.DefaultLimits())
	if err != nil {
		return digitsInText{fault: err}
	}
	out.ours = edition.Carried(doc.Text)
	d := xml.NewDecoder(strings.NewReader(doc.Text))
	name := func(what string, start *xml.StartElement) {
		var text string
		if d.DecodeElement(&text, start) == nil && strings.TrimSpace(text) != "" {
			out.named = append(out.named, what+" "+strings.Join(strings.Fields(text), " "))
		}
	}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			if _, _, fault := format.Read(doc); fault != nil {
				err = fault // in the words of a run, with line and column
			}
			return digitsInText{fault: err}
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch start.Name.Local {
		case "fingering", "fing": // of MusicXML and of MEI
			out.count++
		case "measure":
			out.measures++
		case "work-title", "movement-title":
			var text string
			if d.DecodeElement(&text, &start) == nil {
				out.work = strings.TrimSpace(out.work + " " + strings.ToLower(strings.Join(strings.Fields(text), " ")))
			}
		case "encoder":
			name(start.Name.Local, &start)
		case "creator":
			kind := ""
			for _, a := range start.Attr {
				if a.Name.Local == "type" {
					kind = a.Value
				}
			}
			if kind == "editor" || kind == "arranger" || kind == "transcriber" {
				name(kind, &start)
			}
		}
	}
	read, _, fault := format.Read(doc)
	if fault != nil { // XML from end to end, and no score that a run can read
		return digitsInText{fault: fault}
	}
	out.music = align.MusicOf(read)
	slices.Sort(out.named)
	out.named = slices.Compact(out.named)
	return out
}

// question asks in the manifest whose the digits of a piece are, "" where none stands in it.
func (d digitsInText) question() string {
	if d.fault != nil {
		return "    # this score cannot be read, so whether digits stand in it is not known\n"
	}
	if d.count == 0 {
		return ""
	}
	names := "the file names no editor"
	if len(d.named) > 0 {
		names = "the file names " + wording.List(d.named)
	}
	stand := "digits stand"
	if d.count == 1 {
		stand = "digit stands"
	}
	return fmt.Sprintf("    # %d %s in it; %s. Whose? composer, earlier or editor:\n    # text_digits: WHOSE\n",
		d.count, stand, names)
}

// digitsIn counts the digits in the scores of a folder, and the pieces that have any; those of drafts are left aside.
func digitsIn(c *corpus.Collection, seen *scoresSeen, drafts map[string]corpus.Draft) (digits, pieces int) {
	for _, p := range c.Pieces {
		if d, ok := drafts[p.Score]; ok && d.Score == "" {
			continue // whose they are is said
		}
		if n := seen.of(p.Score).count; n > 0 {
			digits, pieces = digits+n, pieces+1
		}
	}
	return digits, pieces
}

// sayClashes names the scores that are listed and cannot be run beside another one of their name, and how many these are.
func sayClashes(env *environment, c *corpus.Collection, unnamed []string) (clashes int) {
	for i := range c.Pieces {
		if p := &c.Pieces[i]; p.Fault != nil && !slices.Contains(unnamed, p.Score) {
			env.complain("%v", p.Fault)
			clashes++
		}
	}
	return clashes
}

// alikeWorks names scores of a collection that are most likely sources of one work, or the same once more: many of their measures are
// the same music, transposed or not, or the files call them by the same name and they have as many measures. Each group is in the
// order of the list.
func alikeWorks(c *corpus.Collection, seen *scoresSeen) (out [][]string) {
	group := map[string]int{}
	for i, p := range c.Pieces {
		d := seen.of(p.Score)
		if d.fault != nil {
			continue
		}
		for _, before := range c.Pieces[:i] {
			b := seen.of(before.Score)
			named := d.work != "" && d.work == b.work && d.measures > 0 && d.measures == b.measures
			if b.fault != nil || !named && !align.SameWork(b.music, d.music) {
				continue
			}
			k, met := group[before.Score]
			if !met {
				k = len(out)
				group[before.Score], out = k, append(out, []string{before.Score})
			}
			group[p.Score], out[k] = k, append(out[k], p.Score)
			break
		}
	}
	return out
}

// sourceOf says in the manifest that a score is most likely a source of the work of one before it; "" where it is not.
func sourceOf(groups [][]string, name string) string {
	for _, g := range groups {
		if slices.Contains(g[1:], name) {
			return fmt.Sprintf("    # looks like a source of the same work as %s: if it is, take it out here and name it there under witnesses\n", g[0])
		}
	}
	return ""
}

// sayUnread names the scores that are listed and cannot be read, in the order of the list, and how many these are.
func sayUnread(env *environment, c *corpus.Collection, seen *scoresSeen) (unread int) {
	for _, p := range c.Pieces {
		if fault := seen.of(p.Score).fault; fault != nil {
			env.complain("%v", fault)
			unread++
		}
	}
	return unread
}

// askWhose asks on the terminal whose the digits in the texts are; "" leaves it open, as does any other answer.
func askWhose(env *environment, digits, pieces int) string {
	if digits == 0 {
		return ""
	}
	stand := wording.Count(digits, "digit") + " stand"
	if digits == 1 {
		stand += "s"
	}
	fmt.Fprintf(env.Stdout, "%s in %s. Whose are they: composer, earlier (a pupil, a reviser, an editor of old) or editor?\n"+
		"Enter alone leaves it open; the manifest asks for each piece. ",
		stand, wording.Count(pieces, "score"))
	line, _ := bufio.NewReader(env.Stdin).ReadString('\n')
	answer := strings.ToLower(strings.TrimSpace(line))
	for _, word := range []string{"composer", "earlier", "editor"} {
		if answer == word {
			return word
		}
	}
	if answer != "" {
		fmt.Fprintf(env.Stdout, "%q is none of them; it is left open\n", answer)
	}
	return ""
}

// sayWhose writes an answer above the pieces of a manifest.
func sayWhose(manifest []byte, whose string) []byte {
	if whose == "" {
		return manifest
	}
	return bytes.Replace(manifest, []byte("\npieces:"), []byte("\ntext_digits: "+whose+"\npieces:"), 1)
}
