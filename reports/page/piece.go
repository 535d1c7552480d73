package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/engrave"
)

// How sure a finger is, in the words of an editor's page.
const (
	firmWord     = "firm"
	fairWord     = "fair"
	doubtfulWord = "doubtful"
)

// inDoubt marks the notes whose finger a passage asks as a doubt, wherever the page draws or counts it.
func inDoubt(passages []review.Passage) map[int]bool {
	out := map[int]bool{}
	for i := range passages {
		for _, n := range passages[i].Doubts {
			out[n] = true
		}
	}
	return out
}

// confidenceWord says how sure the engine is of a finger; "" where it is given, or no hand takes its grip: how sure it is says
// nothing of that.
func confidenceWord(n *state.Note, inDoubt map[int]bool) string {
	switch {
	case n.Confidence == nil || n.Tied:
		return ""
	case inDoubt[n.N] || *n.Confidence < review.RealDoubt:
		return doubtfulWord
	case n.OutOfReach != "":
		return ""
	case *n.Confidence >= review.Firm:
		return firmWord
	}
	return fairWord
}

// pieceView is what the template of a piece shows.
type pieceView struct {
	*state.Result
	Title, Policy  string
	Back           string // what is open in a piece of which something is decided
	Strips         []strip
	Others         string // how the lines of the other hands are broken
	Reach          template.HTML
	Tempo          template.HTML
	Density        template.HTML
	Judge          []passageView
	Cards          template.HTML // of Judge
	Firm           int           // passages in which nothing is doubtful
	RealDoubt      int           // below so many of 100 a finger is a real doubt
	HasLike        bool          // a passage has like places
	Gaps           bool          // a passage is judged with another, and has no row of its own
	Settled        int           // notes whose digit is the editor's
	Drawn          int
	Notation       string
	Glyphs         template.HTML
	Concordance    []concordanceRow
	Beside         []string // what witnesses have beside the text
	Sigla          []string
	Collapses      []passageNote
	SmallerHand    []passageNote
	MeasuresByHand template.HTML
	Sure           map[string]int
	Data           template.JS
	CSS            template.CSS  // put in by render
	Script         template.HTML // likewise
	Figures        []figure      // what returns, by first passage
	Tally          string
	Overview       template.HTML // the piece from beginning to end
	Kinds          []kind
	Groups         []group
	Score          WholeScore
	ScorePages     template.HTML
	ScoreSum       string
	By, Passed     string
	NamesChanged   bool         // digits that what is decided beside them has changed are named
	Coming         state.Counts // found of suggested digits, as soon as they are taken
	AsText         state.Counts // that would be found of them, did they stand in the text
	PassedOn       string       // the day on which it was last passed
	Framed         bool         // digits differ from what was passed then
	Personal       string       // how many personal choices there are, "" for none
	PersonalFile   string
}

type strip struct {
	Hand    string
	Picture template.HTML
	Shares  state.Effort
	Widest  string
}

// passageNote says of a passage in one sentence what is to be known of it.
type passageNote struct {
	Measure int
	Text    string
}

// Piece writes the page of a piece.
func Piece(m *Material) ([]byte, error) {
	r := m.Result
	v := pieceView{
		Result: r, Title: r.Summary.Title, Policy: m.Policy, Sure: map[string]int{}, Notation: m.Notation,
		Drawn: len(m.Pictures), Glyphs: template.HTML(m.Glyphs), //nolint:gosec // outlines written by reports/engrave
	}
	if v.Title == "" {
		v.Title = r.Piece
	}
	numbers := measureNumbers(r)
	for _, h := range r.Summary.Hands {
		s := strip{Hand: h.Hand.Words(), Picture: effortStrip(h, numbers, m.Others), Shares: inEditorsWords(h.Effort)}
		if h.Part != "" {
			s.Hand += " (" + h.Part + ")"
		}
		if h.Widest != nil {
			s.Widest = fmt.Sprintf("widest grip %d mm, taken by %s", (h.Widest.Span+50)/100, pianists(h.Widest.Reach))
		}
		v.Strips = append(v.Strips, s)
	}
	v.Others = otherWords(m.Others)
	v.Reach, v.Tempo, v.Density = reachCurve(r, numbers), tempoCurve(m.Tempo, numbers), densityBars(m.Pages)
	v.Judge = m.passageViews()
	v.Cards = cards(v.Judge)
	v.Overview, v.Kinds, v.Groups = m.course(v.Judge), kinds(v.Judge), m.groups()
	v.By, v.Passed, v.PassedOn = m.decidedBy(), m.passedWords(), m.Passed.When
	v.Coming, v.AsText, v.NamesChanged = m.coming(), m.asText(), m.AtFirst != nil
	v.Framed = slices.ContainsFunc(m.Changes, func(c Change) bool { return c.N >= 0 })
	v.Personal, v.PersonalFile = m.Personal, PersonalFile(r.Piece)
	if v.Score = m.Score; len(m.Score.Systems) > 0 {
		v.ScorePages = template.HTML(scoreBegins + m.Score.drawing() + scoreEnds) //nolint:gosec // written by reports/engrave, text escaped
		v.ScoreSum = m.Score.sum()
		v.Glyphs = template.HTML(engrave.Without(m.Glyphs, m.Score.Glyphs)) //nolint:gosec // of reports/engrave
	}
	for i := range v.Judge {
		if v.Judge[i].Passage.Firm {
			v.Firm++
		}
		v.Gaps = v.Gaps || len(v.Judge[i].Returns) > 0
		v.HasLike = v.HasLike || len(v.Judge[i].Like) > 0
	}
	v.Figures, v.Tally = figures(r), returnsTally(r)
	v.Sigla, v.Concordance = m.concordance()
	v.Beside, v.Back = m.besideTheText(), m.back()
	v.Collapses, v.SmallerHand = collapses(r), smaller(r)
	v.MeasuresByHand = drawMeasures(measures(r, v.Sure, inDoubt(m.Passages)))
	for i := range r.Notes {
		if r.Notes[i].Responsibility.String() == "editor" && !r.Notes[i].Tied {
			v.Settled++
		}
	}
	v.RealDoubt = review.RealDoubt
	v.Data = m.data(v.Groups)
	out, err := render("piece.html", v)
	if err == nil && len(out) > pageLimit && v.ScorePages != "" {
		// A page is one file to send and to open anywhere: the score is left out before anything that is judged.
		v.ScorePages, v.ScoreSum, v.Glyphs = "", "", template.HTML(m.Glyphs) //nolint:gosec // of reports/engrave
		v.Score = WholeScore{Note: "The whole score is left out: with it, this page would be larger than 10 MB."}
		out, err = render("piece.html", v)
	}
	if err != nil {
		return nil, fmt.Errorf("writing the page of %s: %w", r.Piece, err)
	}
	return out, nil
}

// pageLimit is how large a page may be, in bytes, with the whole score.
const pageLimit = 10_000_000

func inEditorsWords(e state.Effort) state.Effort {
	out := make(state.Effort, len(e))
	for i, s := range e {
		out[i] = state.Share{Criterion: inWords(s.Criterion), MilliNats: s.MilliNats}
	}
	return out
}

func measureNumbers(r *state.Result) []string {
	out := make([]string, r.Summary.Measures)
	for i := range r.Notes {
		out[r.Notes[i].MeasureIndex] = r.Notes[i].Measure
	}
	for i := range out {
		if out[i] == "" {
			out[i] = fmt.Sprint(i + 1)
		}
	}
	return out
}

func collapses(r *state.Result) (out []passageNote) {
	for _, c := range r.Collapses {
		out = append(out, passageNote{c.MeasureIndex, fmt.Sprintf(
			"m. %s, %s: in practice %s would be easier by %.2f; at the tempo it costs more by %.2f.",
			c.Measure, c.Hand.Words(), digitsOf(c.Notes), float64(c.Saving)/1000, float64(c.Excess)/1000)})
	}
	return out
}

func smaller(r *state.Result) (out []passageNote) {
	for _, p := range r.SmallerHand {
		text := fmt.Sprintf("m. %s, %s: ", p.Measure, p.Hand.Words())
		switch {
		case len(p.Notes) > 0 && len(p.Beyond) > 0:
			text += fmt.Sprintf("takes %s; %d notes stay beyond it.", digitsOf(p.Notes), len(p.Beyond))
		case len(p.Notes) > 0:
			text += "takes " + digitsOf(p.Notes) + "."
		default:
			text += "no fingering brings it within this hand; it has to be rolled or handed over."
		}
		out = append(out, passageNote{p.MeasureIndex, text})
	}
	return out
}

func digitsOf(notes []state.RedistributedNote) string {
	var out []string
	for _, n := range notes {
		out = append(out, fmt.Sprint(n.Finger))
	}
	return strings.Join(out, "-")
}
