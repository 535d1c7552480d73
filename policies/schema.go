package policies

import (
	"bytes"
	_ "embed" // the shipped schema
	"encoding/json"
	"strings"
)

// Schema is the JSON schema of a policy file, for completion in editors. It
// is made from Keys; a test keeps the shipped file up to date.
//
//go:embed policy.schema.json
var Schema []byte

// MakeSchema makes the schema from the table of keys.
func MakeSchema() []byte {
	root := object("A house style for fingering. Every key is optional; `extends` names what it builds on.")
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["title"] = "fingerproof policy"
	props(root)["extends"] = map[string]any{
		"type": "string",
		"description": "What this style builds on: a shipped style (" + strings.Join(Shipped(), ", ") +
			") or the path of another policy file.",
		"examples": Shipped(),
	}
	for _, k := range allKeys() {
		steps := strings.Split(k.Path, ".")
		at := root
		for _, s := range steps[:len(steps)-1] {
			next, there := props(at)[s].(map[string]any)
			if !there {
				next = object("")
				props(at)[s] = next
			}
			at = next
		}
		if last := steps[len(steps)-1]; last == "*" {
			at["additionalProperties"] = k.schema()
			if form := nameForms[k.named]; form != "" {
				at["propertyNames"] = map[string]any{"pattern": form}
			}
		} else {
			props(at)[last] = k.schema()
		}
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(root); err != nil {
		panic(err) // plain values
	}
	return b.Bytes()
}

// nameForms say as patterns what a name that the user gives may be; the reader
// says it more exactly.
var nameForms = map[naming]string{
	tempoWord: `^[^A-Z ,.;:()\[\]!-]+( [^A-Z ,.;:()\[\]!-]+)*$`,
	year:      `^(1[5-9][0-9]{2}|20[0-9]{2}|2100)$`,
}

func object(description string) map[string]any {
	o := map[string]any{"type": "object", "additionalProperties": false, "properties": map[string]any{}}
	if description != "" {
		o["description"] = description
	}
	return o
}

func props(o map[string]any) map[string]any { return o["properties"].(map[string]any) }

// schema describes a value. It never accepts what the reader refuses, but for
// a range that runs backwards.
func (k Key) schema() map[string]any {
	s := map[string]any{"description": k.Doc}
	switch k.kind {
	case word:
		s["enum"] = k.Values
	case yesNo:
		s["type"] = "boolean"
	case number:
		s["type"], s["minimum"], s["maximum"] = "integer", k.Low, k.High
		if k.orZero {
			s["anyOf"] = []any{map[string]any{"const": 0}, map[string]any{"minimum": k.Low}}
			s["minimum"] = 0
		}
	case span:
		s["type"], s["minItems"], s["maxItems"] = "array", 2, 2
		s["items"] = map[string]any{"type": "integer", "minimum": k.Low, "maximum": k.High}
	case size:
		s["anyOf"] = []any{
			map[string]any{"type": "string", "pattern": sizeForm.String()},
			map[string]any{"type": "number", "minimum": 1, "exclusiveMaximum": 100},
		}
	case colour:
		s["type"], s["pattern"] = "string", colourForm.String()
	default:
		s["type"] = "string"
	}
	return s
}
