package page_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// WCAG 2.2 AA by the rules of axe-core, which the lock file of reports/engrave pins: on every kind of page, light and
// dark, wide and narrow, no serious violation.
func TestPagesAreAccessible(t *testing.T) {
	script, err := os.ReadFile(filepath.Join("..", "engrave", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		t.Skip(
			"axe-core is not installed: run `npm ci --ignore-scripts --prefix reports/engrave`; only our own checks " +
				"hold",
		)
	}
	ctx, at := openBrowser(t), demoPages(t)
	const run = `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], resultTypes: ["violations"]})
		.then((r) => JSON.stringify(r.violations.map((v) => ({ id: v.id, impact: v.impact, help: v.help, nodes: v.nodes.slice(0, 3).map((n) => n.html.slice(0, 200) + " " + n.failureSummary) }))))`
	for _, look := range []struct {
		scheme string
		width  int64
	}{{"light", 1200}, {"dark", 360}} {
		for _, name := range []string{"index.html", "op9-3-romance.html", "index.returns.html"} {
			var said string
			require.NoError(t, chromedp.Run(ctx,
				emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{
					{Name: "prefers-color-scheme", Value: look.scheme},
				}),
				emulation.SetDeviceMetricsOverride(look.width, 900, 1, false),
				chromedp.Navigate(at+"/"+name), chromedp.Evaluate(string(script)+";0", nil),
				chromedp.Evaluate(
					run, &said,
					func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) },
				),
			))
			var violations []struct {
				ID, Impact, Help string
				Nodes            []string
			}
			require.NoError(t, json.Unmarshal([]byte(said), &violations))
			for _, v := range violations {
				if v.Impact == "serious" || v.Impact == "critical" {
					t.Errorf(
						"%s, %s, %d wide: %s (%s): %s\n%s", name, look.scheme, look.width, v.ID, v.Impact, v.Help,
						fmt.Sprint(v.Nodes),
					)
				} else {
					t.Logf("%s, %s, %d wide: %s (%s): %s", name, look.scheme, look.width, v.ID, v.Impact, v.Help)
				}
			}
		}
	}
}

// Every control can be reached by keyboard in the order of the page, has a name and shows its focus.
func TestControlsHaveNamesAndOrder(t *testing.T) {
	ctx, at := openBrowser(t), demoPages(t)
	for _, name := range []string{"index.html", "op7-nocturne.html"} {
		require.NoError(t, chromedp.Run(ctx, chromedp.Navigate(at+"/"+name)))
		require.Empty(
			t,
			text(
				t, ctx,
				`[...document.querySelectorAll("button, input, select, a[href]")].filter((e) => !(e.getAttribute("aria-label") || e.textContent.trim() || (e.labels && e.labels.length))).map((e) => e.outerHTML).join()`,
			),
			"names on "+name,
		)
		require.Empty(
			t,
			text(
				t, ctx,
				`[...document.querySelectorAll("[tabindex]")].filter((e) => e.tabIndex > 0).map((e) => e.outerHTML).join()`,
			),
			"no order of its own on "+name,
		)
		require.Empty(
			t,
			text(
				t, ctx,
				`(() => { const seen = new Set(), twice = []; for (const e of document.querySelectorAll("[id]")) { if (seen.has(e.id)) twice.push(e.id); seen.add(e.id); } return twice.join(); })()`,
			),
			"ids on "+name,
		)
	}
}
