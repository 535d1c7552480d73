package formats

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
)

// habit is a way in which programs write something that a pianist plays, as a small score, and what has to become of it.
type habit struct {
	name  string
	score string
	// asks says what is missing, "" where all is as it has to be.
	asks func(*pipeline.PieceRun) string
}

func habitsCommand() *cobra.Command {
	return measurement.Measurement{
		Use:   "habits",
		Short: "read what programs write in ways of their own: hands in parts, digits as words, cue notes and others",
		Long: `habits reads small scores, each written in a way that some program has, and says of each whether it is handled
or told as a finding: as it is, as MuseScore writes it again, and as the MEI that Verovio makes of it. What such
a program does not carry over is named.`,
		Args: cobra.NoArgs,
		Run: func(ctx context.Context, out io.Writer, _ []string) error {
			table := figures.NewTable("habit", "as it is", "by MuseScore", "by Verovio, as MEI")
			c, err := openConverter(ctx)
			if err != nil {
				return err
			}
			defer c.close(ctx)
			for _, h := range habits() {
				row := []any{h.name, h.verdict("score.musicxml", []byte(h.score))}
				again, err := museScore(ctx, h.score)
				row = append(row, verdictOf(&h, "score.musicxml", again, err))
				mei, err := c.convert(ctx, h.score)
				row = append(row, verdictOf(&h, "score.mei", mei, err))
				table.Row(row...)
			}
			table.Print(out)
			return nil
		},
	}.Command()
}

func verdictOf(h *habit, name string, data []byte, err error) string {
	if err != nil {
		return "not written: " + reason(err)
	}
	return h.verdict(name, data)
}

// verdict is "handled", or what is missing.
func (h *habit) verdict(name string, data []byte) string {
	w, err := ran(name, data)
	if err != nil {
		return "error: " + reason(err)
	}
	if missing := h.asks(w); missing != "" {
		return missing
	}
	return "handled"
}

// convert is the MEI that Verovio makes of a text.
func (c *converter) convert(ctx context.Context, text string) ([]byte, error) {
	if err := c.worker.Load(ctx, []byte(text)); err != nil {
		return nil, err
	}
	return c.worker.MEI(ctx)
}

// museScore is a score as MuseScore 3 writes it again.
func museScore(ctx context.Context, text string) ([]byte, error) {
	program, err := exec.LookPath("musescore3")
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "habit-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	from, to := filepath.Join(dir, "in.musicxml"), filepath.Join(dir, "out.musicxml")
	if err := os.WriteFile(from, []byte(text), 0o600); err != nil {
		return nil, err
	}
	cmd := exec.CommandContext(ctx, program, "-o", to, from)
	cmd.Env = append(os.Environ(), "QT_QPA_PLATFORM=offscreen")
	if said, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("MuseScore: %w: %.200s", err, said)
	}
	return os.ReadFile(to)
}

// Small pieces of the scores.

// asScore puts parts into a document; each is its name, its staves, and its measures.
func asScore(parts ...[]string) string {
	var list, body strings.Builder
	for i, p := range parts {
		fmt.Fprintf(&list, `<score-part id="P%d"><part-name>%s</part-name></score-part>`, i+1, p[0])
		fmt.Fprintf(&body, `<part id="P%d">`, i+1)
		for k, m := range p[2:] {
			fmt.Fprintf(&body, `<measure number="%d">`, k+1)
			if k == 0 {
				fmt.Fprintf(&body, `<attributes><divisions>4</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>%s</attributes>`, p[1])
			}
			body.WriteString(m + "</measure>")
		}
		body.WriteString("</part>")
	}
	return `<?xml version="1.0" encoding="UTF-8"?>` + "\n" +
		`<score-partwise version="4.0"><part-list>` + list.String() + `</part-list>` + body.String() + `</score-partwise>`
}

const grandStaff = `<staves>2</staves><clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef>`

// n writes a quarter, or with a digit behind its name another value: "C4", "E5:8" for an eighth.
func n(pitch string, staff int, more string) string {
	name, value, _ := strings.Cut(pitch, ":")
	duration, kind := 4, "quarter"
	switch value {
	case "1":
		duration, kind = 16, "whole"
	case "2":
		duration, kind = 8, "half"
	case "8":
		duration, kind = 2, "eighth"
	}
	sounding := "<pitch><step>" + name[:1] + "</step><octave>" + name[1:] + "</octave></pitch>"
	if name == "r" {
		sounding = "<rest/>"
	}
	return fmt.Sprintf(`<note>%s<duration>%d</duration><voice>%d</voice><type>%s</type><staff>%d</staff>%s</note>`,
		sounding, duration, 1+4*(staff-1), kind, staff, more)
}

// both fills a measure: the upper staff, and below it a whole note.
func both(upper string) string {
	return upper + `<backup><duration>16</duration></backup>` + n("C3:1", 2, "")
}

func digit(text, attributes string) string {
	return `<fingering` + attributes + `>` + text + `</fingering>`
}

func technical(digits ...string) string {
	return "<notations><technical>" + strings.Join(digits, "") + "</technical></notations>"
}

func words(text string) string {
	return `<direction placement="above"><direction-type><words>` + text + `</words></direction-type><staff>1</staff></direction>`
}

// Questions that scores are asked.

// finds asks for a finding of a rule.
func finds(rule string) func(*pipeline.PieceRun) string {
	return func(w *pipeline.PieceRun) string {
		for i := range w.Remaining {
			if w.Remaining[i].Rule == rule {
				return ""
			}
		}
		return "no finding " + rule
	}
}

// plays asks which hand plays a key.
func plays(pitch string, hand score.Hand) func(*pipeline.PieceRun) string {
	return func(w *pipeline.PieceRun) string {
		for i := range w.Score.Notes {
			if w.Score.Notes[i].Pitch.String() != pitch {
				continue
			}
			switch {
			case hand == score.NoHand && w.Playing.Plays(i):
				return pitch + " is fingered"
			case hand == score.NoHand:
				return ""
			case !w.Playing.Plays(i):
				return pitch + " is not played"
			case w.Playing.Hand(i) != hand:
				return pitch + " is played by the " + w.Playing.Hand(i).Words()
			}
			return ""
		}
		if hand == score.NoHand {
			return ""
		}
		return pitch + " is lost"
	}
}

// has asks for the digits of a key: "4 3" a row, "4→3" a change, "3|2" an alternative.
func has(pitch, want string) func(*pipeline.PieceRun) string {
	return func(w *pipeline.PieceRun) string {
		for i := range w.Score.Notes {
			note := &w.Score.Notes[i]
			if note.Pitch.String() != pitch {
				continue
			}
			var got strings.Builder
			for _, d := range note.Indications {
				switch {
				case d.Substitution:
					got.WriteString("→")
				case d.Alternate:
					got.WriteString("|")
				case got.Len() > 0:
					got.WriteString(" ")
				}
				got.WriteString(strings.Trim(fmt.Sprint(d.Fingers), "[]"))
			}
			if got.String() != want {
				return fmt.Sprintf("%s has %q, not %q", pitch, got.String(), want)
			}
			return ""
		}
		return pitch + " is lost"
	}
}

// all asks several questions.
func all(asks ...func(*pipeline.PieceRun) string) func(*pipeline.PieceRun) string {
	return func(w *pipeline.PieceRun) string {
		for _, ask := range asks {
			if missing := ask(w); missing != "" {
				return missing
			}
		}
		return ""
	}
}

// either asks for one of two.
func either(a, b func(*pipeline.PieceRun) string) func(*pipeline.PieceRun) string {
	return func(w *pipeline.PieceRun) string {
		missing := a(w)
		if missing != "" && b(w) == "" {
			return ""
		}
		return missing
	}
}

// note asks something of the note of a key.
func note(pitch string, is func(*score.Note) bool, what string) func(*pipeline.PieceRun) string {
	return func(w *pipeline.PieceRun) string {
		k := slices.IndexFunc(w.Score.Notes, func(n score.Note) bool { return n.Pitch.String() == pitch })
		switch {
		case k < 0:
			return pitch + " is lost"
		case !is(&w.Score.Notes[k]):
			return pitch + " " + what
		}
		return ""
	}
}
