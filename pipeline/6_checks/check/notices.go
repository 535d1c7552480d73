package check

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/passed"
)

// notices says what became of the edition's marks: whether another program has
// changed its record, and how many digits that were the editor's, or open, when
// the piece was passed stand in the text now, and whose they are taken for.
func (p *prover) notices() (out []string) {
	if words := p.now.RecordWords(); words != "" {
		out = append(out, words)
	}
	if p.sum != p.was.ScoreSum && p.text == nil {
		out = append(out, "the score is another one, and is not kept as it was passed: its signs and words were not compared, "+
			"only its notes and their digits")
	}
	if p.was.Seconds == nil && len(p.current.Seconds) > 0 {
		out = append(out, "the state is of an older program, which did not keep the fingers that print beside others: they were not compared")
	}
	if !p.was.Rows && slices.ContainsFunc(p.current.Notes, func(n passed.NoteState) bool { return n.Row != "" }) {
		out = append(out, "the state is of an older program, which did not keep the digits at trills, turns and mordents but the first: the others were not compared")
	}
	out = append(out, p.layoutNotices()...)
	credited := map[score.Responsibility]int{}
	for i := range p.current.Notes {
		if p.toOld[i] < 0 {
			continue
		}
		was, now := p.was.Notes[p.toOld[i]].Whose, &p.now.Result.Notes[i]
		ours := was != score.Composer.String() && was != score.Earlier.String()
		if ours && (now.Responsibility == score.Composer || now.Responsibility == score.Earlier) &&
			slices.ContainsFunc(now.Source, func(s state.Source) bool { return !s.WitnessOnly }) {
			credited[now.Responsibility]++
		}
	}
	for _, k := range []struct {
		whose score.Responsibility
		words string
	}{{score.Composer, "the composer's"}, {score.Earlier, "an earlier hand's"}} {
		if n := credited[k.whose]; n > 0 {
			out = append(out, fmt.Sprintf("at %s digits that were the editor's or open when the piece was passed stand in the text now and "+
				"are taken for %s: has an edition come back from another program in the place of the score?", wording.Count(n, "note"), k.words))
		}
	}
	return out
}

// mostLaidOut is how many differences of layout are named one by one.
const mostLaidOut = 8

// layoutNotices names what of the page is another and is no change of what was passed: letters, sides, breaks. What of the
// texts could not be compared is named with it.
func (p *prover) layoutNotices() (out []string) {
	for i := range p.laidOut {
		if i == mostLaidOut {
			out = append(out, fmt.Sprintf("layout: %d more, not counted as changes (fingerproof diff --only layout)", len(p.laidOut)-i))
			break
		}
		c := signChange(&p.laidOut[i], false)
		out = append(out, "layout, not counted as a change: "+c.Sentence())
	}
	lacks := slices.DeleteFunc(slices.Clone(p.notSaid), func(s string) bool { return strings.HasSuffix(s, "(neither score gives them)") })
	if len(lacks) > 0 {
		out = append(out, "not compared in the text: "+strings.Join(lacks, "; "))
	}
	return out
}
