package decision

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"fingerproof/corpus/score"
	"fingerproof/corpus/strictyaml"

	"gopkg.in/yaml.v3"
)

// Folder is where decisions lie, below the collection's folder.
const Folder = "decisions"

var (
	initialsForm = regexp.MustCompile(`^[\p{L}]{1,5}$`)
	pitchForm    = regexp.MustCompile(`^([A-G])(b{0,3}|#{0,3})(-?\d)$`)
	musicForm    = regexp.MustCompile(`^[0-9a-f]{8}([0-9a-f]{8})?$`)
	fingerForm   = regexp.MustCompile(`^[1-5](-[1-5])*$`)
)

// AreInitials says that a text can stand for an editor: one to five letters.
func AreInitials(s string) bool { return initialsForm.MatchString(s) }

// list lists the folder of decisions; a missing one is empty, and a link to nothing an error.
func list(dir string) ([]os.DirEntry, error) {
	entries, err := os.ReadDir(dir)
	if _, there := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) && there != nil {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading the folder of decisions: %w", err)
	}
	return entries, nil
}

// Names lists the files in a folder of decisions that may speak of a piece:
// PIECE.yaml and PIECE.INITIALS.yaml, sorted. A missing folder has none.
func Names(dir, piece string) ([]string, error) {
	entries, err := list(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries { // sorted by name
		stem, yaml := strings.CutSuffix(e.Name(), ".yaml")
		rest, own := strings.CutPrefix(stem, piece)
		initials, dotted := strings.CutPrefix(rest, ".")
		if yaml && own && !e.IsDir() && (rest == "" || dotted && initialsForm.MatchString(initials)) {
			out = append(out, e.Name())
		}
	}
	return out, nil
}

// Strays lists what lies in dir as decisions do and is read for none of the
// pieces: a piece was renamed, a name misspelled, or it is a folder.
func Strays(dir string, pieces []string) ([]string, error) {
	entries, err := list(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		stem, isYAML := strings.CutSuffix(e.Name(), ".yaml")
		ext := strings.ToLower(filepath.Ext(e.Name()))
		if strings.HasPrefix(e.Name(), ".") || ext != ".yaml" && ext != ".yml" {
			continue
		}
		owned := isYAML && !e.IsDir() && slices.ContainsFunc(pieces, func(p string) bool {
			rest, own := strings.CutPrefix(stem, p)
			return own && (rest == "" || rest[0] == '.' && initialsForm.MatchString(rest[1:]))
		})
		if !owned {
			out = append(out, e.Name())
		}
	}
	return out, nil
}

// Read reads and merges every editor's decisions on a piece from a folder,
// file by file in order of their names. The error names every fault with file
// and line.
func Read(dir, piece string) ([]Decision, error) { return ReadAsOf(dir, piece, nil) }

// ReadAsOf reads as Read does, with other texts in place of some files, by their names: what stood in them once, nil
// where there was no file.
func ReadAsOf(dir, piece string, instead map[string][]byte) ([]Decision, error) {
	names, err := Names(dir, piece)
	if err != nil {
		return nil, err
	}
	var out []Decision
	var faults []error
	for _, name := range names {
		file := filepath.Join(dir, name)
		data, other := instead[name]
		if other && data == nil {
			continue
		}
		if !other {
			data, err = strictyaml.ReadFile(file)
		}
		if err != nil {
			faults = append(faults, fmt.Errorf("reading decisions: %w", err))
			continue
		}
		decisions, whose, err := Parse(file, data)
		switch {
		case err != nil:
			faults = append(faults, err)
		case whose == piece:
			out = append(out, decisions...)
		case whose != "" && name != piece+".yaml" && whose+".yaml" == name: // the piece's own name ends like initials
		default:
			faults = append(faults, fmt.Errorf("%s: the file's name says piece %q, and inside stands %q\n"+
				"hint: rename one of them; nothing of it was applied", file, piece, whose))
		}
	}
	return out, errors.Join(faults...)
}

// reader reads one file.
type reader struct {
	*strictyaml.Reader
	by   string
	head *fileHead
}

// Parse reads the text of one file of decisions, and whose piece it is.
func Parse(file string, data []byte) (out []Decision, piece string, err error) {
	out, piece, _, err = parse(file, data)
	return out, piece, err
}

// parse also gives what the file says of all its decisions.
func parse(file string, data []byte) (out []Decision, piece string, head *fileHead, err error) {
	y, root, err := strictyaml.Parse(file, data)
	if err != nil {
		return nil, "", nil, err
	}
	if root == nil {
		return nil, "", nil, fmt.Errorf(
			"%s: the file is empty\nhint: it begins with `piece: NAME`, then `by: INITIALS`, then `decisions:`", file)
	}
	r := reader{Reader: y, head: &fileHead{}}
	var list *yaml.Node
	r.Mapping(root, "a file of decisions", func(name string, k, v *yaml.Node) {
		switch name {
		case "piece":
			piece, _ = r.Text(v, name)
		case "by":
			if s, ok := r.Text(v, name); ok && !initialsForm.MatchString(s) {
				r.Fault(v, "by cannot be "+strictyaml.Quote(s), "the editor's initials: one to five letters")
			} else {
				r.by = s
			}
		case "when":
			r.head.when = r.day(v, name)
		case "measures":
			r.head.table = r.table(v)
		case "decisions":
			list = v
		default:
			r.Unknown(k, []string{"piece", "by", "when", "measures", "decisions"})
		}
	})
	r.head.text, r.head.check = headLines(string(data), root), headCheck(r.head.when, r.head.table)
	if root.Kind == yaml.MappingNode && piece == "" {
		r.Fault(root, "the file does not say which piece it speaks of", "begin it with `piece: NAME`")
	}
	if root.Kind == yaml.MappingNode && r.by == "" {
		r.Fault(root, "the file does not say whose decisions these are", "add `by: INITIALS`")
	}
	if initials := initialsOf(file, piece); initials != "" && r.by != "" && !strings.EqualFold(initials, r.by) {
		r.Fault(root, fmt.Sprintf("the file's name says %s, and inside stands by: %s", initials, r.by),
			"one file an editor: rename it, or mend `by`")
	}
	if list != nil && !(list.Kind == yaml.ScalarNode && list.Tag == "!!null") {
		r.List(list, "decisions", func(n *yaml.Node) {
			d := r.decision(n)
			d.File, d.Line = file, n.Line
			if r.head.text != "" {
				d.head = r.head
			}
			out = append(out, d)
		})
		r.head.table.learned()
		keepWritten(out, data, list)
	}
	return out, piece, r.head, r.Err()
}

func initialsOf(file, piece string) string {
	stem := strings.TrimSuffix(path.Base(filepath.ToSlash(file)), ".yaml")
	initials, ok := strings.CutPrefix(stem, piece+".")
	if !ok {
		return ""
	}
	return initials
}

var (
	decisionKeys = []string{
		"take", "stet", "amend", "query", "reopen", "when", "until", "why", "returns", "except", "print", "for", "rule", "to", "reason", "direction",
		"landmarks", "notes",
	}
	noteKeys = []string{
		"measure", "onset", "pitch", "finger", "midi", "index", "grace", "ordinal", "staff", "music", "with",
		"before", "after", "landmarks", "stays",
	}
	subjects = []string{string(Notes), string(Redistribution), string(Finding), string(Roll), string(Alternative)}
)

func (r reader) decision(n *yaml.Node) Decision {
	d := Decision{By: r.by}
	named := map[string]*yaml.Node{}
	var lines []musicLine
	var unread bool
	var landmarks *yaml.Node
	r.Mapping(n, "a decision", func(name string, k, v *yaml.Node) {
		named[name] = k
		switch name {
		case "take", "stet", "amend", "query", "reopen":
			if d.Verb != "" {
				r.Fault(k, fmt.Sprintf("a decision cannot both %s and %s", d.Verb, name), "make two entries of it")
				return
			}
			d.Verb = Verb(name)
			s, _ := r.OneOf(v, name, subjects)
			d.On = Subject(s)
		case "when":
			d.When = r.day(v, name)
		case "until":
			d.Until = r.day(v, name)
		case "why":
			d.Why, _ = r.Text(v, name)
			d.Why = strings.Join(strings.Fields(d.Why), " ")
		case "returns":
			d.Returns, _ = r.Bool(v, name)
		case "except":
			r.List(v, name, func(e *yaml.Node) {
				if number, ok := r.Text(e, "a measure's number"); ok {
					d.Except = append(d.Except, number)
				}
			})
		case "print":
			d.Print, _ = r.OneOf(v, name, []string{Always})
		case "for":
			d.For, _ = r.OneOf(v, name, []string{SmallerHands, LargerHands})
		case "rule":
			d.Rule, _ = r.Text(v, name)
		case "direction":
			d.Direction, _ = r.OneOf(v, name, []string{Up, Down})
		case "reason":
			d.Reason, _ = r.Text(v, name)
		case "to":
			if s, ok := r.OneOf(v, name, []string{"R", "L"}); ok {
				_ = d.To.UnmarshalText([]byte(s)) // R or L
			}
		case "notes":
			r.List(v, name, func(e *yaml.Node) {
				key, text, isMusic := isLine(e)
				if !isMusic {
					d.Notes = append(d.Notes, r.note(e))
				} else if l, ok := r.musicLine(key, text); ok {
					lines = append(lines, l)
				} else {
					unread = true
				}
			})
		case "landmarks":
			landmarks = v
		default:
			if !strings.HasPrefix(name, "m. ") && !starForm.MatchString(name) {
				r.Unknown(k, decisionKeys)
			} else if l, ok := r.musicLine(k, v); ok {
				lines = append(lines, l)
			} else {
				unread = true
			}
		}
	})
	if d.When == "" && named["when"] == nil && r.head.when != "" {
		d.When, d.undated = r.head.when, true
	}
	switch {
	case len(lines) > 0:
		d.Notes = append(d.Notes, r.notesOf(&d, lines, landmarks)...)
	case landmarks != nil && !unread:
		r.Fault(named["landmarks"], "landmarks are counted from the first line of music, and there is none", "take the key out")
	}
	if n.Kind == yaml.MappingNode {
		r.complete(n, named, &d, unread)
		if len(lines) > 0 { // in the older form such a decision reads as ever: it is unplaced, and named
			r.once(&d)
		}
	}
	return d
}

// complete notes what a decision lacks, and what does not go with it; unread says that a line of its notes is faulty, and
// noted as such.
func (r reader) complete(n *yaml.Node, named map[string]*yaml.Node, d *Decision, unread bool) {
	lacks := func(what, hint string) { r.Fault(n, "the decision "+what, hint) }
	switch {
	case d.Verb == "":
		lacks("does not say what it does", "begin it with take, stet, amend, query or reopen, as in `- amend: notes`")
		return
	case d.On == "":
		return // noted
	}
	if d.When == "" && named["when"] == nil {
		lacks("has no date", "add `when: 2026-03-01`")
	}
	if len(d.Notes) == 0 && !unread {
		lacks("names no note",
			"add `notes:` with one line a measure, as in `- m. 12: 0 C4=1, 1 D4=2`; a finding goes by its first note")
	}
	if d.Why == "" && (d.Verb == Query || d.Verb == Stet && d.On == Finding) {
		lacks("does not say why", "a query, and a stet on a finding, need `why:`")
	}
	if d.Verb == Reopen && d.On != Notes {
		r.Fault(n, fmt.Sprintf("a %s cannot be reopened", d.On), "take its entry out of the file; reopen speaks of notes")
		return
	}
	if d.On == Finding && d.Verb != Stet && d.Verb != Query {
		r.Fault(n, fmt.Sprintf("a finding cannot be met by %s", d.Verb),
			"stet lets it stand, query asks; to change digits, amend the notes")
	}
	if d.On == Finding && d.Rule == "" {
		lacks("does not say which finding", "add `rule: NAME`, the name in brackets behind the finding")
	}
	if d.On == Redistribution && d.Verb != Query && d.Verb != Stet && d.To == score.NoHand {
		lacks("does not say which hand takes the notes", "add `to: R` or `to: L`")
	}
	for _, only := range []struct {
		key string
		on  bool
	}{
		{"until", d.Verb == Stet && d.On == Finding},
		{"rule", d.On == Finding},
		{"to", d.On == Redistribution},
		{"reason", d.On == Redistribution && d.Verb != Query || d.On == Roll && d.Verb == Take},
		{"direction", d.On == Roll && d.Verb == Take},
		{"for", d.On == Alternative},
		{"returns", d.On == Notes || d.On == Redistribution && d.Verb == Stet}, // declined wherever both hands have the same keys
		{"except", d.On == Notes && d.Returns},
		{"print", d.On == Notes && (d.Verb == Take || d.Verb == Amend)},
	} {
		if k := named[only.key]; k != nil && !only.on {
			r.Fault(k, fmt.Sprintf("%s says nothing in a %s on %s", only.key, d.Verb, d.On), "take it out")
		}
	}
	r.completeStays(n, d)
	r.completeRoll(n, d)
	if d.On == Alternative && d.Verb != Amend {
		r.Fault(n, fmt.Sprintf("an alternative cannot be met by %s", d.Verb), "write `amend: alternative`, with its digits")
	}
	if d.On == Notes || d.On == Alternative {
		for i := range d.Notes {
			wants := d.Verb == Take || d.Verb == Amend
			if has := len(d.Notes[i].Fingers) > 0; wants && !has {
				r.Fault(&yaml.Node{Line: d.Notes[i].Line, Column: 1}, "the note gets no finger",
					"add `finger: 3`, or `5-4` for a change on the held key")
			} else if has && !wants {
				r.Fault(&yaml.Node{Line: d.Notes[i].Line, Column: 1}, fmt.Sprintf("a %s gives no finger", d.Verb),
					"take `finger` out, or amend")
			}
		}
	}
}

// completeStays notes what does not go with notes that stay with their hand.
func (r reader) completeStays(n *yaml.Node, d *Decision) {
	handed := 0
	for i := range d.Notes {
		ref := &d.Notes[i]
		at := &yaml.Node{Line: ref.Line, Column: 1}
		switch {
		case !ref.Stays:
			handed++
		case d.On != Redistribution || d.Verb != Take:
			r.Fault(at, "`stays` belongs to a redistribution that is taken", "take it out")
		case len(ref.Fingers) == 0:
			r.Fault(at, "a note that stays gets no finger", "give it its digit, or take it out")
		}
	}
	if len(d.Notes) > 0 && handed == 0 {
		r.Fault(n, "the redistribution hands over no note", "name one that does not stay")
	}
}

func (r reader) day(n *yaml.Node, what string) string {
	if n.Kind == yaml.ScalarNode {
		if _, err := time.Parse(time.DateOnly, n.Value); err == nil {
			return n.Value
		}
	}
	r.Fault(n, what+" should be a day", "year-month-day, as 2026-03-01")
	return ""
}

func (r reader) note(n *yaml.Node) NoteRef {
	ref := NoteRef{Index: -1, Midi: -1, Line: n.Line}
	placed := false
	r.Mapping(n, "a note", func(name string, k, v *yaml.Node) {
		switch name {
		case "measure":
			ref.Printed, placed = r.Text(v, name)
		case "index":
			ref.Index, _ = r.Int(v, name, 0, 1<<20)
			placed = true
		case "onset":
			if s, ok := r.Text(v, name); ok {
				f, err := score.ParseFraction(s)
				if err != nil {
					r.Fault(v, "onset cannot be "+strictyaml.Quote(s), "quarters from the barline: 0, 1, 3/2")
				}
				ref.Onset = f
			}
		case "pitch":
			if s, ok := r.Text(v, name); ok {
				m := pitchForm.FindStringSubmatch(s)
				if m == nil {
					r.Fault(v, "pitch cannot be "+strictyaml.Quote(s), "a name with its octave: C4, F#5, Bb3")
					break
				}
				ref.Pitch = s
				if ref.Midi < 0 {
					ref.Midi = midiOf(m)
				}
			}
		case "midi":
			ref.Midi, _ = r.Int(v, name, 0, 127)
		case "finger":
			if s, ok := r.Text(v, name); ok {
				if !fingerForm.MatchString(s) {
					r.Fault(v, "finger cannot be "+strictyaml.Quote(s), "1 to 5, or 5-4 for a change on the held key")
					break
				}
				for _, f := range strings.Split(s, "-") {
					ref.Fingers = append(ref.Fingers, int(f[0]-'0'))
				}
			}
		case "grace":
			ref.Grace, _ = r.Int(v, name, 0, 1000)
		case "ordinal":
			ref.Ordinal, _ = r.Int(v, name, 0, 1000)
		case "stays":
			ref.Stays, _ = r.Bool(v, name)
		case "staff":
			ref.Around.Staff, _ = r.Int(v, name, 1, 100)
		case "music":
			if s, ok := r.Text(v, name); ok && !musicForm.MatchString(s) {
				r.Fault(v, "music cannot be "+strictyaml.Quote(s),
					"the fingerprint of the measure, as the program writes it; take the key out if in doubt")
			} else {
				ref.Around.Music = s
			}
		case "with":
			ref.Around.With = r.keys(v, name)
		case "before":
			ref.Around.Before = r.keys(v, name)
		case "after":
			ref.Around.After = r.keys(v, name)
		case "landmarks":
			if s, ok := r.Text(v, name); ok {
				if ref.Landmarks, ok = parseLandmarks(s); !ok {
					r.Fault(v, "landmarks cannot be "+strictyaml.Quote(s),
						"measures from here and their fingerprint, as the program writes them; "+
							"take the key out if in doubt")
				}
			}
		default:
			r.Unknown(k, noteKeys)
		}
	})
	ref.Around.Printed = ref.Printed
	if n.Kind == yaml.MappingNode {
		if !placed {
			r.Fault(n, "the note has no measure", "add `measure: 12`, as printed")
		}
		if ref.Midi < 0 {
			r.Fault(n, "the note has no pitch", "add `pitch: C4`")
		}
	}
	return ref
}

func (r reader) keys(n *yaml.Node, what string) (out []int) {
	r.List(n, what, func(e *yaml.Node) {
		k, _ := r.Int(e, what, 0, 127)
		out = append(out, k)
	})
	return out
}

func midiOf(m []string) int {
	octave, _ := strconv.Atoi(m[3])
	p := score.Pitch{
		Step: m[1][0], Octave: int8(octave), Alter: int8(strings.Count(m[2], "#") - strings.Count(m[2], "b")),
	}
	return p.Midi()
}

// commonMidi is the key of a pitch written as most are, with one accidental at most and an octave of one digit: what
// pitchForm and midiOf make of it.
func commonMidi(pitch string) (midi int, ok bool) {
	alter := int8(0)
	switch {
	case len(pitch) == 3 && pitch[1] == '#':
		alter = 1
	case len(pitch) == 3 && pitch[1] == 'b':
		alter = -1
	case len(pitch) != 2:
		return 0, false
	}
	step, octave := pitch[0], pitch[len(pitch)-1]
	if step < 'A' || step > 'G' || octave < '0' || octave > '9' {
		return 0, false
	}
	return score.Pitch{Step: step, Alter: alter, Octave: int8(octave - '0')}.Midi(), true
}

// SortByDate brings decisions into the order in which they were made; those
// of one day stay as they stand.
func SortByDate(d []Decision) {
	slices.SortStableFunc(d, func(a, b Decision) int { return cmp.Compare(a.When, b.When) })
}
