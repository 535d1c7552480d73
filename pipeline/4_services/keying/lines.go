// Package keying reads the short lines in which pencilled words are keyed in.
package keying

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// SheetPassage is a stretch of notes with its number on a sheet.
type SheetPassage struct {
	Number int
	Notes  []int // in the order of playing
	Offer  Offer
	// Taken are those of Notes whose finger is taken with it; nil: all, and none where the list is empty.
	Taken []int
	// ForReturns says that what is decided holds for its returns; Returns are the numbers of those that are passages.
	ForReturns bool
	Returns    []int
	Goes       [][2]int // each a note of it that is decided with it, and the one elsewhere that the decision goes to
	Findings   []Found  // that speak of it
	IfTaken    []Found  // that would speak of it, were it taken
	// WantsReason says that to take it makes an error, so that it is taken only with a reason.
	WantsReason bool
	Rolls       []Roll // chords of it that may be rolled
}

// Offer is what a passage on the sheet may be that offers notes to the other hand.
type Offer struct {
	To      score.Hand // NoHand where it offers nothing
	Fingers []int      // parallel to Passage.Notes
	Reason  string     // why they are offered, as the policy names it
	// Staying are notes that keep their hand and are decided with it, each with its finger then.
	Staying []state.RedistributedNote
	// Like are the numbers of those that give away the same keys elsewhere: the answer holds for them, too.
	Like []int
}

// Keying is what short lines are read against.
type Keying struct {
	Score    *score.Score
	Playing  *playing.Playing
	Fingers  [][]int        // by note: with what it is fingered as it stands now
	Passages []SheetPassage // as numbered on the sheet
	Found    []Found        // every finding of the piece
	// Own says of notes that the editor who keys in decided their digits before, so that they can be reopened.
	Own map[int]bool
	// Carried says of notes whose digit came with another, since the music stands again there, where it came from.
	Carried  map[int]*CarriedFrom
	By, When string
	// Spoken are the numbers of passages of which some line speaks: what holds for like places leaves them alone.
	Spoken map[int]bool
}

// CarriedFrom is the measure, as it is printed, from which a digit came.
type CarriedFrom struct{ Measure string }

// LinesHelp explains the short form in which pencilled words are keyed in.
const LinesHelp = `  12 r 3 5-4        m. 12, right hand, beat 3: 5, changing to 4 on the held key
  12 l 1 5 3 1+2    from beat 1 on, stroke by stroke; a chord from its lowest key: 1+2
  12 r 3 5 4 | 1 2  | where the digits go on over a barline
  12 r 3.2/8 .  4   beat 3, its second eighth; 3.2:3 the second of three; . leaves a stroke as it is,
                    and within a chord a key: 5+3+1+. speaks of the lower three
  12-14 r ok        what is suggested there is taken, and holds for the returns that the sheet names;
                    "ok!" for all; a return keyed in by itself has its own
  12 r 3 4-5-4-3    at a trill, turn or mordent: a finger for each key of the sign, as the sheet spells it
  12 r 3 4 print    the digits of the line are printed however few are; after ok too
  #7 ok not 26      the answer does not go to m. 26, though the music comes again there: it is asked by itself;
                    not 26,31 for both, after digits too
  #7 ok             the same for passage 7 of the sheet; #7-12 ok for passages 7 to 12,
                    #7-12 stet: REASON lets stand what is found in all of them
  #7 stet           let the text's digits stand
  #7 remove         an entry of decisions that holds for nothing any more is taken out of the file
  #7 stet: rolled   let what is found there stand, with the reason
  #7 ok: rolled     take the digits, and let what is found there stand
  12 l 3 roll       the chord on beat 3 of the left hand is rolled; roll down: from its highest key;
                    roll no: it is struck at once as written; 12 b 3 roll: through both hands
  #7 roll           the chords of passage 7 that may be rolled are, or those found beyond the hand;
                    roll down, roll no; #7 ok roll takes its digits too
  #9 ok, #9 stet    a redistribution of the sheet is taken, or the notes stay with their hand; a reason may
                    follow: #9 stet: the tune stays above. It holds for the like places that the sheet names,
                    but for those with a line of their own; #9 ok not 23 leaves one out, #9 ok here all
  12 l 3 2 1 other hand     these notes are for the other hand, with these fingers: a redistribution of your own;
                    12 r 1 5+3+1+. other hand: the lower three keys of the chord
  12 r 3 open       what you decided there is taken back: the digit is asked again; 12-14 r open
  12 r 3 ? why 4    a query to the volume editor; #7 ? why, of passage 7; 12 ? why, without a hand, of what is
                    found of the text there
  #7 stet decision-query: yes              a query is answered, in words; any other line on its notes does, too
  12 r 3 stet span-beyond-hand: rolled     a finding let stand, with the reason; without the beat,
                    those of the rule in the measure for that hand, or in the measure as a whole;
                    12 stet RULE: REASON, without a hand, what is found of the text there; of what
                    stands already, the reason from now on
  # a line that begins with # and a space is a remark`

// orWords are what editors write between two fingers of which both are good.
var orWords = []string{"or", "ou", "oder", "o", "ossia", "oppure"}

// queryWords begin a question to the volume editor.
var queryWords = [...]string{"?", "?:", "query"}

func isQuery(word string) bool { return slices.Contains(queryWords[:], word) }

var (
	placeForm  = regexp.MustCompile(`^(\S+?)(?:-(\S+))?$`)
	halfBeat   = regexp.MustCompile(`^\d+\.\d+$`) // a part of a beat without its value
	strokeForm = regexp.MustCompile(`^(?:\.|[1-5](?:-[1-5])*)(?:\+(?:\.|[1-5](?:-[1-5])*))*$`)
)

// numbers names the numbers on the sheet: what is judged with an earlier passage leaves gaps.
func (k *Keying) numbers() string {
	var runs [][2]int
	for i := range k.Passages {
		n := k.Passages[i].Number
		if last := len(runs) - 1; last >= 0 && runs[last][1] == n-1 {
			runs[last][1] = n
			continue
		}
		runs = append(runs, [2]int{n, n})
	}
	var parts []string
	for _, r := range runs {
		if r[0] == r[1] {
			parts = append(parts, fmt.Sprintf("#%d", r[0]))
		} else {
			parts = append(parts, fmt.Sprintf("#%d to #%d", r[0], r[1]))
		}
	}
	if len(parts) == 0 {
		return "it has no passage"
	}
	return "it has " + wording.List(parts)
}

// Key reads one short line. An empty line or a remark gives nil.
func Key(k *Keying, f *decision.Finder, line string) (*decision.Decision, error) {
	words := strings.Fields(line)
	if len(words) == 0 || words[0] == "#" {
		return nil, nil
	}
	if strings.HasPrefix(words[0], "#") {
		p, err := k.passage(words[0])
		if err != nil {
			return nil, err
		}
		if p.Offer.To != score.NoHand {
			return k.offered(f, p, words[1:])
		}
		notes := p.Notes
		if len(notes) == 0 && len(words) > 1 && isQuery(words[1]) { // what is asked of the text names the notes by which it is told
			for _, one := range p.Findings {
				for _, n := range one.Notes {
					if !slices.Contains(notes, n) {
						notes = append(notes, n)
					}
				}
			}
		}
		if p.Taken != nil && len(words) > 1 && (words[1] == "ok" || words[1] == "ok!") {
			if notes = p.Taken; len(notes) == 0 {
				return nil, fmt.Errorf("%s asks for no digit\nhint: %s stet: REASON lets what is found there stand; its digits are asked in other passages", words[0], words[0])
			}
		}
		d, err := k.word(f, notes, words[1:], false)
		if d != nil && len(d.Notes) == 0 {
			return nil, fmt.Errorf("%s names no note that %s could be about\nhint: name the place, as in: 12 r 3 ? why 4", words[0], words[1])
		}
		if d != nil && d.On == decision.Notes && (d.Verb == decision.Take || d.Verb == decision.Amend) {
			d.Returns = d.Returns || p.ForReturns // the sheet says where they go
		}
		return d, err
	}
	if len(words) < 3 {
		return nil, fmt.Errorf("%q is too short\nhint: measure, hand, beat, digits, as in: 12 r 3 5-4", line)
	}
	hand, err := handOf(words[1])
	if err != nil {
		return nil, err
	}
	from, to, err := k.measures(words[0])
	if err != nil {
		return nil, err
	}
	if onsets, ok := k.Score.Keyed(from, words[2]); ok && from == to && len(words) > 3 {
		strokes, err := k.from(from, hand, words[2], onsets)
		if err != nil {
			return nil, err
		}
		said, handed := words[3:], false
		if n := len(said) - 2; n > 0 && said[n] == "other" && said[n+1] == "hand" {
			said, handed = said[:n], true
		}
		d, err := k.word(f, strokes, said, true)
		if err == nil && handed {
			return forOther(d, hand)
		}
		return d, err
	}
	if from == to && len(words) > 3 && halfBeat.MatchString(words[2]) {
		hint := "beat 3, its second eighth, is 3.2/8; the second of three in it 3.2:3"
		if struck := k.struckIn(hand, from); struck != "" {
			hint += "; " + struck
		}
		return nil, fmt.Errorf("%q is no beat\nhint: %s", words[2], hint)
	}
	notes := k.line(hand, func(n *score.Note) bool { return n.Measure >= from && n.Measure <= to })
	if len(notes) == 0 {
		return nil, fmt.Errorf("there is no note of that hand in m. %s", words[0])
	}
	return k.word(f, notes, words[2:], false)
}

// forOther makes of digits that are keyed for a hand a redistribution: the other hand takes their notes with them.
func forOther(d *decision.Decision, hand score.Hand) (*decision.Decision, error) {
	if d.Verb != decision.Amend || d.On != decision.Notes || d.Print != "" || len(d.Except) > 0 {
		return nil, fmt.Errorf("notes go to the other hand with their digits there\nhint: 12 l 3 2 1 other hand")
	}
	d.Verb, d.On, d.To = decision.Take, decision.Redistribution, score.Right
	if hand == score.Right {
		d.To = score.Left
	}
	return d, nil
}

// passage finds a passage of the sheet by its number, as in #7.
func (k *Keying) passage(word string) (*SheetPassage, error) {
	n, err := strconv.Atoi(strings.TrimPrefix(word, "#"))
	i := slices.IndexFunc(k.Passages, func(p SheetPassage) bool { return p.Number == n })
	if err == nil && i >= 0 {
		return &k.Passages[i], nil
	}
	for j := range k.Passages {
		if slices.Contains(k.Passages[j].Returns, n) {
			return nil, fmt.Errorf("passage %s brings back passage #%d and is judged with it\nhint: #%d ok", word,
				k.Passages[j].Number, k.Passages[j].Number)
		}
	}
	return nil, fmt.Errorf("there is no passage %s on the sheet\nhint: %s", word, k.numbers())
}

func handOf(word string) (score.Hand, error) {
	hand, ok := map[string]score.Hand{"r": score.Right, "R": score.Right, "l": score.Left, "L": score.Left}[word]
	if !ok {
		return score.NoHand, fmt.Errorf("%q is no hand\nhint: r or l", word)
	}
	return hand, nil
}

// measures finds printed numbers, one or a range.
func (k *Keying) measures(word string) (from, to int, err error) {
	find := func(number string) (int, error) {
		at := -1
		for i := range k.Score.Measures {
			if k.Score.Measures[i].Number != number {
				continue
			}
			if at >= 0 {
				return 0, fmt.Errorf("several measures bear the number %s\n"+
					"hint: use the sheet's number, as in: #7 ok", number)
			}
			at = i
		}
		if at < 0 {
			return 0, fmt.Errorf("there is no measure %s", number)
		}
		return at, nil
	}
	if at, err := find(word); err == nil {
		return at, at, nil
	}
	m := placeForm.FindStringSubmatch(word)
	if m == nil || m[2] == "" {
		_, err := find(word)
		return 0, 0, err
	}
	if from, err = find(m[1]); err != nil {
		return 0, 0, err
	}
	if to, err = find(m[2]); err != nil {
		return 0, 0, err
	}
	if to < from {
		return 0, 0, fmt.Errorf("the measures %s run backwards", word)
	}
	return from, to, nil
}

// line lists struck notes of a hand in the order of playing; of several players each strikes for himself.
func (k *Keying) line(hand score.Hand, in func(*score.Note) bool) []int {
	return slices.DeleteFunc(slices.Concat(Strokes(k.Playing, hand)...), func(n int) bool { return !in(&k.Score.Notes[n]) })
}

// Strokes lists the strokes of a hand in the order in which a line speaks of them, each with its notes from the lowest key. A
// sheet prints them so, that what it prints can be keyed in.
func Strokes(p *playing.Playing, hand score.Hand) (out [][]int) {
	for i := range p.Instants {
		for _, st := range p.Instants[i].Strokes {
			if p.Lines[st.Line].Hand == hand {
				out = append(out, st.Notes)
			}
		}
	}
	return out
}

// from lists the struck notes of a hand from a beat to the end of the piece;
// one must stand on the beat.
func (k *Keying) from(measure int, hand score.Hand, word string, onsets []score.Fraction) ([]int, error) {
	notes := k.line(hand, func(n *score.Note) bool { return n.Measure >= measure })
	at := -1
	for _, onset := range onsets {
		if at < 0 {
			at = slices.IndexFunc(notes, func(n int) bool {
				note := &k.Score.Notes[n]
				return note.Measure == measure && note.Onset == onset
			})
		}
	}
	if at < 0 {
		struck := k.struckIn(hand, measure)
		if struck == "" {
			return nil, fmt.Errorf("that hand strikes no note in m. %s", k.Score.Measures[measure].Number)
		}
		return nil, fmt.Errorf("no note of that hand is struck on beat %s of m. %s\nhint: %s", word, k.Score.Measures[measure].Number, struck)
	}
	return notes[at:], nil
}

// struckIn names the beats of a measure on which a hand strikes notes; "" where it strikes none.
func (k *Keying) struckIn(hand score.Hand, measure int) string {
	var beats []string
	for _, n := range k.line(hand, func(n *score.Note) bool { return n.Measure == measure }) {
		if b := k.Score.BeatAt(measure, k.Score.Notes[n].Onset).Key(); !slices.Contains(beats, b) {
			beats = append(beats, b)
		}
	}
	if len(beats) == 0 {
		return ""
	}
	return "notes are struck on beats " + strings.Join(beats, ", ")
}

// word reads what is said of notes. Where onwards is set they run to the end
// of the piece, and as many count as are spoken of.
func (k *Keying) word(f *decision.Finder, notes []int, words []string, onwards bool) (*decision.Decision, error) {
	if len(words) == 0 {
		return nil, fmt.Errorf("nothing is said of it\nhint: digits, ok, stet, open, or ? with a question")
	}
	d := &decision.Decision{On: decision.Notes, By: k.By, When: k.When}
	if words[0] == "ok" || words[0] == "ok!" || strokeForm.MatchString(words[0]) {
		words = behindDigits(d, words)
	}
	rest := strings.Join(words[1:], " ")
	first := notes
	if onwards {
		first = k.stroke(notes, 0)
	}
	switch words[0] {
	case "ok", "ok!":
		d.Verb, d.Returns = decision.Take, words[0] == "ok!"
		d.Why = rest
		for _, n := range first {
			if len(k.Fingers[n]) > 0 {
				d.Notes = append(d.Notes, f.Ref(n, k.Fingers[n]))
			}
		}
		if len(d.Notes) == 0 {
			return nil, fmt.Errorf("nothing is suggested there that could be taken")
		}
		return d, nil
	case queryWords[0], queryWords[1], queryWords[2]:
		if rest == "" {
			return nil, fmt.Errorf("a query asks something\nhint: 12 r 3 ? is the 5 a misprint")
		}
		d.Verb, d.Why = decision.Query, rest
	case "open":
		if rest != "" {
			return nil, fmt.Errorf("after open stands nothing")
		}
		d.Verb = decision.Reopen
		all := first
		first = slices.DeleteFunc(slices.Clone(first), func(n int) bool { return !k.Own[n] })
		if len(first) == 0 {
			if came := slices.IndexFunc(all, func(n int) bool { return k.Carried[n] != nil }); came >= 0 {
				at := k.Carried[all[came]]
				return nil, fmt.Errorf("the digit there came with m. %s, which stands again here\n"+
					"hint: open it there, or key in here the digits that it should have of its own", at.Measure)
			}
			return nil, fmt.Errorf("%s decided no digit there\n"+
				"hint: fingerproof decisions show lists what is decided, by whom, and where it stands", k.By)
		}
	case "stet":
		d.Verb = decision.Stet
		if rule, why, ok := strings.Cut(rest, ":"); ok {
			d.On, d.Rule, d.Why = decision.Finding, strings.TrimSpace(rule), strings.TrimSpace(why)
			if d.Why == "" {
				return nil, fmt.Errorf("a stet on a finding needs its reason\n" +
					"hint: 12 r 3 stet span-beyond-hand: meant as a roll")
			}
			first = first[:1]
		} else if rest != "" {
			return nil, fmt.Errorf("after stet stands nothing, RULE: REASON, or stet: REASON for all that is found there")
		}
		if d.On == decision.Notes {
			first = slices.DeleteFunc(slices.Clone(first),
				func(n int) bool { return len(k.Score.Notes[n].Indications) == 0 })
			if len(first) == 0 {
				return nil, fmt.Errorf("no digit stands there that could be let stand")
			}
		}
	default:
		return k.digits(f, d, notes, words, onwards)
	}
	for _, n := range first {
		d.Notes = append(d.Notes, f.Ref(n, nil))
	}
	return d, nil
}

// stroke gives the notes that one hand strikes together with the note at a place in the line.
func (k *Keying) stroke(line []int, at int) []int {
	to := at + 1
	for to < len(line) && k.Playing.Stroke(line[to]) == k.Playing.Stroke(line[at]) {
		to++
	}
	return line[at:to]
}

// digits reads digits stroke by stroke. Where onwards is set the line has named one measure: its digits go on over a
// barline only where it says so, by |, since a digit too many would go unseen to the next measure.
func (k *Keying) digits(
	f *decision.Finder, d *decision.Decision, line []int, words []string, onwards bool,
) (*decision.Decision, error) {
	d.Verb = decision.Amend
	at, begins, bar := 0, 0, false // begins: the first word of this measure
	for i, w := range words {
		if w == "!" && i == len(words)-1 {
			d.Returns = true
			break
		}
		newMeasure := at == len(line) || at > 0 && k.measureOf(line[at]) != k.measureOf(line[at-1])
		if w == barline {
			if at == 0 || !newMeasure {
				return nil, fmt.Errorf("a barline stands after %s; %s", digitsIn(words[begins:i]), k.strokesAt(line, at))
			}
			bar, begins = true, i+1
			continue
		}
		if slices.Contains(orWords, strings.ToLower(w)) {
			return nil, fmt.Errorf("%q between digits: a line gives each key one finger\n"+
				"hint: a second one printed beside it stands in the file of decisions, as `amend: alternative`", w)
		}
		if !strokeForm.MatchString(w) {
			return nil, fmt.Errorf("%q is no digit\n"+
				"hint: 1 to 5, 5-4 for a change, 1+3+5 for a chord from its lowest key, . to leave a stroke or a key of it", w)
		}
		if at >= len(line) || onwards && newMeasure && !bar {
			end := begins
			for end < len(words) && words[end] != barline && words[end] != "!" {
				end++
			}
			hint := ""
			if at < len(line) {
				hint = fmt.Sprintf("\nhint: | where the line goes on over the barline, as in: %s | %s",
					strings.Join(words[begins:i], " "), strings.Join(words[i:end], " "))
			}
			if !onwards {
				return nil, fmt.Errorf("%s given; %s", were(digitsIn(words)), k.strokesOf(line))
			}
			return nil, fmt.Errorf("%s given; %s%s", were(digitsIn(words[begins:end])), k.strokesAt(line, at-1), hint)
		}
		bar = false
		chord := k.stroke(line, at)
		at += len(chord)
		if w == "." {
			continue
		}
		parts, keys := strings.Split(w, "+"), k.keysOf(chord)
		if len(parts) == keys[len(chord)-1]+1 && keys[len(chord)-1]+1 < len(chord) { // one digit for a key that two voices share
			each := make([]string, len(chord))
			for j := range chord {
				each[j] = parts[keys[j]]
			}
			parts = each
		}
		if len(parts) != len(chord) {
			return nil, fmt.Errorf("%s gives %s to a stroke of %s in m. %s", w, wording.Count(len(parts), "digit"), wording.Count(keys[len(chord)-1]+1, "key"),
				k.Score.Measures[k.Score.Notes[chord[0]].Measure].Number)
		}
		for j, part := range parts {
			if part == "." { // this key is left as it is
				continue
			}
			var fingers []int
			for _, digit := range strings.Split(part, "-") {
				fingers = append(fingers, int(digit[0]-'0'))
			}
			d.Notes = append(d.Notes, f.Ref(chord[j], fingers))
		}
	}
	if len(d.Notes) == 0 {
		return nil, fmt.Errorf("no digit is given")
	}
	return d, nil
}

// keysOf counts the keys of a stroke from its lowest: of each note, which key it is; two voices may share one.
func (k *Keying) keysOf(chord []int) []int {
	out := make([]int, len(chord))
	for j := 1; j < len(chord); j++ {
		out[j] = out[j-1]
		if k.Score.Notes[chord[j]].Midi != k.Score.Notes[chord[j-1]].Midi {
			out[j]++
		}
	}
	return out
}
