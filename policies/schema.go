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
	props(root)["extends"] = map[string]any{"type": "string", "description": "What this style builds on: a shipped style (" + strings.Join(Shipped(), ", ") + ") or the path of another policy file.", "examples": Shipped()}
	for _, k := range Keys() {
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

func object(description string) map[string]any {
	o := map[string]any{"type": "object", "additionalProperties": false, "properties": map[string]any{}}
	if description != "" {
		o["description"] = description
	}
	return o
}

func props(o map[string]any) map[string]any { return o["properties"].(map[string]any) }

func (k Key) schema() map[string]any {
	s := map[string]any{"description": k.Doc}
	switch k.kind {
	case word:
		s["enum"] = k.Values
	case yesNo:
		s["type"] = "boolean"
	case number:
		s["type"], s["minimum"], s["maximum"] = "integer", k.Low, k.High
	case span:
		s["type"], s["minItems"], s["maxItems"] = "array", 2, 2
		s["items"] = map[string]any{"type": "integer", "minimum": k.Low, "maximum": k.High}
	case size:
		s["type"], s["pattern"] = []string{"string", "number"}, sizeForm.String()
	case colour:
		s["type"], s["pattern"] = "string", colourForm.String()
	default:
		s["type"] = "string"
	}
	return s
}
