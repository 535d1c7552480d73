package main

import (
	"fingerproof/corpus/shared/browsertest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Texts that would run, or fetch, if a page took them for anything but text.
const (
	hurtTag    = `"><img src="http://outside.invalid/x" onerror="window.hurt=1"><script>window.hurt=1</script>`
	hurtScript = `</script></style></textarea><script>window.hurt=1</script><svg onload="window.hurt=1">`
	hurtLink   = `javascript:window.hurt=1`
)

// hostilePages runs every command that writes pages on an edition whose every text is hostile, and gives the pages.
func hostilePages(t *testing.T) (dir string, pages []string) {
	t.Helper()
	root, write := keepingCollection(t)
	escape := strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace
	yaml := func(s string) string { return "'" + strings.ReplaceAll(s, "'", "''") + "'" }
	score := strings.NewReplacer(
		"<part-list>", "<work><work-title>"+escape(hurtTag)+"</work-title></work><identification><creator>"+escape(hurtScript)+
			"</creator></identification><part-list>",
		"<part-name>Piano", "<part-name>"+escape(hurtScript),
		`number="2"`, `number="`+escape(hurtTag)+`"`,
		`<measure number="3">`, `<measure number="3"><direction><direction-type><words>`+escape(hurtTag)+`</words></direction-type></direction>`,
	).Replace(figurePiece(4))
	leaping := strings.Replace(score, "<octave>4</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type></note>",
		"<octave>7</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type><notations><technical><fingering>"+
			escape(hurtTag)+"</fingering></technical></notations></note>", 2)
	write("figures.musicxml", leaping)
	write("witness.musicxml", strings.Replace(score, "<step>D</step>", "<step>B</step>", 1))
	write("collection.yaml", "title: "+yaml(hurtTag)+"\ncomposer: "+yaml(hurtScript)+"\npublisher: "+yaml(hurtLink)+"\ninvented: "+yaml(hurtTag)+
		"\npieces:\n  - score: figures.musicxml\n    title: "+yaml(hurtScript)+"\n    witnesses: [{siglum: "+yaml("<b onclick=x>")+", score: witness.musicxml}]\n")
	write("policy.yaml", "extends: study\ntitle: "+yaml(hurtScript)+"\n")
	write("decisions/figures.AB.yaml", "piece: figures\nby: AB\ndecisions:\n  - {query: notes, when: 2026-03-01, why: "+yaml(hurtScript)+
		", notes: [{measure: 1, onset: 0, pitch: C7}]}\n  - {query: notes, when: 2026-03-01, why: "+yaml(hurtTag)+", notes: [{measure: 4, onset: 0, pitch: C4}]}\n")
	write("other.musicxml", strings.Replace(leaping, "<step>E</step>", "<step>A</step>", 1))
	dir = t.TempDir()
	t.Chdir(root) // pages name what is compared as it was typed
	for _, args := range [][]string{
		{"run", ".", "--out", filepath.Join(dir, "out"), "--report", "commentary=" + filepath.Join(dir, "commentary.html")},
		{"diff", "figures.musicxml", "other.musicxml", "--report", "page=" + filepath.Join(dir, "diff.html")},
		{"explain", ".", "figures", "1", "--page", filepath.Join(dir, "explain.html")},
		{"check", ".", "--policy", "performance", "--report", "page=" + filepath.Join(dir, "effect.html")},
	} {
		status, _, said := command(args...)
		require.NotEqual(t, exitFailed, status, "%v: %s", args, said)
	}
	require.NoError(t, filepath.WalkDir(dir, func(path string, _ os.DirEntry, err error) error {
		if strings.HasSuffix(path, ".html") {
			pages = append(pages, path)
			text := readText(t, path)
			for _, folder := range []string{root, dir} {
				require.False(t, strings.Contains(text, folder), "%s names %s, a folder of this machine", path, folder)
			}
		}
		return err
	}))
	require.Greater(t, len(pages), 5)
	return dir, pages
}

// A page asks nothing of the world and does nothing that a title or a remark says; a browser watches.
func TestPagesRunNothingAndFetchNothing(t *testing.T) {
	ctx := browsertest.Open(t)
	_, pages := hostilePages(t)
	var asked, dialogs []string
	chromedp.ListenTarget(ctx, func(event any) {
		switch e := event.(type) {
		case *network.EventRequestWillBeSent:
			asked = append(asked, e.Request.URL)
		case *cdppage.EventJavascriptDialogOpening:
			dialogs = append(dialogs, e.Message)
		}
	})
	require.NoError(t, chromedp.Run(ctx, network.Enable()))
	for _, p := range pages {
		asked = nil
		at := (&url.URL{Scheme: "file", Path: p}).String()
		var hurt, strays, links string
		require.NoError(t, chromedp.Run(ctx, chromedp.Navigate(at), chromedp.Sleep(200*time.Millisecond),
			chromedp.Evaluate("String(window.hurt)", &hurt),
			chromedp.Evaluate(`[...document.querySelectorAll("img, iframe, object, embed, link[href], [onload], [onerror], [onclick]")].map(e => e.outerHTML).join()`, &strays),
			chromedp.Evaluate(`[...document.querySelectorAll("[href], [src], [action]")].map(e => e.getAttribute("href") || e.getAttribute("src") || e.getAttribute("action"))`+
				`.filter(a => /^[a-z]+:/i.test(a) && !/^data:/i.test(a)).join()`, &links),
		))
		require.Equal(t, "undefined", hurt, "%s ran what a text says", p)
		require.Empty(t, strays, p)
		require.Empty(t, links, "%s leads outside", p)
		for _, a := range asked {
			require.True(t, a == at || strings.HasPrefix(a, "data:"), "%s fetches %s", p, a)
		}
		require.Contains(t, asked, at, "the browser tells what it fetches")
	}
	require.Empty(t, dialogs)
}
