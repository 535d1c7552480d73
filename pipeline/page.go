package pipeline

import (
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/pipeline/4_stages/17_inspect"
)

// pageOf reads an edition of ours as its reader sees it (DEVELOPERS.md, decision 9): what is printed is the text, digits that nobody decided
// included, and what the file says of itself beside the music counts for nothing. So the same page gives the same
// findings, whether the record in its head is whole, was made stale by another program, or is lost. The page is
// linted to the end, decisions on findings included. nil for any other score, which is its own page.
func pageOf(run *PieceRun) (*PieceRun, error) {
	if run.Embedded == nil && run.Score.Edition == nil {
		return nil, nil
	}
	page := &PieceRun{
		Piece: run.Piece, Data: run.Data, WitnessData: run.WitnessData, Policy: run.Policy, Weights: run.Weights,
		Decisions: run.Decisions, Today: run.Today, Press: run.Press, Unedited: run.Unedited, Document: run.Document, Base: run.Document,
		Witnesses: run.Witnesses, Kept: run.Kept, asPage: true,
	}
	for _, work := range pageWork {
		if err := work(page); err != nil {
			return nil, err
		}
	}
	in := page.InspectInput()
	var err error
	if in.Whose, err = attribute.Whose(page.Score, page.Policy.TextDigits()); err != nil {
		return nil, err
	}
	if page.Findings, err = inspect.Findings(in); err != nil {
		return nil, err
	}
	return page, letStand(page)
}

// pageWork is what a page goes through before lint: the stages of any score, but that its digits are all the text's,
// and that nothing is printed.
var pageWork = []func(*PieceRun) error{
	readScore, attributePage, placeDecisions, findHands, findTempo, findReturns, findLeading, bindDigits, readByPreface,
	keptOnPage("suggest", suggestFingers), keptOnPage("beside", setBeside), creditDigits,
	keptOnPage("redistribute", redistributeNotes), forgetWhatWasRead, keptOnPage("thin", thinOut),
}

// readByPreface reads the notes without a digit as the preface of the edition tells its reader to, who knows nothing else: what the
// page says of them binds the search, as an editor's draft does, and is no digit. A page that does not say how many digits it
// prints is read as any score: there the search has them.
func readByPreface(page *PieceRun) error {
	if page.Score.Edition == nil || !thin.ByPreface(page.Score.Edition.Fields[thin.DigitsField]) {
		return nil
	}
	notes := len(page.Score.Notes)
	in := thin.Page{
		Score: page.Score, Playing: page.Playing, Digit: make([]int, notes), Reads: make([]bool, notes), Profile: page.Profile,
		Digits: page.Score.Edition.Fields[thin.DigitsField],
	}
	for i := range page.Score.Notes {
		in.Reads[i] = page.Playing.Plays(i)
		if in.Digit[i] = page.Playing.Piled(i); in.Digit[i] == 0 {
			in.Digit[i] = suggest.GivenFinger(&page.Score.Notes[i], page.Whose[i])
		}
	}
	read := thin.ReadPage(in)
	page.Draft = &attribute.Draft{Fingers: make([][]int, notes)}
	for i, finger := range read {
		if finger > 0 && in.Digit[i] == 0 {
			page.Draft.Fingers[i] = []int{finger}
		}
	}
	return nil
}

// forgetWhatWasRead leaves the page without the draft as which it was read: it is nobody's.
func forgetWhatWasRead(page *PieceRun) error {
	page.Draft = nil
	return nil
}

// keptOnPage is a stage that keeps what it gives (keptStages).
func keptOnPage(name string, work func(*PieceRun) error) func(*PieceRun) error {
	return func(page *PieceRun) error { return page.runKept(name, work) }
}

// attributePage gives all digits of a page to whoever the digits of a plain score are.
func attributePage(page *PieceRun) error {
	in := page.attributeInput()
	in.AsPlain = true
	out, err := attribute.Attribute(in)
	page.Whose, page.Sources = out.Whose, out.Sources
	return err
}
