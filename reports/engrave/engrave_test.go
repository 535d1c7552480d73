package engrave

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// openPress opens the engraver, or skips where its npm package is not installed.
func openPress(t testing.TB) *Press {
	t.Helper()
	press, err := Open(context.Background(), Options{
		Package:  FindPackage("."),
		CacheDir: testCache(),
	})
	if errors.Is(err, ErrMissing) {
		t.Skip(err)
	}
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, press.Close(context.Background())) })
	return press
}

func testCache() string { return filepath.Join(os.TempDir(), "fingerproof-engraver-test") }

func newWorker(t testing.TB, press *Press) *Worker {
	t.Helper()
	worker, err := press.Worker(context.Background())
	require.NoError(t, err)
	return worker
}

// Four measures, written for these tests: one staff in the treble, four quarters each; the key changes in the third,
// the clef in the middle of the second; fingers with a substitution, a bracketed editorial one and a hidden one.
func testScore() []byte {
	note := func(step, notations string) string {
		return `<note id="own"><pitch><step>` + step + `</step><octave>4</octave></pitch><duration>1</duration><voice>1</voice><type>quarter</type>` + notations + `</note>`
	}
	finger := func(inside string) string { return `<notations><technical>` + inside + `</technical></notations>` }
	return []byte(`<?xml version="1.0" encoding="ISO-8859-1"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">` +
		`<measure number="1"><attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>4</beats>` +
		`<beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>` +
		note("C", finger(`<fingering placement="above">4</fingering><fingering substitution="yes">3</fingering>`)) +
		note(
			"D",
			`<notations><articulations><staccato/></articulations></notations><notations>`+
				`<level bracket="yes">editorial</level><technical><fingering font-style="italic">2</fingering>`+
				`</technical></notations>`,
		) +
		note(
			"E", `<notations print-object="no"><technical><fingering>5</fingering></technical></notations>`,
		) + note("F", "") + `</measure>` +
		`<measure number="2">` + note("C", "") + note("D", "") + `<attributes><clef><sign>F</sign><line>4</line></clef></attributes>` + note("E", "") + note("F", "") + `</measure>` +
		`<measure number="3"><attributes><key><fifths>2</fifths></key></attributes>` + strings.Repeat(note("C", ""), 4) + `</measure>` +
		`<measure number="4">` + strings.Repeat(
		note("C", finger(`<fingering>1</fingering>`)), 4,
	) + `</measure></part></score-partwise>`,
	)
}

func TestCopyGathersFingeringSigns(t *testing.T) {
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	require.Equal(t, 4, sheet.Measures)
	require.Len(t, sheet.Notes, 16)
	require.Equal(t, "n15", sheet.Notes[15].ID)
	require.Equal(
		t, []DrawnDigit{{Text: "4", Placement: "above"}, {Text: "3", Substitution: true}}, sheet.Notes[0].Digits,
	)
	require.Equal(t, []DrawnDigit{{Text: "[2]", Italic: true}}, sheet.Notes[1].Digits)
	require.Empty(t, sheet.Notes[2].Digits, "hidden signs are not drawn")
}

func TestCloneChangesApart(t *testing.T) {
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	after := sheet.Clone()
	after.Notes[0].Digits[0].Text = "1"
	require.Equal(t, "4", sheet.Notes[0].Digits[0].Text)
}

func TestCutWritesWhatIsInForce(t *testing.T) {
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	for first, want := range map[int][3]string{
		0: {"0", "G", "yes"}, 1: {"0", "G", "no"}, 2: {"2", "F", "no"}, 3: {"2", "F", "no"},
	} {
		text, err := sheet.MusicXML(first, 3)
		require.NoError(t, err)
		document := etree.NewDocument()
		require.NoError(t, document.ReadFromBytes(text))
		require.Len(t, document.FindElements("//measure"), 4-first)
		attributes := document.FindElement("//measure/attributes")
		require.Equal(t, want[0], attributes.FindElement("key/fifths").Text(), "key at measure %d", first)
		require.Equal(t, want[1], attributes.FindElement("clef/sign").Text(), "clef at measure %d", first)
		require.Equal(
			t, want[2], attributes.SelectElement("time").SelectAttrValue("print-object", "yes"), "metre at measure %d",
			first,
		)
	}
	_, err = sheet.MusicXML(2, 4)
	require.ErrorContains(t, err, "score with 4")
}

func TestCopyRefusesOtherDocuments(t *testing.T) {
	for _, text := range []string{"", "<score-timewise/>", "<html", `<score-partwise><part-list/></score-partwise>`} {
		_, err := Copy([]byte(text), CopyOptions{})
		require.Error(t, err, text)
	}
}

func TestExcerptShowsTheMeasuresAskedFor(t *testing.T) {
	worker := newWorker(t, openPress(t))
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	sheet.Notes[1].Ring = "redistributed"
	sheet.Notes[1].Digits[0].Boxed = true
	sheet.Notes[1].Digits[0].Class = "editor"
	picture, err := worker.Excerpt(context.Background(), sheet, 0, 1, ExcerptOptions{Title: "a < b & c"})
	require.NoError(t, err)
	document := etree.NewDocument()
	require.NoError(t, document.ReadFromString(picture.SVG))
	svg := document.Root()
	require.Equal(t, "a < b & c", svg.SelectElement("title").Text())
	require.Equal(t, "img", svg.SelectAttrValue("role", ""))
	var ids []string
	for _, note := range document.FindElements("//g[@class='note']") {
		ids = append(ids, note.SelectAttrValue("data-id", ""))
	}
	require.Equal(t, []string{"n0", "n1", "n2", "n3", "n4", "n5", "n6", "n7"}, ids)
	var digits []string
	for _, sign := range document.FindElements("//g[@data-startid]") {
		digits = append(digits, sign.SelectAttrValue("data-startid", "")+" "+strings.Join(
			strings.Fields(allText(sign)), "",
		))
	}
	require.Equal(t, []string{"#n0 4–3", "#n1 [2]"}, digits)
	editorial := document.FindElement("//g[@data-startid='#n1']")
	require.Equal(t, "fing editor", editorial.SelectAttrValue("class", ""))
	require.Equal(t, "italic", editorial.SelectElement("text").SelectAttrValue("font-style", ""))
	require.NotNil(t, editorial.SelectElement("rect"), "a changed digit stands in a box")
	require.Len(t, document.FindElements("//circle[@class='ring redistributed']"), 1)
}

func allText(element *etree.Element) string {
	text := element.Text()
	for _, child := range element.ChildElements() {
		text += allText(child)
	}
	return text
}

func TestExcerptIsFitForEmbedding(t *testing.T) {
	worker := newWorker(t, openPress(t))
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	glyphs := &Glyphs{}
	shared, err := worker.Excerpt(context.Background(), sheet, 0, 3, ExcerptOptions{Glyphs: glyphs})
	require.NoError(t, err)
	alone, err := worker.Excerpt(context.Background(), sheet, 0, 3, ExcerptOptions{})
	require.NoError(t, err)
	require.Less(t, len(shared.SVG), len(alone.SVG))
	for _, text := range []string{shared.SVG, alone.SVG, glyphs.SVG()} {
		for _, address := range regexp.MustCompile(
			`(?:href|src)="([^"]*)"|url\(([^)]*)\)`,
		).FindAllStringSubmatch(text, -1) {
			require.True(t, strings.HasPrefix(address[1]+address[2], "#glyph-"), address[0])
		}
		require.NotContains(t, text, "<style")
		require.NotContains(t, text, `="black"`)
		require.NotContains(t, text, "font-face")
	}
	require.NotRegexp(
		t, `\bid="|\sid='`, strings.ReplaceAll(shared.SVG, "data-id=", "data="), "ids of many excerpts would clash",
	)
	for _, use := range regexp.MustCompile(`href="#([^"]+)"`).FindAllStringSubmatch(shared.SVG, -1) {
		require.Contains(t, glyphs.SVG(), `id="`+use[1]+`"`)
	}
}

func TestSameBytesWhateverCameBefore(t *testing.T) {
	ctx := context.Background()
	press := openPress(t)
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	fresh, err := newWorker(t, press).Excerpt(ctx, sheet, 1, 2, ExcerptOptions{})
	require.NoError(t, err)
	var group sync.WaitGroup
	for range 3 {
		worker := newWorker(t, press)
		group.Go(func() {
			for range 3 {
				_, err := worker.Excerpt(ctx, sheet, 0, 3, ExcerptOptions{Width: 300})
				require.NoError(t, err)
				again, err := worker.Excerpt(ctx, sheet, 1, 2, ExcerptOptions{})
				require.NoError(t, err)
				require.Equal(t, fresh.SVG, again.SVG)
			}
		})
	}
	group.Wait()
}

func TestTrapCostsOnlyItself(t *testing.T) {
	ctx := context.Background()
	worker := newWorker(t, openPress(t))
	require.NoError(t, worker.Load(ctx, testScore()))
	_, err := worker.current.call(ctx, "___trap")
	require.ErrorContains(t, err, "trapped")
	require.NotContains(t, err.Error(), "\n")
	require.ErrorContains(t, worker.failed(ctx, "drawing", err), "drawing: engraver trapped")
	mei, err := worker.MEI(ctx)
	require.NoError(t, err, "the score is loaded again")
	require.Contains(t, string(mei), "<note")
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	_, err = worker.Excerpt(ctx, sheet, 0, 1, ExcerptOptions{})
	require.NoError(t, err)
}

func TestCancelledRunStopsAndGoesOn(t *testing.T) {
	worker := newWorker(t, openPress(t))
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	require.ErrorIs(t, worker.Load(cancelled, testScore()), context.Canceled)
	require.NoError(t, worker.Load(context.Background(), testScore()))
}

func TestNothingLoaded(t *testing.T) {
	worker := newWorker(t, openPress(t))
	_, err := worker.MEI(context.Background())
	require.ErrorIs(t, err, ErrNotLoaded)
	require.Error(t, worker.Load(context.Background(), []byte("  ")))
	require.Error(t, worker.Load(context.Background(), []byte("no score at all")))
}

func TestMissingPackageSaysWhatToDo(t *testing.T) {
	for _, folder := range []string{"", t.TempDir()} {
		_, err := Open(context.Background(), Options{Package: folder, CacheDir: t.TempDir()})
		require.ErrorIs(t, err, ErrMissing)
		require.ErrorContains(t, err, "hint: run `npm ci")
	}
}

func TestPinnedPackage(t *testing.T) {
	lock, err := os.ReadFile("package-lock.json")
	require.NoError(t, err)
	require.Contains(t, string(lock), `"version": "`+engraverVersion+`"`)
	require.Contains(t, string(lock), `"version": "`+converterVersion+`"`)
	require.NotContains(t, string(lock), "://", "the lock names no host")
	script, err := readScript(FindPackage("."))
	if errors.Is(err, ErrMissing) {
		t.Skip(err)
	}
	require.NoError(t, err)
	module, table, err := splitScript(script)
	require.NoError(t, err)
	require.Equal(t, "\x00asm", string(module[:4]))
	require.Len(t, table.Imports, len(hostFunctions), "every import is given, and nothing else")
	for _, plain := range table.Imports {
		require.Contains(t, hostFunctions, plain)
	}
}

func TestScriptOfAnotherMakeIsRefused(t *testing.T) {
	for _, script := range []string{
		"", "binaryDecode('", `binaryDecode('\q')`, "binaryDecode('語')", "binaryDecode('a')",
		"binaryDecode('a')var wasmImports={a:}",
	} {
		_, _, err := splitScript([]byte(script))
		require.Error(t, err, script)
	}
}

func BenchmarkOpenWarm(b *testing.B) {
	openPress(b)
	for b.Loop() {
		openPress(b)
	}
}

func BenchmarkExcerpt(b *testing.B) {
	worker := newWorker(b, openPress(b))
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(b, err)
	for b.Loop() {
		_, err := worker.Excerpt(context.Background(), sheet, 0, 3, ExcerptOptions{})
		require.NoError(b, err)
	}
}
