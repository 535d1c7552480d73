package main

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// readPiece reads one source. name is only for messages; id becomes the piece's.
func readPiece(name, id, text string) (*Piece, error) {
	p := &Piece{ID: id, Clefs: [2]Clef{treble, bass}}
	inHeader := true
	var measure *Measure
	for i, raw := range strings.Split(text, "\n") {
		number, line := i+1, strings.TrimSpace(raw)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		var err error
		switch word, rest, _ := strings.Cut(line, " "); {
		case inHeader && line == "---":
			inHeader = false
		case inHeader:
			err = p.readHeader(word, strings.TrimSpace(rest))
		case word == "m":
			measure = &Measure{Line: number, lines: map[string]sourceLine{}}
			p.Measures = append(p.Measures, measure)
			err = measure.readOpening(rest)
		case measure == nil:
			err = fmt.Errorf("a voice before the first measure")
		default:
			if _, twice := measure.lines[word]; twice {
				err = fmt.Errorf("voice %s stands twice in measure %d", word, measure.Number)
			}
			measure.lines[word] = sourceLine{number, strings.TrimSpace(rest)}
		}
		if err != nil {
			return nil, fmt.Errorf("read piece %s:%d: %w", name, number, err)
		}
	}
	if p.Title == "" || p.Time.Beats == 0 || len(p.Measures) == 0 {
		return nil, fmt.Errorf("read piece %s: title, time or measures are missing", name)
	}
	return p, nil
}

func (p *Piece) readHeader(word, rest string) (err error) {
	switch word {
	case "title":
		p.Title = rest
	case "work":
		p.Work = rest
	case "number":
		p.Number = rest
	case "key":
		p.Key, err = readKey(rest)
	case "time":
		p.Time, err = readMetre(rest)
	case "tempo":
		p.Tempo, err = readTempo(rest)
	case "clefs":
		upper, lower, _ := strings.Cut(rest, " ")
		p.Clefs = [2]Clef{Clef(upper), Clef(lower)}
	case "witness": // witness E old "copy by …"
		siglum, rest, _ := strings.Cut(rest, " ")
		numbering, description, _ := strings.Cut(rest, " ")
		if numbering != "old" && numbering != "modern" {
			return fmt.Errorf("numbering of witness %s is %q, not old or modern", siglum, numbering)
		}
		p.Witnesses = append(p.Witnesses, Witness{siglum, strings.Trim(description, `"`), numbering == "old"})
	default:
		return fmt.Errorf("unknown header line %q", word)
	}
	return err
}

func readMetre(text string) (Metre, error) {
	var m Metre
	if _, err := fmt.Sscanf(text, "%d/%d", &m.Beats, &m.Unit); err != nil || m.Beats < 1 || 4*quarter%m.Unit != 0 {
		return m, fmt.Errorf("read time signature %q: write 3/4", text)
	}
	return m, nil
}

var (
	tempoForm = regexp.MustCompile(`^(?:"([^"]*)")?\s*(?:([hqe])(\.?)=(\d+))?$`)
	beatName  = map[string]string{"h": "half", "q": "quarter", "e": "eighth"}
)

func readTempo(text string) (Tempo, error) {
	found := tempoForm.FindStringSubmatch(strings.TrimSpace(text))
	if found == nil {
		return Tempo{}, fmt.Errorf("read tempo %q: write \"Andante\" q=72", text)
	}
	perMinute, _ := strconv.Atoi(found[4])
	return Tempo{Words: found[1], Beat: beatName[found[2]], Dotted: found[3] != "", PerMinute: perMinute}, nil
}

var openingWord = regexp.MustCompile(`"[^"]*"|\S+`)

// readOpening reads what stands behind the "m".
func (m *Measure) readOpening(text string) (err error) {
	words := openingWord.FindAllString(text, -1)
	next := func() string {
		if len(words) == 0 {
			return ""
		}
		word := words[0]
		words = words[1:]
		return word
	}
	if m.Number, err = strconv.Atoi(next()); err != nil {
		return fmt.Errorf("read measure number: %w", err)
	}
	for len(words) > 0 {
		switch word := next(); word {
		case "pickup":
			m.Pickup = true
		case "short":
			m.Short = true
		case "repeat":
			m.RepeatStart = true
		case "again":
			m.RepeatEnd = true
		case "volta":
			m.Volta = next()
		case "endvolta":
			m.VoltaEnd = true
		case "double":
			m.Double = true
		case "final":
			m.Final = true
		case "key":
			var key Key
			key, err = readKey(next() + " " + next())
			m.NewKey = &key
		case "time":
			var metre Metre
			metre, err = readMetre(next())
			m.NewTime = &metre
		case "tempo":
			var tempo Tempo
			mark := next()
			if len(words) > 0 && tempoForm.MatchString(mark+" "+words[0]) {
				mark += " " + next()
			}
			tempo, err = readTempo(mark)
			m.NewTempo = &tempo
		default:
			return fmt.Errorf("unknown word %q at the opening of measure %d", word, m.Number)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// voiceNames lists the voice names in MusicXML order with their voice numbers and staves.
var voiceNames = []struct {
	name          string
	number, staff int
}{{"R", 1, 1}, {"R2", 2, 1}, {"R3", 3, 1}, {"L", 5, 2}, {"L2", 6, 2}, {"L3", 7, 2}}

// resolve reads every voice as the witness has it (the text itself for an empty siglum), and lays the measures out.
func (p *Piece) resolve(siglum string) error {
	metre, key := p.Time, p.Key
	byNumber := map[int]*Measure{}
	expected := -1
	for _, m := range p.Measures {
		byNumber[m.Number] = m
		if m.NewTime != nil {
			metre = *m.NewTime
		}
		if m.NewKey != nil {
			key = *m.NewKey
		}
		m.Metre, m.Key, m.Voices, m.Ticks = metre, key, nil, metre.Ticks()
		if expected >= 0 && m.Number != expected {
			return fmt.Errorf("line %d: measure %d where %d was due", m.Line, m.Number, expected)
		}
		expected = m.Number + 1
		known := map[string]bool{"P": true}
		for _, v := range voiceNames {
			known[v.name] = true
			content, err := m.content(v.name, siglum, byNumber)
			if err != nil {
				return err
			}
			if content.text == "" {
				continue
			}
			voice, err := readVoice(v.name, v.staff, key, content)
			if err != nil {
				return fmt.Errorf("%s, voice %s: %w", m.place(content.line), v.name, err)
			}
			voice.Number = v.number
			m.Voices = append(m.Voices, voice)
		}
		for name, line := range m.lines {
			if base, _, _ := strings.Cut(name, "@"); !known[base] {
				return fmt.Errorf("%s: unknown voice %q", m.place(line.line), name)
			}
		}
		if err := m.fill(); err != nil {
			return err
		}
		if err := m.readPedal(); err != nil {
			return err
		}
	}
	return p.layOut()
}

var copyForm = regexp.MustCompile(`(^|\s)\*(\d+)$`)

// content finds the line of a voice, following "*5" to measure 5.
func (m *Measure) content(name, siglum string, byNumber map[int]*Measure) (sourceLine, error) {
	line, ok := m.lines[name+"@"+siglum]
	if !ok {
		line = m.lines[name]
	}
	found := copyForm.FindStringSubmatchIndex(line.text)
	if found == nil || name == "P" {
		return line, nil
	}
	n, err := strconv.Atoi(line.text[found[4]:found[5]])
	if err != nil || byNumber[n] == nil || byNumber[n] == m {
		return line, fmt.Errorf("%s: nothing to copy at %q", m.place(line.line), line.text)
	}
	original, err := byNumber[n].content(name, "", byNumber)
	return sourceLine{line.line, line.text[:found[0]] + " " + copyMark + " " + original.text}, err
}

// fill checks that every voice fills the measure, and gives a silent hand its rest.
func (m *Measure) fill() error {
	if m.Pickup || m.Short {
		m.Ticks = 0
		for _, v := range m.Voices {
			m.Ticks = max(m.Ticks, v.Ticks)
		}
	}
	for staff := 1; staff <= 2; staff++ {
		if !m.usesStaff(staff) {
			number := 4*staff - 3
			whole := &Event{Kind: rest, WholeMeasure: true, Ticks: m.Ticks, Staff: staff}
			m.Voices = append(m.Voices, &Voice{
				Name: "RL"[staff-1 : staff], Number: number, Staff: staff, Events: []*Event{whole}, Ticks: m.Ticks,
			})
		}
	}
	sortVoices(m.Voices)
	for _, v := range m.Voices {
		for _, e := range v.Events {
			if e.WholeMeasure {
				e.Ticks, v.Ticks = m.Ticks, m.Ticks
			}
		}
		if v.Ticks != m.Ticks {
			return fmt.Errorf("%s: voice %s holds %d/%d quarters, the measure %d/%d",
				m.place(m.Line), v.Name, v.Ticks, quarter, m.Ticks, quarter)
		}
	}
	return nil
}

func (m *Measure) usesStaff(staff int) bool {
	for _, v := range m.Voices {
		if v.Staff == staff {
			return true
		}
	}
	return false
}

// readPedal reads the line of pedal signs.
func (m *Measure) readPedal() error {
	m.Pedal = nil
	for _, word := range strings.Fields(m.lines["P"].text) {
		number, lift := strings.CutPrefix(word, "*")
		at, err := strconv.ParseFloat(number, 64)
		if err != nil || at < 0 || int(at*quarter) > m.Ticks {
			return fmt.Errorf("%s: no pedal can stand at %q", m.place(m.lines["P"].line), word)
		}
		sign := PedalSign{At: int(at * quarter), Kind: "start"}
		if lift {
			sign.Kind = "stop"
		}
		m.Pedal = append(m.Pedal, sign)
	}
	return nil
}
