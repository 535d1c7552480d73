package robustness

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"fingerproof/corpus/shared"
)

// hostileMEI lists the ways to spoil a score in MEI.
func hostileMEI() []kindOfCase {
	var out []kindOfCase
	for _, k := range []struct {
		name  string
		spoil func(rng *rand.Rand, text string) string
	}{
		{"MEI: cut", cutMEI}, {"MEI: namespaces and names", renamedMEI}, {"MEI: ids", idsOfMEI}, {"MEI: copies in circles", copiesOfMEI},
		{"MEI: absurd values", absurdMEI}, {"MEI: signs that repeat, and crowds", crowdOfMEI},
	} {
		out = append(out, kindOfCase{k.name, func(rng *rand.Rand, dir string) ([]string, error) {
			data, err := os.ReadFile(shared.InProject("corpus/mei/testdata/study.mei"))
			if err != nil {
				return nil, err
			}
			folder := filepath.Join(dir, "mei")
			if err := os.MkdirAll(folder, 0o777); err != nil {
				return nil, err
			}
			return []string{"run", "mei", "--out", "meiout", "--excerpts", "4", "--fail-on", "never"},
				os.WriteFile(filepath.Join(folder, "study.mei"), []byte(k.spoil(rng, string(data))), 0o644)
		}})
	}
	return out
}

// cutMEI ends a document anywhere, or takes a piece out of it.
func cutMEI(rng *rand.Rand, text string) string {
	at := rng.IntN(len(text))
	if rng.IntN(2) == 0 {
		return text[:at]
	}
	return text[:at] + text[min(at+1+rng.IntN(400), len(text)):]
}

var openTag = regexp.MustCompile(`<[a-zA-Z]+`)

// renamedMEI gives a document another namespace, or elements other names.
func renamedMEI(rng *rand.Rand, text string) string {
	switch rng.IntN(4) {
	case 0:
		return strings.ReplaceAll(text, "http://www.music-encoding.org/ns/mei", pick(rng, "", "http://www.w3.org/1999/xhtml", "http://www.tei-c.org/ns/1.0"))
	case 1:
		return strings.ReplaceAll(strings.ReplaceAll(text, "</", "</m:"), "<m:", "<")
	case 2:
		return strings.ReplaceAll(text, "xml:id", pick(rng, "id", "xml:di", "mei:id"))
	}
	name := openTag.FindString(text[rng.IntN(len(text)):])
	if len(name) < 2 {
		return text
	}
	other := pick(rng, "x", "measure", "score", "note", "app", "layer", "staff", "fing")
	return strings.ReplaceAll(strings.ReplaceAll(text, name, "<"+other), "</"+name[1:], "</"+other)
}

var pointer = regexp.MustCompile(` (startid|endid|plist|resp|source|copyof|sameas|xml:id)="[^"]*"`)

// idsOfMEI lets ids be wrong, twice there, or lead nowhere.
func idsOfMEI(rng *rand.Rand, text string) string {
	for range 1 + rng.IntN(20) {
		all := pointer.FindAllStringSubmatchIndex(text, -1)
		k := all[rng.IntN(len(all))]
		to := all[rng.IntN(len(all))]
		value := pick(rng, "", "#", "#none", "##", "# #", "none", "#"+strings.Repeat("a", 5000), text[to[2]:to[3]], "#fingerproof-f1", "fingerproof-editor-AB")
		text = text[:k[0]] + " " + text[k[2]:k[3]] + `="` + value + `"` + text[k[1]:]
	}
	return text
}

// copiesOfMEI lets elements be copies of each other, of themselves, or of what holds them.
func copiesOfMEI(rng *rand.Rand, text string) string {
	ids := regexp.MustCompile(`xml:id="([^"]*)"`).FindAllStringSubmatch(text, -1)
	for range 1 + rng.IntN(12) {
		name := pick(rng, "<note", "<measure", "<staff", "<layer", "<beam", "<chord", "<section", "<mdiv", "<score")
		id := ids[rng.IntN(len(ids))][1]
		text = insertBefore(rng, text, name, fmt.Sprintf(`%s %s="#%s"/>`, name, pick(rng, "copyof", "sameas", "corresp"), id))
		if rng.IntN(2) == 0 {
			text = strings.Replace(text, name+" ", fmt.Sprintf(`%s xml:id="%s" copyof="#%[2]s" `, name, "own"), 1)
		}
	}
	return text
}

var timely = regexp.MustCompile(` (dur|oct|dots|num|numbase|tstamp|tstamp2|n|accid|pname|grace|meter\.count|meter\.unit|keysig|staff|layer|dis|beams|ppq|dur\.ppq)="[^"]*"`)

// absurdMEI puts values that make no sense in place of one to many.
func absurdMEI(rng *rand.Rand, text string) string {
	for range 1 + rng.IntN(1+rng.IntN(40)) {
		all := timely.FindAllStringSubmatchIndex(text, -1)
		if len(all) == 0 {
			break
		}
		k := all[rng.IntN(len(all))]
		text = text[:k[0]] + " " + text[k[2]:k[3]] + `="` + pick(rng, append([]string{"1m+2", "99999m+1", "maxima", "4.", "mixed", "100s"}, absurdValues...)...) + `"` + text[k[1]:]
	}
	return text
}

// crowdOfMEI repeats what multiplies: signs that repeat music, groups in groups, signs at one note.
func crowdOfMEI(rng *rand.Rand, text string) string {
	n := 1 << (8 + rng.IntN(9))
	many := strings.Repeat
	switch rng.IntN(6) {
	case 0:
		return strings.Replace(text, "</layer>", many(pick(rng, "<beatRpt/>", "<halfmRpt/>", "<mRpt/>", `<multiRpt num="99999"/>`), n)+"</layer>", 1)
	case 1:
		measure := `<measure><staff n="1"><layer n="1"><mRpt/></layer></staff><staff n="2"><layer n="1"><mRpt2/></layer></staff></measure>`
		return strings.Replace(text, "</section>", many(measure, n)+"</section>", 1)
	case 2:
		n = min(n, 1<<12)
		return strings.Replace(text, "</layer>", many("<tuplet>", n)+`<note dur="4" pname="c" oct="4"/>`+many("</tuplet>", n)+"</layer>", 1)
	case 3:
		return strings.Replace(text, "</measure>", many(`<fing tstamp="1" staff="1">1</fing>`, n)+"</measure>", 1)
	case 4:
		return strings.Replace(text, "</measure>", many(`<slur tstamp="1" tstamp2="2m+1" staff="1"/>`, n)+"</measure>", 1)
	}
	return strings.Replace(text, "<measure", many(`<app><rdg source="#a"/>`, n)+many("</app>", n)+"<measure", 1)
}
