package page

import (
	"encoding/json"
	"html/template"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"

	"github.com/stretchr/testify/require"
)

// oddText is text with what JSON and HTML write otherwise.
var oddText = []string{
	"", "a", `"quoted" \ back`, "<b>&'+", "line\nbreak\tand\rmore\x00\x1f", "ä – ♯ 𝄪", "\u2028\u2029", "not \xff utf-8", "\x7f",
}

// filled puts something into each field of a value, or nothing, by chance.
func filled(v reflect.Value, rng *rand.Rand, text func() string) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text())
	case reflect.Bool:
		v.SetBool(rng.IntN(2) == 0)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		filled(v.Elem(), rng, text)
	case reflect.Int, reflect.Int8, reflect.Int64:
		v.SetInt(int64(rng.IntN(30) - 10))
	case reflect.Uint8: // a hand
		v.SetUint(uint64(rng.IntN(2)))
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).CanSet() {
				filled(v.Field(i), rng, text)
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			filled(v.Index(i), rng, text)
		}
	case reflect.Slice:
		if n := rng.IntN(4); n > 0 { // else nil
			v.Set(reflect.MakeSlice(v.Type(), n-1, n-1))
			for i := range n - 1 {
				filled(v.Index(i), rng, text)
			}
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		for range rng.IntN(14) {
			key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
			if filled(value, rng, text); key.Kind() == reflect.Int {
				key.SetInt(int64(rng.IntN(130)))
			} else {
				filled(key, rng, text)
			}
			if key.Kind() != reflect.String || key.String() != "not \xff utf-8" { // as a key it is no longer itself
				v.SetMapIndex(key, value)
			}
		}
	default:
		panic(v.Kind().String() + " is not filled")
	}
}

// choiceData is a choice as the script reads it.
type choiceData struct {
	Finger  int      `json:"f"`
	Cost    int      `json:"c"`
	Passage [][2]int `json:"p"`
}

// What is written by hand is what encoding/json writes of the same, whatever it is.
func TestThePagesDataIsWrittenAsJSON(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		var of struct {
			Key      string                `json:"key"`
			Run      string                `json:"run"`
			Piece    string                `json:"piece"`
			Engine   string                `json:"engine"`
			Score    string                `json:"score"`
			Passages map[int]passageData   `json:"passages"`
			Notes    map[int]noteData      `json:"notes"`
			Choices  map[int][]choiceData  `json:"choices"`
			Findings map[string]findingRef `json:"findings"`
			Music    []string              `json:"music"`
			Decided  map[string]string     `json:"decided,omitempty"`
			Heads    map[string]string     `json:"heads,omitempty"`
			Held     map[int]heldData      `json:"held,omitempty"`
			Alike    map[int][]int         `json:"alike,omitempty"`
			At       map[int]int           `json:"at"`
			Says     map[int]string        `json:"says"`
			Groups   map[string][]string   `json:"groups,omitempty"`
			Places   []string              `json:"places"`
			Around   [2]string             `json:"around"`
		}
		filled(reflect.ValueOf(&of).Elem(), rng, func() string { return oddText[rng.IntN(len(oddText))] })
		d := pageData{
			Key: of.Key, Run: of.Run, Piece: of.Piece, Engine: of.Engine, Score: of.Score, Findings: of.Findings, Music: of.Music,
			Decided: of.Decided, Heads: of.Heads, Held: of.Held, Alike: of.Alike, Groups: of.Groups, Places: of.Places, Around: of.Around,
		}
		require.Equal(t, reflect.TypeOf(of).NumField(), reflect.TypeOf(d).NumField(), "a field is not held against JSON")
		byHand(of.Passages, &d.Passages)
		byHand(of.Notes, &d.Notes)
		byHand(of.At, &d.At)
		byHand(of.Says, &d.Says)
		for n, choices := range of.Choices {
			var all []engine.Choice
			if choices != nil {
				all = []engine.Choice{}
			}
			for i := range choices {
				c := &choices[i]
				if c.Passage == nil {
					c.Passage = [][2]int{}
				}
				c.Finger &= 7
				one := engine.Choice{Finger: fingering.Finger(c.Finger), Regret: c.Cost}
				for k := range c.Passage {
					c.Passage[k][1] &= 7
					one.Passage = append(one.Passage, engine.Step{ID: c.Passage[k][0], Finger: fingering.Finger(c.Passage[k][1])})
				}
				all = append(all, one)
			}
			d.Choices.set(n, all)
		}
		want, err := json.Marshal(of)
		require.NoError(t, err)
		require.Equal(t, string(want), string(d.encode()))
	}
}

func byHand[T any](of map[int]T, to *numbered[T]) {
	for n, v := range of {
		to.set(n, v)
	}
}

// No text of a score, a finding or a decision becomes markup, wherever on a card it stands: a card of hostile text is that of
// harmless text with the other text, escaped, in its place.
func TestNoTextOfACardIsMarkup(t *testing.T) {
	const hostile, harmless = `"><script>alert('')</script>&`, "harmless"
	write := func(text string, seed uint64) string {
		rng := rand.New(rand.NewPCG(3, seed))
		var passages []passageView
		filled(reflect.ValueOf(&passages).Elem(), rng, func() string { return text })
		for i := range passages {
			passages[i].Picture = template.HTML(strings.Repeat("<svg></svg>", rng.IntN(2)))
		}
		return string(cards(passages))
	}
	seen := 0
	for seed := range uint64(200) {
		written := write(hostile, seed)
		seen += strings.Count(written, template.HTMLEscapeString(hostile))
		plain := strings.ReplaceAll(written, template.HTMLEscapeString(hostile), harmless)
		require.Equal(t, write(harmless, seed), plain)
	}
	require.Greater(t, seen, 1000)
}
