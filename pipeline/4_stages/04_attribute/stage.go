package attribute

import (
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/pipeline/4_stages/03_witnesses"
)

// Input is everything the stage looks at.
type Input struct {
	Score *score.Score
	// TextDigits says whose the digits of a plain score are by the policy; Manifest, where it is not "", names
	// whose they are in this piece and goes before all else.
	TextDigits score.Responsibility
	Manifest   string
	Witnesses  []witnesses.Witness
	Embedded   *edition.Embedded // what the edition carries along; nil for other scores
	Held       *edition.Held     // what of an edition changed since still fits; nil for other scores
	Draft      *score.Score      // in which an editor's own digits stand; nil where there is no draft
	DraftHeld  *edition.Held     // what the draft knows of its digits where it is an edition of ours, changed since; else nil
	// AsPlain reads an edition of ours as any other score: its digits are all the text's, whatever they look like.
	AsPlain bool
}

// Output is whose the digits are.
type Output struct {
	Whose   [][]score.Responsibility // by note and indication
	Sources *Sources
	Draft   *Draft // nil where there is none
}

// Attribute says whose each digit of the text is, and what the witnesses have at its notes.
func Attribute(in Input) (out Output, err error) {
	text := in.TextDigits
	if in.Manifest != "" {
		if err := text.UnmarshalText([]byte(in.Manifest)); err != nil {
			return out, err
		}
	}
	out.Sources = Compare(in.Score, in.Witnesses)
	readingsOf(in.Embedded, out.Sources, in.Witnesses)
	if in.Draft != nil {
		out.Draft = PlaceDraft(in.Score, in.Draft, in.DraftHeld)
		if err := out.Draft.OtherPiece(); err != nil {
			return out, err
		}
	}
	if whose, ok := in.Embedded.Responsibilities(in.Score); ok && in.Manifest == "" {
		out.Whose = whose
		return out, nil
	}
	if in.AsPlain {
		out.Whose = allOf(in.Score, text)
		return out, nil
	}
	out.Whose, err = Whose(in.Score, text)
	if err == nil && in.Manifest == "" {
		asEncoded(out.Whose, in.Score)
	}
	if in.Held != nil && err == nil && in.Manifest == "" {
		known(out.Whose, in.Held)
	}
	return out, err
}

// asEncoded lets digits be whose their document says, where it says so.
func asEncoded(whose [][]score.Responsibility, s *score.Score) {
	for i := range whose {
		for k := range whose[i] {
			if who := s.Notes[i].Indications[k].Responsibility; who != score.Unattributed {
				whose[i][k] = who
			}
		}
	}
}

// known gives the digits that the record of a changed edition still knows to whom they were; the others keep what their
// looks say.
func known(whose [][]score.Responsibility, held *edition.Held) {
	for i := range whose {
		for k := range whose[i] {
			if who := held.Whose[i][k]; who != score.Unattributed {
				whose[i][k] = who
			}
		}
	}
}

// readingsOf gives what an edition brings along as readings beside those of
// the witnesses: a witness that the manifest still names speaks for itself.
func readingsOf(embedded *edition.Embedded, sources *Sources, named []witnesses.Witness) {
	if embedded == nil {
		return
	}
	there := map[string]bool{}
	for _, w := range named {
		there[w.Siglum] = true
	}
	for _, d := range embedded.Digits {
		if d.N < 0 || d.N >= len(sources.Readings) {
			continue
		}
		sigla := d.Sigla
		if len(sigla) == 0 {
			sigla = []string{""}
		}
		for _, siglum := range sigla {
			if siglum != "" && there[siglum] {
				continue
			}
			sources.Readings[d.N] = append(sources.Readings[d.N], Reading{
				Siglum: siglum, Text: spell(d.Finger, d.Then), Fingers: append([]int{d.Finger}, d.Then...),
				Responsibility: d.Who, Agent: d.Agent,
			})
		}
	}
}

// spell writes a digit with those that follow on it.
func spell(finger int, then []int) string {
	out := strconv.Itoa(finger)
	for _, f := range then {
		out += " " + strconv.Itoa(f)
	}
	return out
}
