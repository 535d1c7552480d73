package engrave

import (
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// What is taken out of a drawing is not seen: as many notes, signs, outlines and lines are drawn at the same places.
func TestASlimDrawingShowsTheSame(t *testing.T) {
	worker := newWorker(t, openPress(t))
	sheet, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	picture, err := worker.Excerpt(context.Background(), sheet, 0, 3, ExcerptOptions{Glyphs: &Glyphs{}})
	require.NoError(t, err)
	shown := func(svg string) (out []string) {
		drawing := etree.NewDocument()
		require.NoError(t, drawing.ReadFromString(svg))
		var walk func(*etree.Element)
		walk = func(e *etree.Element) {
			switch e.Tag {
			case "path", "use", "ellipse", "rect", "polygon":
				at := strings.NewReplacer(",", "", "0.", ".", " L", "L").Replace(
					e.SelectAttrValue("d", "") + e.SelectAttrValue("href", "") + e.SelectAttrValue("transform", ""))
				for k, part := range strings.Split(at, "M") { // straight lines may stand in one path
					if k > 0 || part != "" {
						out = append(out, e.Tag+" "+part)
					}
				}
			case "text":
				text := ""
				for _, span := range e.FindElements(".//tspan") {
					text += strings.TrimSpace(span.Text())
				}
				if text != "" {
					out = append(out, "text "+e.SelectAttrValue("x", "")+" "+e.SelectAttrValue("y", "")+" "+text)
				}
			}
			for _, child := range e.ChildElements() {
				walk(child)
			}
		}
		walk(drawing.Root())
		return out
	}
	slimSVG := slim(picture.SVG)
	require.Less(t, len(slimSVG), len(picture.SVG)*3/4)
	require.Equal(t, shown(picture.SVG), shown(slimSVG))
}

// A whole score, system by system, has every measure once and in order, and every fingering sign that the document has: the
// document is counted by itself, by its elements (MusicXML 4.0, `fingering`).
func TestAWholeScoreIsWhole(t *testing.T) {
	worker := newWorker(t, openPress(t))
	for _, name := range []string{"op7-nocturne", "op3-1-scales", "op12-1-barcarolle"} {
		data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", name+".musicxml"))
		require.NoError(t, err)
		document := etree.NewDocument()
		require.NoError(t, document.ReadFromBytes(data))
		wanted := 0
		for _, sign := range document.FindElements("//fingering") {
			if sign.SelectAttrValue("substitution", "") != "yes" {
				wanted++
			}
		}
		sheet, err := Copy(data, CopyOptions{})
		require.NoError(t, err)
		score, err := worker.Score(context.Background(), sheet, ScoreOptions{Title: name, Width: 860, Glyphs: &Glyphs{}})
		require.NoError(t, err)
		require.Empty(t, score.Missing)
		require.Empty(t, score.Cut)
		next, signs := 0, 0
		for _, system := range score.Systems {
			require.Equal(t, score.Systems[0].Width, system.Width, "one scale")
			drawing := etree.NewDocument()
			require.NoError(t, drawing.ReadFromString(system.SVG))
			require.Len(t, drawing.FindElements("//g[@data-y]"), 1)
			for _, measure := range drawing.FindElements("//g[@data-m]") {
				require.Equal(t, strconv.Itoa(next), measure.SelectAttrValue("data-m", ""))
				left, right, found := strings.Cut(measure.SelectAttrValue("data-x", ""), " ")
				require.True(t, found)
				require.NotEqual(t, left, right)
				next++
			}
			for _, g := range drawing.FindElements("//g") {
				if firstClass(g) == "fing" {
					signs++
				}
			}
		}
		require.Equal(t, len(document.FindElement("//part").SelectElements("measure")), next)
		require.Equal(t, wanted, signs)
		if filepath.Base(name) == "op7-nocturne" {
			require.Greater(t, len(score.Systems), 3)
		}
	}
}
