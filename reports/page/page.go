// Package page writes pages for the editor: one for each piece, an index of
// the collection, and lists across it. Every page is one file that needs no
// other and asks nothing of the network; what an editor decides on a page stays
// in the browser until it is saved to a file.
package page

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"html/template"
	"strconv"
	"strings"
	"sync"

	"fingerproof/reports/engrave"
	"fingerproof/reports/internal/caution"
)

//go:embed *.html *.css *.js piece/*.js
var files embed.FS

// pieceScript lists the files that make the script of a piece's page: they share one scope, in this order.
var pieceScript = []string{
	"store", "owners", "fold", "kept", "entries", "clashes", "like", "again", "offers", "notation", "since", "cards", "figure", "findings", "each", "reopen", "bulk", "strip", "keys", "print",
}

// Caution returns the caution for other formats.
func Caution() string { return caution.Text }

var templates = template.Must(template.New("").Funcs(template.FuncMap{
	"css":          styleText,
	"script":       scriptElement,
	"policy":       contentPolicy,
	"caution":      Caution,
	"shortcaution": func() string { return caution.Short },
	"nats":         func(milli int64) float64 { return float64(milli) / 1000 },
	"millis":       func(milli int) float64 { return float64(milli) / 1000 },
}).ParseFS(files, "*.html"))

var styleText = sync.OnceValue(func() template.CSS { // our own files
	return template.CSS(mustRead("page.css") + engrave.CSS + shownTwice)
})

// shownTwice gives the engraver's look to a drawing that is shown a second time: there its outermost element is not
// found.
var shownTwice = strings.ReplaceAll(engrave.CSS, ".engraving ", ".definition-scale ")

// contentPolicy lets a page run the one script that is its own and fetch nothing.
func contentPolicy(script string) string {
	allowed := "'none'"
	if script != "" {
		sum := scriptSum(script)
		allowed = "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	return "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; " +
		"script-src " + allowed
}

// scriptSum is the SHA-256 of a script, which every page names anew.
func scriptSum(name string) [sha256.Size]byte {
	if name == "piece.js" {
		return pieceScriptSum()
	}
	return sha256.Sum256([]byte(scriptText(name)))
}

var pieceScriptSum = sync.OnceValue(func() [sha256.Size]byte { return sha256.Sum256([]byte(pieceScriptText())) })

// scriptElement is the element of a page that holds its script.
func scriptElement(name string) template.HTML {
	if name == "piece.js" {
		return pieceScriptElement()
	}
	return template.HTML("<script>" + scriptText(name) + "</script>") //nolint:gosec // our own files
}

var pieceScriptElement = sync.OnceValue(func() template.HTML {
	return template.HTML("<script>" + pieceScriptText() + "</script>") //nolint:gosec // our own files
})

// scriptText is a page's script whole.
func scriptText(name string) string {
	if name != "piece.js" {
		return mustRead(name)
	}
	return pieceScriptText()
}

// pieceScriptText puts the script of a piece's page together, once.
var pieceScriptText = sync.OnceValue(func() string {
	var b strings.Builder
	b.WriteString("\"use strict\";\n(() => {\n")
	for _, part := range pieceScript {
		b.WriteString(mustRead("piece/" + part + ".js"))
	}
	b.WriteString("})();\n")
	return b.String()
})

func mustRead(name string) string {
	b, err := files.ReadFile(name)
	if err != nil {
		panic(err) // embedded
	}
	return string(b)
}

func render(name string, view any) ([]byte, error) {
	var b bytes.Buffer
	v, ok := view.(pieceView)
	if !ok {
		err := templates.ExecuteTemplate(&b, name, view)
		return b.Bytes(), err
	}
	parts := v.apart()
	b.Grow(1 << 16)
	if err := templates.ExecuteTemplate(&b, name, v); err != nil {
		return nil, err
	}
	return parts.putInto(b.Bytes()), nil
}

// largeParts are those of a page that make most of it and go into it as they are: style, script, data, cards. A template that
// printed them would copy each several times; it prints a mark in the place of each.
type largeParts []string

// partEdge stands on both sides of the number of a part; no text of a score can have it.
const partEdge = "\x01"

// apart takes the large parts out of a view.
func (v *pieceView) apart() (parts largeParts) {
	v.CSS, v.Script = styleText(), scriptElement("piece.js")
	for _, part := range []*template.HTML{&v.Script, &v.Cards, &v.MeasuresByHand, &v.Glyphs, &v.ScorePages, &v.Overview} {
		*part = template.HTML(parts.take(string(*part))) //nolint:gosec // a mark
	}
	v.CSS, v.Data = template.CSS(parts.take(string(v.CSS))), template.JS(parts.take(string(v.Data))) //nolint:gosec // marks
	return parts
}

// take gives the mark that stands for a part; what is empty stays so.
func (parts *largeParts) take(part string) string {
	if part == "" {
		return ""
	}
	*parts = append(*parts, part)
	return partEdge + strconv.Itoa(len(*parts)-1) + partEdge
}

// putInto puts the parts in the places of their marks.
func (parts largeParts) putInto(page []byte) []byte {
	size := len(page)
	for _, part := range parts {
		size += len(part)
	}
	out := make([]byte, 0, size)
	for {
		before, after, found := bytes.Cut(page, []byte(partEdge))
		out = append(out, before...)
		if !found {
			return out
		}
		number, rest, _ := bytes.Cut(after, []byte(partEdge))
		if k, err := strconv.Atoi(string(number)); err == nil && k < len(parts) {
			out = append(out, parts[k]...)
		}
		page = rest
	}
}

// FileName is the file of a piece's page. The names that begin with "index."
// are those of the collection's own pages.
func FileName(piece string) string {
	if lower := strings.ToLower(piece); lower == "index" || strings.HasPrefix(lower, "index.") {
		piece = "_" + piece
	}
	return piece + ".html"
}

// PersonalFile is the file of a piece's personal choices, seen from the pages' folder.
func PersonalFile(piece string) string { return "personal/" + FileName(piece) }

// storeKey names a piece's decisions in the browser.
func storeKey(collection, piece string) string { return "fingerproof/" + collection + "/" + piece }
