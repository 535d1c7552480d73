package page

import (
	"bytes"
	"fmt"
	"html/template"
	"regexp"
	"slices"
)

// The head of a page of an earlier run stands between these.
const beforeBegins, beforeEnds = "<!-- an earlier run -->", "<!-- end -->"

// AsOfBefore marks the page of a piece as of an earlier run, since the piece could not be worked on. It lies in a folder
// two below the run's own, beside which its links lead.
// It gives nil for what Moved wrote.
func AsOfBefore(html []byte, why string) []byte {
	if bytes.Contains(html, []byte(movedMark)) {
		return nil
	}
	if from, to := bytes.Index(html, []byte(beforeBegins)), bytes.Index(html, []byte(beforeEnds)); from >= 0 && to > from {
		html = bytes.Join([][]byte{html[:from], html[to+len(beforeEnds):]}, nil)
	} else {
		html = bytes.ReplaceAll(html, []byte(`href="index.html"`), []byte(`href="../../review/index.html"`))
	}
	said := fmt.Sprintf(`%s<p class="notation" role="note"><strong>This page is as of before.</strong> The last run could `+
		`not work on the piece: <span style="white-space:pre-line">%s</span></p>%s`, beforeBegins, template.HTMLEscapeString(why), beforeEnds)
	return bytes.Replace(html, []byte("<body>"), []byte("<body>"+said), 1)
}

// movedMark stands in the page that stands where the page of a piece stood.
const movedMark = "<!-- the piece could not be worked on -->"

// Moved is the page in the place of that of a piece which could not be worked on: it says why, and leads to the page as of
// before.
func Moved(why, before string) []byte {
	return []byte(fmt.Sprintf(`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="%s">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>Could not be worked on</title></head>
<body>%s<h1>The last run could not work on this piece</h1>
<pre style="white-space:pre-wrap">%s</pre>
<p><a href="%s">Its page as of before</a>. What is decided in this browser stays there. <a href="index.html">All pieces</a></p></body></html>
`, template.HTMLEscapeString(contentPolicy("")), movedMark, template.HTMLEscapeString(why), template.HTMLEscapeString(before)))
}

// passedState is where the page of a piece says whether it is passed for press.
var passedState = regexp.MustCompile(`(<span data-passed>)[^<]*(</span>)`)

// framed is how a digit is drawn that differed from what was passed, framesKey what says so above the score.
var (
	framed    = regexp.MustCompile(`(class="[^"]*\bfing\b[^"]*) altered\b`)
	framesKey = regexp.MustCompile(`<span data-changed>[^<]*</span> ?`)
)

// PassedSince says in the page of a piece by whom and when it was passed, as it stands there: nothing on it differs any more
// from what was last passed, so no digit of the score is framed.
func PassedSince(html []byte, by, when string) []byte {
	said := template.HTMLEscapeString("passed for press: " + Passed{By: by, When: when}.words())
	html = passedState.ReplaceAll(html, []byte("${1}"+said+"${2}"))
	from, to := bytes.Index(html, []byte(scoreBegins)), bytes.Index(html, []byte(scoreEnds))
	if from < 0 || to < from {
		return html
	}
	return slices.Concat(framesKey.ReplaceAll(html[:from], nil), framed.ReplaceAll(html[from:to], []byte("${1}")), html[to:])
}
