package page

import (
	"bytes"
	"fmt"
	"html/template"
)

// The head of a page of an earlier run stands between these.
const beforeBegins, beforeEnds = "<!-- an earlier run -->", "<!-- end -->"

// AsOfBefore marks the page of a piece as of an earlier run, since the piece could not be worked on. It lies in a folder
// two below the run's own, beside which its links lead.
func AsOfBefore(html []byte, why string) []byte {
	if from, to := bytes.Index(html, []byte(beforeBegins)), bytes.Index(html, []byte(beforeEnds)); from >= 0 && to > from {
		html = bytes.Join([][]byte{html[:from], html[to+len(beforeEnds):]}, nil)
	} else {
		html = bytes.ReplaceAll(html, []byte(`href="index.html"`), []byte(`href="../../review/index.html"`))
	}
	said := fmt.Sprintf(`%s<p class="notation" role="note"><strong>This page is as of before.</strong> The last run could `+
		`not work on the piece: <span style="white-space:pre-line">%s</span></p>%s`, beforeBegins, template.HTMLEscapeString(why), beforeEnds)
	return bytes.Replace(html, []byte("<body>"), []byte("<body>"+said), 1)
}
