package robustness

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/habits"
	"fingerproof/rules/effort"
)

// hostileSettings lists the files beside the scores that are spoilt, and what reads each.
func hostileSettings() []kindOfCase {
	var out []kindOfCase
	for _, k := range []struct {
		name, file string
		args       []string
	}{
		{"policy", "policy.yaml", []string{"lint", "."}},
		{"manifest", "collection.yaml", []string{"lint", "."}},
		{"decisions", "decisions/op12-2-waltz.WK.yaml", []string{"lint", "."}},
		{"passed state", "passed/op12-2-waltz.json", []string{"check", "."}},
		{"results", "out/results/op12-2-waltz.json", []string{"pass", ".", "--by", "AB", "--anyway", "again"}},
		{"results, head alone", "out/results/op12-2-waltz.json", []string{"lint", ".", "--results", "out/results"}},
		{"baseline", "out/findings.sarif", []string{"lint", ".", "--baseline", "out/findings.sarif"}},
		{"fitted weights", "house-hand.json", []string{"lint", "."}},
		{"record of edits", "out/edits/op12-2-waltz.musicxml.json", []string{
			"take-back", "out/edition/op12-2-waltz.musicxml", "out/edits/op12-2-waltz.musicxml.json"}},
		{"edition", "out/edition/op12-2-waltz.musicxml", []string{"lint", "out/edition/op12-2-waltz.musicxml"}},
		{"lines keyed in", "lines.txt", []string{"decisions", "enter", "op12-2-waltz", "lines.txt", "--by", "AB"}},
	} {
		out = append(out, kindOfCase{k.name, func(rng *rand.Rand, dir string) ([]string, error) {
			path := filepath.Join(dir, filepath.FromSlash(k.file))
			data, err := os.ReadFile(path)
			if os.IsNotExist(err) {
				data, err = []byte("2 r 1 ok\n3 l 2 5-4\n#1 ok\n4 r 1+2 3\n"), nil
			}
			if err != nil {
				return nil, err
			}
			return k.args, os.WriteFile(path, spoiltSetting(rng, string(data)), 0o644)
		}})
	}
	return out
}

// spoiltSetting spoils a text of keys and values, YAML or JSON.
func spoiltSetting(rng *rand.Rand, text string) []byte {
	lines := strings.SplitAfter(text, "\n")
	k := rng.IntN(len(lines))
	switch rng.IntN(9) {
	case 0:
		return brokenBytes(rng, []byte(text+" "))
	case 1: // a line away, or twice
		lines[k] = strings.Repeat(lines[k], rng.IntN(3))
	case 2: // an absurd value
		if key, _, ok := strings.Cut(lines[k], ":"); ok {
			lines[k] = key + ": " + pick(rng, absurdValues...) + "\n"
		}
	case 3: // deep
		n := 1 << (4 + rng.IntN(12))
		lines[k] = "x: " + strings.Repeat(pick(rng, "[", "{a: ", "- "), n) + "\n"
	case 4: // references to references
		b := "a0: &a0 [x, x, x, x, x, x, x, x, x]\n"
		for i := range 9 {
			b += fmt.Sprintf("a%d: &a%d [%s*a%d]\n", i+1, i+1, strings.Repeat(fmt.Sprintf("*a%d, ", i), 8), i)
		}
		return []byte(b + text)
	case 5: // long
		lines[k] = strings.TrimSuffix(lines[k], "\n") + strings.Repeat("9", 1<<(8+rng.IntN(14))) + "\n"
	case 6: // many
		lines[k] = strings.Repeat(lines[k], 1<<(4+rng.IntN(10)))
	case 7: // digits turned
		out := []byte(text)
		for range 1 + rng.IntN(20) {
			at := rng.IntN(len(out) + 1)
			for at < len(out) && (out[at] < '0' || out[at] > '9') {
				at++
			}
			if at < len(out) {
				out[at] = byte('0' + rng.IntN(10))
			}
		}
		return out
	case 8: // another kind of value
		if key, _, ok := strings.Cut(lines[k], ":"); ok {
			lines[k] = key + ": " + pick(rng, "[]", "{}", "null", "~", "!!binary aGk=", "true", "2026-13-45", "&x y", "*x", `"\u0000"`, "|\n  x") + "\n"
		}
	}
	return []byte(strings.Join(lines, ""))
}

// fittedNothing is a file of fitted weights that changes nothing.
func fittedNothing() []byte {
	f := habits.File{Base: pipeline.ShippedWeights().Sum, When: "2026-03-01", Changes: &effort.Weights{Name: "none", Provenance: "a trial"}}
	data, err := f.Encode()
	if err != nil {
		panic(err) // plain values
	}
	return data
}
