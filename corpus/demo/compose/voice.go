package main

import (
	"fmt"
	"slices"
	"sort"
	"strings"
)

// voiceReader reads the content of one voice in one measure.
type voiceReader struct {
	voice      *Voice
	key        Key
	line       int
	copied     bool // what follows is a copy: digits, words and dynamics stay behind
	staff      int
	ticks      int // value that holds
	typ        string
	flags      int
	dots       int
	last       *Pitch
	tuplet     *Tuplet
	opening    bool // the next event opens the tuplet
	group      int  // manual beam groups so far
	inGroup    bool
	directions []Direction
}

// copyMark stands in a voice's content where what is copied from another measure begins.
const copyMark = "*"

func readVoice(name string, staff int, key Key, content sourceLine) (*Voice, error) {
	r := &voiceReader{voice: &Voice{Name: name, Staff: staff}, key: key, line: content.line, staff: staff}
	tokens, err := split(content.text)
	if err != nil {
		return nil, err
	}
	for _, token := range tokens {
		if err := r.read(token); err != nil {
			return nil, fmt.Errorf("read %q: %w", token, err)
		}
	}
	if r.tuplet != nil || r.inGroup {
		return nil, fmt.Errorf("a tuplet or a beam is left open")
	}
	r.voice.After = r.directions
	return r.voice, nil
}

// split cuts at blanks, but not within quotes or chords.
func split(text string) (tokens []string, err error) {
	var current strings.Builder
	quoted, inChord := false, false
	for _, char := range text + " " {
		switch {
		case char == '"':
			quoted = !quoted
		case char == '[' && !quoted:
			inChord = true
		case char == ']' && !quoted:
			inChord = false
		}
		if char == ' ' && !quoted && !inChord {
			if current.Len() > 0 {
				tokens = append(tokens, current.String())
				current.Reset()
			}
			continue
		}
		current.WriteRune(char)
	}
	if current.Len() > 0 {
		return nil, fmt.Errorf("a quote or a chord is left open: %q", strings.TrimSpace(current.String()))
	}
	return tokens, nil
}

func (r *voiceReader) read(token string) error {
	switch {
	case token == copyMark:
		r.copied = true
	case token == "@R" || token == "@L":
		r.staff = 1 + strings.Index("RL", token[1:])
	case token == "<":
		r.group++
		r.inGroup = true
	case token == ">":
		r.inGroup = false
	case token == "}":
		if r.tuplet == nil || len(r.voice.Events) == 0 {
			return fmt.Errorf("no tuplet to close")
		}
		r.voice.Events[len(r.voice.Events)-1].TupletEnd = true
		r.tuplet = nil
	case strings.HasSuffix(token, "{"):
		r.tuplet, r.opening = &Tuplet{}, true
		if _, err := fmt.Sscanf(token, "%d:%d{", &r.tuplet.Actual, &r.tuplet.Normal); err != nil {
			return fmt.Errorf("write 3:2{: %w", err)
		}
	case strings.HasPrefix(token, `\`), strings.HasPrefix(token, `^\`),
		strings.HasPrefix(token, `^"`), strings.HasPrefix(token, `_"`):
		return r.direction(token)
	default:
		return r.event(token)
	}
	return nil
}

// dynamics are the letters a dynamic sign may consist of.
var dynamics = []string{"ppp", "pp", "p", "mp", "mf", "f", "ff", "fff", "sf", "sfz", "fp", "fz"}

func (r *voiceReader) direction(token string) error {
	d := Direction{Staff: r.staff}
	token, d.Above = strings.CutPrefix(token, `^\`)
	if d.Above {
		token = `\` + token
	}
	switch name := token[1:]; {
	case name[0] == '"':
		d.Kind, d.Value, d.Above = "words", strings.Trim(name, `"`), token[0] == '^'
	case name == "<":
		d.Kind, d.Value = "wedge", "crescendo"
	case name == ">":
		d.Kind, d.Value = "wedge", "diminuendo"
	case name == "!":
		d.Kind, d.Value = "wedge", "stop"
	case name == "8va":
		d.Kind, d.Value, d.Above = "octave", "down", true
	case name == "8vb":
		d.Kind, d.Value = "octave", "up"
	case name == "loco":
		d.Kind, d.Value, d.Above = "octave", "stop", true
	case name == "clef:bass" || name == "clef:treble":
		d.Kind, d.Value = "clef", strings.TrimPrefix(name, "clef:")
	case slices.Contains(dynamics, name):
		d.Kind, d.Value = "dynamics", name
	default:
		return fmt.Errorf("unknown sign")
	}
	if !r.copied || d.Kind == "clef" || d.Kind == "octave" {
		r.directions = append(r.directions, d)
	}
	return nil
}

var valueNames = map[string]struct {
	name  string
	flags int
}{
	"1": {"whole", 0}, "2": {"half", 0}, "4": {"quarter", 0},
	"8": {"eighth", 1}, "16": {"16th", 2}, "32": {"32nd", 3}, "64": {"64th", 4},
}

func (r *voiceReader) value(text string) error {
	digits := strings.TrimRight(text, ".")
	value, ok := valueNames[digits]
	if !ok {
		return fmt.Errorf("unknown value %q", text)
	}
	var denominator int
	fmt.Sscan(digits, &denominator)
	r.typ, r.flags, r.dots = value.name, value.flags, len(text)-len(digits)
	r.ticks = 4 * quarter / denominator
	for add, i := r.ticks/2, 0; i < r.dots; i, add = i+1, add/2 {
		r.ticks += add
	}
	return nil
}

func (r *voiceReader) event(token string) error {
	e := &Event{line: r.line, Staff: r.staff, Onset: r.voice.Ticks, Before: r.directions}
	body := strings.TrimLeft(token, "&")
	e.Grace = graceKind(len(token) - len(body))
	r.directions = nil
	if e.Grace != noGrace { // a grace note's value is its own
		held := *r
		defer func() { r.ticks, r.typ, r.flags, r.dots = held.ticks, held.typ, held.flags, held.dots }()
		if err := r.value(map[graceKind]string{slashedGrace: "8", plainGrace: "16"}[e.Grace]); err != nil {
			return err
		}
	}
	end := strings.IndexAny(body, "/~()'^!:_-]")
	if body[0] == '[' {
		end = strings.IndexByte(body, ']') + 1
	} else if end < 0 {
		end = len(body)
	}
	tail, err := r.keys(e, body[:end], body[end:])
	if err != nil {
		return err
	}
	if err := r.suffixes(e, tail); err != nil {
		return err
	}
	if e.WholeMeasure {
		r.voice.Events = append(r.voice.Events, e)
		return nil
	}
	if r.ticks == 0 {
		return fmt.Errorf("no value yet; write c5/4")
	}
	e.Type, e.Flags, e.Dots = r.typ, r.flags, r.dots
	if e.Grace == noGrace {
		e.Ticks = r.ticks
		if r.tuplet != nil {
			e.Ticks = r.ticks * r.tuplet.Normal / r.tuplet.Actual
			e.Tuplet, e.TupletStart, r.opening = r.tuplet, r.opening, false
		}
		if r.inGroup {
			e.BeamGroup = r.group
		}
		r.voice.Ticks += e.Ticks
	}
	r.voice.Events = append(r.voice.Events, e)
	return nil
}

// keys reads what an event strikes: a rest, a chord, or a note; the rest of the token comes back.
func (r *voiceReader) keys(e *Event, head, tail string) (string, error) {
	switch {
	case head == "r":
		e.Kind = rest
	case head == "s":
		e.Kind = space
	case head == "R":
		e.Kind, e.WholeMeasure = rest, true
	case head[0] == '[':
		return tail, r.chord(e, head)
	default:
		if strings.HasPrefix(tail, "-") {
			cut := strings.IndexAny(tail, "/~()'^!:_")
			if cut < 0 {
				cut = len(tail)
			}
			head, tail = head+tail[:cut], tail[cut:]
		}
		note, rest, err := r.note(head, false)
		if err != nil {
			return "", err
		}
		if rest != "" {
			return "", fmt.Errorf("what is %q behind a pitch", rest)
		}
		e.Notes = []*Tone{note}
	}
	return tail, nil
}

// chord reads the notes of a chord. What follows it lies nearest to its first note.
func (r *voiceReader) chord(e *Event, text string) error {
	previous := r.last
	for i, one := range strings.Fields(strings.Trim(text, "[]")) {
		note, rest, err := r.note(one, i > 0)
		if err != nil {
			return err
		}
		if rest != "" {
			return fmt.Errorf("what is %q in a chord", rest)
		}
		if i == 0 {
			previous = r.last
		}
		e.Notes = append(e.Notes, note)
	}
	r.last = previous
	return nil
}

// note reads a pitch with its digits and its tie.
func (r *voiceReader) note(text string, above bool) (*Tone, string, error) {
	step := strings.IndexByte(stepLetters, text[0])
	if step < 0 {
		return nil, "", fmt.Errorf("%q is no pitch", text)
	}
	rest := text[1:]
	p := Pitch{Step: step, Alter: r.key.Alter(step)}
	for _, sign := range []struct {
		text  string
		alter int
	}{{"##", 2}, {"bb", -2}, {"#", 1}, {"b", -1}, {"n", 0}} {
		if after, found := strings.CutPrefix(rest, sign.text); found {
			p.Alter, rest = sign.alter, after
			break
		}
	}
	switch {
	case rest != "" && rest[0] >= '0' && rest[0] <= '9':
		p.Octave, rest = int(rest[0]-'0'), rest[1:]
	case r.last == nil:
		return nil, "", fmt.Errorf("the first pitch of a measure needs its octave")
	default:
		p.Octave = r.last.Octave
		distance := p.Diatonic() - r.last.Diatonic()
		switch {
		case above && distance <= 0:
			p.Octave++
		case !above && distance > 3:
			p.Octave--
		case !above && distance < -3:
			p.Octave++
		}
	}
	r.last = &p
	note := &Tone{Pitch: p}
	if digits, found := strings.CutPrefix(rest, "-"); found {
		count := len(digits) - len(strings.TrimLeft(digits, "12345=|,"))
		for i, finger := 0, (Finger{}); i < count; i++ {
			switch digits[i] {
			case '=':
				finger.Substitution = true
			case '|':
				finger.Alternate = true
			case ',':
			default:
				finger.Digit = int(digits[i] - '0')
				if !r.copied {
					note.Fingers = append(note.Fingers, finger)
				}
				finger = Finger{}
			}
		}
		rest = digits[count:]
	}
	if after, found := strings.CutPrefix(rest, "~"); found {
		note.Tie, rest = true, after
	}
	return note, rest, nil
}

var markNames = map[string]bool{
	"trill": true, "trill#": true, "trillb": true, "trilln": true, "turn": true, "mordent": true, "upper": true,
	"fermata": true, "arp": true, "marcato": true, "breath": true, "up": true, "down": true,
}

var shortMarks = map[byte]string{'\'': "staccato", '_': "tenuto", '^': "accent", '!': "staccatissimo"}

// suffixes reads value, tie, slurs and marks of an event.
func (r *voiceReader) suffixes(e *Event, tail string) error {
	for tail != "" {
		switch {
		case tail[0] == '/':
			length := 1 + len(tail[1:]) - len(strings.TrimLeft(tail[1:], "0123456789."))
			if err := r.value(tail[1:length]); err != nil {
				return err
			}
			tail = tail[length:]
		case tail[0] == '~':
			for _, note := range e.Notes {
				note.Tie = true
			}
			tail = tail[1:]
		case strings.HasPrefix(tail, "(("):
			e.SlurStart[2], tail = true, tail[2:]
		case strings.HasPrefix(tail, "))"):
			e.SlurEnd[2], tail = true, tail[2:]
		case tail[0] == '(':
			e.SlurStart[1], tail = true, tail[1:]
		case tail[0] == ')':
			e.SlurEnd[1], tail = true, tail[1:]
		case tail[0] == ':':
			end := strings.IndexAny(tail[1:], "/~()'^!:_")
			if end < 0 {
				end = len(tail) - 1
			}
			name := tail[1 : 1+end]
			if !markNames[name] {
				return fmt.Errorf("unknown mark %q", name)
			}
			e.Marks, tail = append(e.Marks, name), tail[1+end:]
		case shortMarks[tail[0]] != "":
			e.Marks, tail = append(e.Marks, shortMarks[tail[0]]), tail[1:]
		default:
			return fmt.Errorf("what is %q", tail)
		}
	}
	return nil
}

func sortVoices(voices []*Voice) {
	sort.Slice(voices, func(i, j int) bool { return voices[i].Number < voices[j].Number })
}
