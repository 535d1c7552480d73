package main

import (
	"encoding/xml"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/files"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
)

// digitsInText is what a score shows of the digits that stand in it, and of who may have put them there.
type digitsInText struct {
	count int
	named []string // "editor Somebody", as the file's head names them
}

// lookForDigits counts the digits in a score's file and reads whom its head names. What cannot be read has none: the run
// will say why.
func lookForDigits(path string) (out digitsInText) {
	data, err := files.Read(path, files.ScoreLimit)
	if err != nil {
		return out
	}
	doc, err := source.Open(path, data, source.DefaultLimits())
	if err != nil {
		return out
	}
	d := xml.NewDecoder(strings.NewReader(doc.Text))
	name := func(what string, start *xml.StartElement) {
		var text string
		if d.DecodeElement(&text, start) == nil && strings.TrimSpace(text) != "" {
			out.named = append(out.named, what+" "+strings.Join(strings.Fields(text), " "))
		}
	}
	for {
		token, err := d.Token()
		if err != nil {
			break
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch start.Name.Local {
		case "fingering":
			out.count++
		case "encoder", "software":
			name(start.Name.Local, &start)
		case "creator":
			kind := ""
			for _, a := range start.Attr {
				if a.Name.Local == "type" {
					kind = a.Value
				}
			}
			if kind == "editor" || kind == "arranger" || kind == "transcriber" {
				name(kind, &start)
			}
		}
	}
	slices.Sort(out.named)
	out.named = slices.Compact(out.named)
	return out
}

// question asks in the manifest whose the digits of a piece are, "" where none stands in it.
func (d digitsInText) question() string {
	if d.count == 0 {
		return ""
	}
	names := "nobody is named in the file"
	if len(d.named) > 0 {
		names = "the file names " + wording.List(d.named)
	}
	stand := "digits stand"
	if d.count == 1 {
		stand = "digit stands"
	}
	return fmt.Sprintf("    # %d %s in it; %s. Whose? composer, earlier or editor:\n    # text_digits: earlier\n",
		d.count, stand, names)
}
