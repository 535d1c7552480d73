package musicxml

import (
	"regexp"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// directionItems reads what a direction-type puts on the page. base is an item at the direction's place.
func (p *partReader) directionItems(base score.Item, e *xmltree.Element) {
	first := e.First
	if first == nil {
		return
	}
	number := first.Attribute("number")
	kind := first.Attribute("type")
	i := base
	i.Look = lookOf(first)
	if side := sideOf(first); side != score.PlacementUnset {
		i.Side = side
	}
	switch first.Name {
	case "words", "symbol":
		p.wordsItem(i, e)
	case "dynamics":
		i.Kind = score.ItemDynamics
		for c := first; c != nil; c = c.Next {
			i.Reading += dynamicsWords(c)
		}
		p.add(i)
	case "rehearsal":
		i.Kind = score.ItemRehearsal
		i.Look = "" // a frame is what makes it one
		for c := first; c != nil; c = c.Next {
			i.Reading = strings.TrimSpace(i.Reading + " " + plain(c.Text))
		}
		p.add(i)
	case "segno", "coda":
		i.Kind, i.Reading = score.ItemJump, first.Name+" sign"
		p.add(i)
	case "metronome":
		if hidden(first) { // it says how fast a machine plays
			return
		}
		i.Kind, i.Reading = score.ItemMetronome, metronomeWords(first)
		p.add(i)
	case "wedge":
		i.Kind, i.Reading = score.ItemHairpin, kind
		if first.Attribute("niente") == "yes" {
			i.Reading += ", niente"
		}
		if look := first.Attribute("line-type"); look != "" && look != "solid" {
			i.Reading += ", " + look
		}
		p.line(number, kind, i)
	case "pedal":
		p.pedalItem(number, kind, i, first)
	case "octave-shift":
		i.Kind, i.Reading = score.ItemOctaveLine, octaveWords(kind, atoi(first.Attribute("size")))
		p.line(number, kind, i)
		if kind == "stop" {
			p.lines[len(p.lines)-1].size = atoi(first.Attribute("size"))
		}
	case "dashes", "bracket", "principal-voice":
		i.Kind, i.Reading = score.ItemLine, spaced(first.Name)
		if text := content(first); first.Name == "principal-voice" && text != "" {
			i.Reading += " " + first.Attribute("symbol")
		}
		if look := first.Attribute("line-type"); first.Name == "bracket" && look != "" && look != "solid" {
			i.Reading += ", " + look
		}
		p.line(first.Name+number, kind, i)
	case "other-direction":
		if HandSign(first.Trimmed()) == score.NoHand && !hidden(first) {
			i.Kind, i.Reading = score.ItemDirection, plain(first.Text)
			p.add(i)
		}
	default:
		i.Kind, i.Reading = score.ItemDirection, describe(first)
		p.add(i)
	}
}

// span keeps one end of a line; what only continues it says nothing new.
func (p *partReader) line(number, kind string, i score.Item) {
	switch kind {
	case "stop", "discontinue":
		i.Reading = endOfLine
		p.closeLine(number, i)
	case "continue":
	default:
		p.openLine(number, i)
	}
}

// pedalItem reads one sign of a pedal. What prints neither a sign nor a line is there for playback alone (MusicXML 4.0,
// pedal: "sign" is yes unless there is a line). MEI has pedals besides, which come with @func.
func (p *partReader) pedalItem(number, kind string, i score.Item, e *xmltree.Element) {
	i.Kind, i.Reading = score.ItemPedal, "pedal"
	line, sign, unseen := e.Attribute("line") == "yes", e.Attribute("sign"), ""
	if !line && sign == "no" {
		unseen = notShown
	}
	switch kind {
	case "change":
		i.Reading = "change of pedal" + unseen
		p.add(i)
		return
	case "stop", "discontinue":
		i.Reading = endOfLine + unseen
		p.closeLine(number+e.Attribute("func"), i)
		return
	case "sostenuto":
		i.Reading = "sostenuto pedal"
	}
	if of := e.Attribute("func"); of != "" {
		i.Reading = plain(of) + " pedal"
	}
	switch {
	case line && sign == "yes":
		i.Reading += ", as a line with its sign"
	case line:
		i.Reading += ", as a line"
	}
	if e.Attribute("abbreviated") == "yes" {
		i.Reading += ", its sign abbreviated"
	}
	i.Reading += unseen
	p.line(number+e.Attribute("func"), kind, i)
}

// octaveWords names an octave line: "down" is written an octave below what sounds (MusicXML 4.0, up-down-stop-continue).
func octaveWords(kind string, size int) string {
	above := kind == "down"
	switch {
	case size == 15 && above:
		return "15ma"
	case size == 15:
		return "15mb"
	case size == 22 && above:
		return "22ma"
	case size == 22:
		return "22mb"
	case above:
		return "8va"
	}
	return "8vb"
}

// jumpWords begin the words that send the player elsewhere (common practice).
var jumpWords = regexp.MustCompile(`(?i)^(d\. ?c\b|d\. ?s\b|da capo|dal segno|fine\b|(to|al) coda|coda\b|al segno|segno\b)`)

// tempoWords are the words by which tempos are known in scores in Italian, German, French and English, from memory.
// They only say under which kind a word is listed.
var tempoWords = regexp.MustCompile(`(?i)\b(grave|largo|larghetto|lento|lent|lentement|adagio|adagietto|andante|andantino|` +
	`moderato|modéré|allegretto|allegro|vivace|vivo|vif|vite|presto|prestissimo|tempo|movimento|mouvement|` +
	`rit|riten|ritenuto|rall|rallent|rallentando|ritard|ritardando|accel|accelerando|string|stringendo|allarg|allargando|` +
	`più mosso|piu mosso|meno mosso|mosso|animé|langsam|mäßig|mässig|lebhaft|schnell|rasch|bewegt|` +
	`slow|slowly|fast|quick|lively)\b`)

// wordsItem reads the words of one direction-type as one text: programs cut it where the letters change.
func (p *partReader) wordsItem(i score.Item, e *xmltree.Element) {
	var b strings.Builder
	for c := e.First; c != nil; c = c.Next {
		b.WriteString(c.Text)
	}
	i.Reading = plain(b.String())
	switch {
	case i.Reading == "" || HandSign(i.Reading) != score.NoHand: // hand signs are directions of their own kind
		return
	case jumpWords.MatchString(i.Reading):
		i.Kind = score.ItemJump
	case tempoWords.MatchString(i.Reading):
		i.Kind = score.ItemTempo
	default:
		i.Kind = score.ItemWords
	}
	p.add(i)
}

func dynamicsWords(e *xmltree.Element) string {
	if e.Name != "dynamics" {
		return ""
	}
	out := ""
	for c := e.First; c != nil; c = c.Next {
		if c.Name == "other-dynamics" {
			out += plain(c.Text)
		} else {
			out += c.Name
		}
	}
	return out
}

// metronomeWords writes "dotted quarter = 72", "(half = quarter)".
func metronomeWords(e *xmltree.Element) string {
	out, value, dots := "", "", ""
	flush := func() {
		if value != "" {
			out += dots + value
		}
		value, dots = "", ""
	}
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "beat-unit":
			if value != "" {
				flush()
				out += " = "
			}
			value = c.Trimmed()
		case "beat-unit-dot":
			dots += "dotted "
		case "per-minute":
			flush()
			out += " = " + plain(c.Text)
		default:
			flush()
			out += " " + content(c)
		}
	}
	flush()
	out = strings.TrimSpace(out)
	if e.Attribute("parentheses") == "yes" {
		return "(" + out + ")"
	}
	return out
}
