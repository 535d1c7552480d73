package diffpage_test

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/shared/browsertest"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/register"
	"fingerproof/pipeline/4_services/compare"
	"fingerproof/reports/diffpage"
	"fingerproof/reports/engrave"

	"github.com/chromedp/cdproto/emulation"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

func TestMain(m *testing.M) { browsertest.Main(m) }

func openBrowser(t *testing.T) context.Context { return browsertest.Open(t) }

// planted is a demo piece, and the same with three faults set into it.
func planted(t *testing.T) (old, new string) {
	t.Helper()
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", "op7-nocturne.musicxml"))
	require.NoError(t, err)
	old = string(data)
	notes := strings.SplitAfter(old, "</note>")
	notes[5] = strings.Replace(notes[5], "<octave>5</octave>", "<octave>4</octave>", 1)
	notes[90] = strings.Replace(notes[90], "<step>", "<step>X", 1)
	notes[90] = strings.NewReplacer("XC", "D", "XD", "E", "XE", "F", "XF", "G", "XG", "A", "XA", "B", "XB", "C").Replace(notes[90])
	digit := 0
	new = anyDigit.ReplaceAllStringFunc(strings.Join(notes, ""), func(found string) string {
		if digit++; digit != 8 && digit != 15 {
			return found
		}
		return found[:1] + string("23451"[found[1]-'1']) + found[2:]
	})
	return old, new
}

var anyDigit = regexp.MustCompile(`>[1-5]</fingering>`)

func side(t *testing.T, text string) compare.Side {
	t.Helper()
	doc, err := source.Open("x.musicxml", []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return compare.Side{Score: s}
}

// written writes the page of the planted faults, drawn where the engraver is there.
func written(t *testing.T) (file string, d *compare.Diff) {
	t.Helper()
	old, new := planted(t)
	d = &compare.Diff{Old: "approved", New: "proofs/proof 1", Pieces: []compare.Piece{
		compare.Scores("op7", side(t, old), side(t, new)), {ID: "op8"},
	}}
	require.GreaterOrEqual(t, len(d.Pieces[0].Changes), 3)
	p := &diffpage.Page{Diff: d, Corrections: compare.Sheet(d, nil)}
	press, err := engrave.Open(t.Context(), engrave.Options{Package: engrave.FindPackage("../engrave"), CacheDir: t.TempDir()})
	if err == nil {
		defer press.Close(context.Background())
		worker, err := press.Worker(t.Context())
		require.NoError(t, err)
		drawn, err := p.Draw(t.Context(), worker, &d.Pieces[0], []byte(old), []byte(new), 100)
		require.NoError(t, err)
		require.Positive(t, drawn)
	}
	file = filepath.Join(t.TempDir(), "diff.html")
	f, err := os.Create(file)
	require.NoError(t, err)
	defer f.Close()
	require.NoError(t, p.Write(f))
	return file, d
}

func value(t *testing.T, ctx context.Context, expression string) string {
	t.Helper()
	var out string
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate("String("+expression+")", &out)))
	return out
}

func press(t *testing.T, ctx context.Context, keys ...string) {
	t.Helper()
	browsertest.Press(t, ctx, keys...)
}

// saved does what saves a file, and gives its content.
func saved(t *testing.T, ctx context.Context, ending string, do func()) string {
	t.Helper()
	file := browsertest.Saved(t, ctx, ending, chromedp.ActionFunc(func(context.Context) error { do(); return nil }))
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	return string(data)
}

// A proof reader works through the page with keys alone: ticks, keeps, comments,
// leaves and comes back, and saves the sheet for the engraver and the marks.
func TestAProofReaderMarksByKeys(t *testing.T) {
	file, d := written(t)
	ctx := openBrowser(t)
	require.NoError(t, chromedp.Run(ctx, chromedp.Navigate("file://"+file), browsertest.Forget()))
	const count = `document.getElementById("count").textContent`
	require.Contains(t, value(t, ctx, count), "0 of ")
	press(t, ctx, "n")
	first := value(t, ctx, "document.activeElement.dataset.id")
	require.Equal(t, compare.Sheet(d, nil)[0].ID, first)
	press(t, ctx, "c", "n", "k", "e", "s", "i", "c", "Escape")
	require.Equal(t, "LI", value(t, ctx, "document.activeElement.tagName"), "Escape leads back to the line")
	press(t, ctx, "n", "c", "u")
	require.Contains(t, value(t, ctx, count), "2 of ")
	require.Contains(t, value(t, ctx, count), "1 to correct")
	press(t, ctx, "m")
	require.Equal(t, "initials", value(t, ctx, "document.activeElement.id"), "marks are somebody's")
	require.NoError(t, chromedp.Run(ctx, chromedp.SendKeys("#initials", "AB", chromedp.ByQuery)))
	press(t, ctx, "Escape")

	require.NoError(t, chromedp.Run(ctx, chromedp.Reload(), chromedp.SendKeys("#initials", "AB", chromedp.ByQuery)))
	require.Contains(t, value(t, ctx, count), "2 of ", "what was marked is there again")
	marks, err := register.Read("marks", []byte(saved(t, ctx, ".yaml", func() {
		require.NoError(t, chromedp.Run(ctx, chromedp.Click("#marks", chromedp.ByQuery)))
	})))
	require.NoError(t, err)
	require.Len(t, marks.Entries, 2)
	require.Equal(t, register.Open, marks.Entries[0].State)
	require.Equal(t, register.Kept, marks.Entries[1].State)
	require.Equal(t, "sic", marks.Entries[1].Comment)
	require.Equal(t, "AB", marks.Entries[1].By)

	sheet := saved(t, ctx, ".txt", func() {
		require.NoError(t, chromedp.Run(ctx, chromedp.Click("#sheet", chromedp.ByQuery)))
	})
	require.Contains(t, sheet, "Corrections to proofs/proof 1\n")
	require.Contains(t, sheet, "  [ ] "+d.Pieces[0].Changes[0].At().Short(false)+": "+compare.Sheet(d, nil)[0].Ask)
	require.Equal(t, 1, strings.Count(sheet, "[ ]"), "what is kept, or not marked, is not asked for")

	// The marks go into the register, and stay with their corrections.
	r := &register.Register{}
	compare.Keep(r, d, register.Proof{Name: "proof 1", Pieces: map[string]string{"op7": "1"}})
	unknown, contradicted, outdated := r.Merge(marks)
	require.Empty(t, unknown)
	require.Empty(t, contradicted)
	require.Empty(t, outdated)
	require.Equal(t, register.Kept, r.Entries[1].State)
}

// WCAG 2.2 AA by the rules of axe-core, which the lock file of reports/engrave pins: light and dark, no serious violation.
func TestThePageIsAccessible(t *testing.T) {
	script, err := os.ReadFile(filepath.Join("..", "engrave", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		t.Skip("axe-core is not installed: run `npm ci --ignore-scripts --prefix reports/engrave`")
	}
	file, _ := written(t)
	ctx := openBrowser(t)
	const run = `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"]})
		.then((r) => r.violations.filter((v) => v.impact === "serious" || v.impact === "critical")
			.map((v) => v.id + ": " + v.help + " " + v.nodes[0].html.slice(0, 200)).join("\n"))`
	for _, scheme := range []string{"light", "dark"} {
		var said string
		require.NoError(t, chromedp.Run(ctx,
			emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}),
			chromedp.Navigate("file://"+file), chromedp.Evaluate(string(script)+";0", nil),
			chromedp.Evaluate(run, &said, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }),
		))
		require.Empty(t, said, scheme)
	}
}

// Classes are hidden by key; what is marked can be hidden; the page prints, and does not scroll sideways on a telephone.
func TestThePageFiltersPrintsAndReflows(t *testing.T) {
	file, d := written(t)
	ctx := openBrowser(t)
	require.NoError(t, chromedp.Run(ctx, chromedp.Navigate("file://"+file), browsertest.Forget()))
	const visible = `document.querySelectorAll(".line:not([hidden])").length`
	all := value(t, ctx, visible)
	fingering := 0
	for _, c := range d.Pieces[0].Changes {
		if c.Kind.Class() == compare.Fingering {
			fingering++
		}
	}
	require.Positive(t, fingering)
	press(t, ctx, "1")
	require.NotEqual(t, all, value(t, ctx, visible))
	press(t, ctx, "1", "n", "c")
	require.Equal(t, all, value(t, ctx, visible))
	require.NoError(t, chromedp.Run(ctx, chromedp.Click("#unmarked", chromedp.ByQuery)))
	require.NotEqual(t, all, value(t, ctx, visible))
	press(t, ctx, "?")
	require.Equal(t, "false", value(t, ctx, `document.getElementById("help").hidden`))
	require.NoError(t, chromedp.Run(ctx, chromedp.ActionFunc(func(ctx context.Context) error {
		pdf, _, err := cdppage.PrintToPDF().Do(ctx)
		if err == nil && !strings.HasPrefix(string(pdf), "%PDF-") {
			t.Error("no PDF came")
		}
		return err
	})))
	require.NoError(t, chromedp.Run(ctx, emulation.SetDeviceMetricsOverride(320, 640, 1, true), chromedp.Reload()))
	require.Equal(t, "320", value(t, ctx, "document.documentElement.scrollWidth"), "WCAG 2.2, 1.4.10")
}

// A proof of the same name that reads otherwise has no mark on it: nobody has seen that reading.
func TestAMarkStaysWithItsReading(t *testing.T) {
	file, _ := written(t)
	ctx := openBrowser(t)
	const count = `document.getElementById("count").textContent`
	require.NoError(t, chromedp.Run(ctx, chromedp.Navigate("file://"+file), browsertest.Forget()))
	press(t, ctx, "n", "k")
	require.Contains(t, value(t, ctx, count), "1 of ")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	other := regexp.MustCompile(`data-reads="[^"]*"`).ReplaceAllString(string(text), `data-reads="another"`)
	for _, c := range []struct{ text, want string }{{other, "0 of "}, {string(text), "1 of "}} {
		require.NoError(t, os.WriteFile(file, []byte(c.text), 0o644))
		require.NoError(t, chromedp.Run(ctx, chromedp.Reload()))
		require.Contains(t, value(t, ctx, count), c.want)
	}
}
