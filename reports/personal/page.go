package personal

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/weighing"
	"fingerproof/reports/engrave"
	"fingerproof/reports/internal/caution"
)

//go:embed personal.html personal.css personal.js
var files embed.FS

// view is what the page is made of.
type view struct {
	Title, Policy string
	Pieces        []*Piece
	Passages      int
	Editors       []editor
	Cost          string // what a passage has to cost more to count as personal
	Shown         []shown
	Data          template.JS
	Script        template.HTML
	Security      string
}

// NoneTold says why no editor is named.
func (v *view) NoneTold() string {
	for _, p := range v.Pieces {
		if p.Editors {
			return "Nowhere does a digit of an editor's differ from the other fingering."
		}
	}
	return "No digit here is an editor's – decided, drafted or, by the manifest's text_digits, typed –, so nothing is weighed."
}

// editor is what one editor tends to, over all pieces of the page.
type editor struct {
	weighing.Habits
	Tendencies []tendency
}

// tendency is a leaning with the numbers of its passages on the page.
type tendency struct {
	Says    string
	Numbers []int
}

// shown is a passage of the page with its piece.
type shown struct {
	*Passage
	Piece *Piece
}

// Page writes the page of a collection, or of one piece. collection names the browser's store of decisions.
func Page(title, policy, collection string, pieces []*Piece) ([]byte, error) {
	v := view{Title: title, Policy: policy, Pieces: pieces}
	for _, p := range pieces {
		v.Passages += len(p.Passages)
		switch cost := effortWords(p.Cost); {
		case v.Cost == "":
			v.Cost = cost
		case v.Cost != cost:
			v.Cost = "as much as the policy of the piece says"
		}
		for k := range p.Passages {
			v.Shown = append(v.Shown, shown{&p.Passages[k], p})
		}
	}
	sortShown(v.Shown)
	type passage struct {
		Piece   string            `json:"piece"`
		Mark    string            `json:"mark"`
		Entries map[string]string `json:"entries"`
		Reason  string            `json:"reason,omitempty"`
		Decided bool              `json:"decided,omitempty"`
	}
	data := struct {
		Key      string                              `json:"key"`
		When     string                              `json:"when"`
		Why      string                              `json:"why"`
		Head     string                              `json:"head"`
		Files    map[string]map[string]decision.File `json:"files"`
		Passages []passage                           `json:"passages"`
	}{
		Key: "fingerproof/" + collection + "/personal", When: whenMark, Why: whyMark,
		Head: decision.Head("@piece@", "@by@"), Files: map[string]map[string]decision.File{},
	}
	for _, p := range pieces {
		data.Files[p.ID] = p.Decided
	}
	for i := range v.Shown {
		q := v.Shown[i]
		q.Number = i + 1
		data.Passages = append(data.Passages, passage{q.Piece.ID, q.Piece.ID + " " + q.Mark, q.Entries, q.Reason, q.Decided})
	}
	v.Editors = editorsOf(pieces, v.Shown)
	encoded, err := json.Marshal(data)
	if err != nil {
		return nil, fmt.Errorf("writing the page of personal choices: %w", err)
	}
	v.Data = template.JS(encoded)
	script := mustRead("personal.js")
	sum := sha256.Sum256([]byte(script))
	v.Script = template.HTML("<script>" + script + "</script>")
	v.Security = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; script-src 'sha256-" +
		base64.StdEncoding.EncodeToString(sum[:]) + "'"
	var b bytes.Buffer
	if err := templates.ExecuteTemplate(&b, "personal.html", &v); err != nil {
		return nil, fmt.Errorf("writing the page of personal choices: %w", err)
	}
	return b.Bytes(), nil
}

// editorsOf gathers what each editor tends to.
func editorsOf(pieces []*Piece, all []shown) (out []editor) {
	numbers := map[string]int{}
	for i := range all {
		numbers[all[i].Piece.ID+" "+all[i].Mark] = all[i].Number
	}
	for _, p := range pieces {
		for _, h := range p.Habits {
			k := slices.IndexFunc(out, func(e editor) bool { return e.Who == h.Who })
			if k < 0 {
				k = len(out)
				out = append(out, editor{Habits: weighing.Habits{Who: h.Who}})
			}
			out[k].Add(h)
		}
	}
	for k := range out {
		for _, t := range out[k].Habits.Tendencies() {
			of := tendency{Says: t.Says}
			for _, mark := range t.Where {
				if n := numbers[mark]; n > 0 {
					of.Numbers = append(of.Numbers, n)
				}
			}
			slices.Sort(of.Numbers)
			out[k].Tendencies = append(out[k].Tendencies, of)
		}
	}
	return out
}

func sortShown(all []shown) {
	// stable: pieces keep their order among equals
	for i := 1; i < len(all); i++ {
		for k := i; k > 0 && rank(all[k].Passage) > rank(all[k-1].Passage); k-- {
			all[k], all[k-1] = all[k-1], all[k]
		}
	}
}

var templates = template.Must(template.New("").Funcs(template.FuncMap{
	"css":     func() template.CSS { return template.CSS(mustRead("personal.css") + engrave.CSS) },
	"caution": func() string { return caution.Text }, "shortcaution": func() string { return caution.Short },
	"svg": func(s string) template.HTML { return template.HTML(s) }, // drawn by the engraver
	"by":  initials, "effort": effortWords, "count": wording.Count, "who": whoWords,
	"join": strings.Join,
}).ParseFS(files, "personal.html"))

// effortWords writes an effort above the other's, in the unit that explain counts in.
func effortWords(milli int) string {
	if milli > -50 && milli < 50 {
		return "0"
	}
	return strings.Replace(fmt.Sprintf("%+.1f", float64(milli)/1000), "-", "−", 1)
}

// whoWords names an editor by initials.
func whoWords(initials string) string {
	if initials == "" {
		return "the editor (no initials)"
	}
	return initials
}

func mustRead(name string) string {
	b, err := files.ReadFile(name)
	if err != nil {
		panic(err) // embedded
	}
	return string(b)
}
