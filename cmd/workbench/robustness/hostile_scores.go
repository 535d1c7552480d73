package robustness

import (
	"archive/zip"
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// hostileScores lists the ways to spoil a score.
func hostileScores() []kindOfCase {
	var out []kindOfCase
	for _, k := range []struct {
		name  string
		spoil func(rng *rand.Rand, text string) []byte
	}{
		{"score: absurd numbers", absurdNumbers}, {"score: crowds", crowd}, {"score: broken markup", brokenMarkup},
		{"score: broken bytes", func(rng *rand.Rand, text string) []byte { return brokenBytes(rng, []byte(text)) }},
		{"score: bombs", bomb}, {"score: names and texts", names}, {"score: packed", packed},
	} {
		out = append(out, kindOfCase{k.name, func(rng *rand.Rand, dir string) ([]string, error) {
			path := filepath.Join(dir, "scores", "op12-2-waltz.musicxml")
			data, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			return []string{"run", ".", "--excerpts", "4", "--fail-on", "never"},
				os.WriteFile(path, k.spoil(rng, string(data)), 0o644)
		}})
	}
	return out
}

var absurdValues = []string{
	"0", "-1", "", " ", "99999", "999999999", "2147483647", "4294967296", "-2147483648", "9223372036854775807",
	"99999999999999999999", "1e9", "1e308", "0.000001", "3/0", "NaN", "Infinity", "0x7f", "１", "--", "1 2", "A", "128", "-0",
}

var leaf = regexp.MustCompile(`>[^<>\s][^<>]{0,20}</([a-z-]+)>`)

var attributeValue = regexp.MustCompile(`="[^"<>]{0,20}"`)

// absurdNumbers puts values that make no sense in place of one to many.
func absurdNumbers(rng *rand.Rand, text string) []byte {
	pattern, before, behind := leaf, ">", ""
	if rng.IntN(4) == 0 {
		pattern, before, behind = attributeValue, `="`, `"`
	}
	for range 1 + rng.IntN(1+rng.IntN(40)) {
		at := pattern.FindAllStringIndex(text, -1)
		if len(at) == 0 {
			break
		}
		k := at[rng.IntN(len(at))]
		tail := behind
		if pattern == leaf {
			tail = text[k[0]+strings.Index(text[k[0]:k[1]], "</") : k[1]]
		}
		text = text[:k[0]] + before + absurdValues[rng.IntN(len(absurdValues))] + tail + text[k[1]:]
	}
	if rng.IntN(3) == 0 { // where a gap of absurd length may stand
		gap := fmt.Sprintf("<%s><duration>%s</duration></%[1]s>", pick(rng, "forward", "backup"), pick(rng, absurdValues...))
		text = insertBefore(rng, text, "<note", gap)
	}
	return []byte(text)
}

func pick(rng *rand.Rand, of ...string) string { return of[rng.IntN(len(of))] }

// insertBefore puts a text before one of the places where another stands.
func insertBefore(rng *rand.Rand, text, where, what string) string {
	n := strings.Count(text, where)
	if n == 0 {
		return text
	}
	at := -1
	for range 1 + rng.IntN(n) {
		at += 1 + strings.Index(text[at+1:], where)
	}
	return text[:at] + what + text[at:]
}

// crowd writes a score in which there is much of one thing.
func crowd(rng *rand.Rand, _ string) []byte {
	n := 1 << (4 + rng.IntN(9)) // 16 to 4096
	n += rng.IntN(n)
	note := func(i int, head, duration, tail string) string {
		return fmt.Sprintf("<note>%s<pitch><step>%c</step><octave>%d</octave></pitch>%s<voice>1</voice>%s</note>",
			head, "CDEFGAB"[i%7], 1+i/7%7, duration, tail)
	}
	const one = "<duration>1</duration>"
	var b strings.Builder
	many := func(each func(i int) string) string {
		for i := range n {
			b.WriteString(each(i))
		}
		return b.String()
	}
	music := ""
	switch rng.IntN(10) {
	case 0: // one chord
		music = note(0, "", one, "") + many(func(i int) string { return note(i, "<chord/>", one, "") })
	case 1: // voices
		music = many(func(i int) string {
			return strings.Replace(note(i, "", one, ""), "<voice>1", fmt.Sprintf("<voice>%d", i), 1) + "<backup>" + one + "</backup>"
		})
	case 2: // grace notes
		music = many(func(i int) string { return note(i, "<grace/>", "", "") }) + note(0, "", one, "")
	case 3: // held notes, one over the other
		music = many(func(i int) string {
			return note(i, "", "<duration>4000</duration>", "") + "<backup><duration>3999</duration></backup>"
		})
	case 4: // ties
		music = many(func(i int) string {
			return note(0, "", one, "<notations><tied type=\"start\"/><tied type=\"stop\"/></notations>")
		})
	case 5: // fingerings at one note
		music = note(0, "", one, "<notations><technical>"+many(func(i int) string { return fmt.Sprintf("<fingering>%d</fingering>", 1+i%5) })+
			"</technical></notations>")
	case 6: // slurs that never end
		music = many(func(i int) string {
			return note(i, "", one, fmt.Sprintf(`<notations><slur type="start" number="%d"/></notations>`, i))
		})
	case 7: // measures, all alike
		music = many(func(i int) string {
			return note(i%4, "", one, "") + "</measure><measure number=\"" + fmt.Sprint(i) + "\">"
		})
	case 8: // directions
		music = many(func(i int) string {
			return `<direction><direction-type><words>l.h. ` + fmt.Sprint(i%6) + `</words></direction-type></direction>`
		}) + note(0, "", one, "")
	case 9: // one stroke over and over
		music = many(func(i int) string { return note(rng.IntN(3), "", one, "") })
	}
	return []byte(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list>` +
		`<part id="P1"><measure number="1"><attributes><divisions>1</divisions><staves>2</staves></attributes>` + music + `</measure></part></score-partwise>`)
}

var anyTag = regexp.MustCompile(`<[^<>]+>`)

// brokenMarkup moves, doubles and takes away tags and stretches.
func brokenMarkup(rng *rand.Rand, text string) []byte {
	for range 1 + rng.IntN(12) {
		at := anyTag.FindAllStringIndex(text, -1)
		if len(at) < 4 {
			break
		}
		i := rng.IntN(len(at))
		j := min(len(at)-1, i+1+rng.IntN(30))
		switch rng.IntN(5) {
		case 0:
			text = text[:at[i][0]] + text[at[i][1]:]
		case 1:
			text = text[:at[i][0]] + text[at[j][1]:]
		case 2:
			text = text[:at[j][0]] + text[at[i][0]:]
		case 3:
			text = text[:at[i][0]] + text[at[j][0]:at[j][1]] + text[at[i][1]:]
		case 4:
			text = text[:at[i][1]] + pick(rng, "<!--", "<![CDATA[", "<?x", "&amp", "&#0;", "&#x10FFFF;", "]]>", "<a>", "</note>", "\x00") + text[at[i][1]:]
		}
	}
	return []byte(text)
}

// brokenBytes turns, cuts and repeats bytes.
func brokenBytes(rng *rand.Rand, data []byte) []byte {
	data = slices.Clone(data)
	switch rng.IntN(4) {
	case 0:
		return data[:rng.IntN(len(data))]
	case 1:
		return slices.Insert(data, rng.IntN(len(data)), bytes.Repeat([]byte{byte(rng.IntN(256))}, rng.IntN(1<<16))...)
	case 2:
		return append([]byte(pick(rng, "\xff\xfe", "\xfe\xff", "\xef\xbb\xbf", "PK\x03\x04", "\x00\x00\xfe\xff", "%PDF")), data...)
	}
	for range 1 + rng.IntN(50) {
		data[rng.IntN(len(data))] = byte(rng.IntN(256))
	}
	return data
}

// bomb makes what grows when it is read.
func bomb(rng *rand.Rand, text string) []byte {
	n := 1 << (6 + rng.IntN(12))
	switch rng.IntN(6) {
	case 0: // entities that name each other
		return []byte(`<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">` +
			`<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]>` + strings.ReplaceAll(text[strings.Index(text, "<score"):], "<voice>1<", "<voice>&c;<"))
	case 1:
		return []byte(insertBefore(rng, text, "<note", strings.Repeat("<x>", n)+strings.Repeat("</x>", n)))
	case 2:
		return []byte(strings.Replace(text, "<note", "<note "+strings.Repeat(`a="1" `, n), 1))
	case 3:
		return []byte(insertBefore(rng, text, "<note", "<!--"+strings.Repeat("x ", n*8)+"-->"))
	case 4:
		return []byte(strings.Replace(text, "<note", "<"+strings.Repeat("n", n*8), 1))
	}
	return []byte(insertBefore(rng, text, "<note", "<direction>"+strings.Repeat("<x/>", n*4)+"</direction>"))
}

// names puts texts where a person would not: in titles, ids, numbers of measures, words.
func names(rng *rand.Rand, text string) []byte {
	worst := []string{
		`&lt;script&gt;alert(1)&lt;/script&gt;`, `"onmouseover="alert(1)`, "../../../etc/passwd", "a\tb", "{{.}}", "%s%d%n", "‮desrever",
		strings.Repeat("é", 1<<(4+rng.IntN(10))), "&#10;::error file=x::y", "]]&gt;", "-", "--help", "CON", "&#xFFFD;", "\u0301\u0301",
	}
	w := worst[rng.IntN(len(worst))]
	switch rng.IntN(5) {
	case 0:
		text = regexp.MustCompile(`(number|id)="[^"]*"`).ReplaceAllString(text, `$1="`+strings.ReplaceAll(w, `"`, "&quot;")+`"`)
	case 1:
		text = strings.ReplaceAll(text, "P1", strings.ReplaceAll(w, `"`, "&quot;"))
	case 2:
		text = strings.Replace(text, "<part-list", "<work><work-title>"+w+"</work-title></work><identification><creator>"+w+
			"</creator><miscellaneous><miscellaneous-field name=\"fingerproof-edition\">"+w+"</miscellaneous-field></miscellaneous></identification><part-list", 1)
	case 3:
		text = insertBefore(rng, text, "<note", "<direction><direction-type><words>"+w+"</words></direction-type></direction>")
	case 4:
		text = regexp.MustCompile(`<voice>[^<]*`).ReplaceAllString(text, "<voice>"+w)
	}
	return []byte(text)
}

// packed makes a compressed score with something wrong about it; it lies under a name that promises plain text.
func packed(rng *rand.Rand, text string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	put := func(name, text string) {
		if w, err := z.Create(name); err == nil {
			_, _ = w.Write([]byte(text))
		}
	}
	root := pick(rng, "score.xml", "score.xml", "../score.xml", "nowhere.xml", "META-INF/container.xml", "")
	container := `<container><rootfiles><rootfile full-path="` + root + `"/></rootfiles></container>`
	switch rng.IntN(5) {
	case 0:
		put("META-INF/container.xml", container)
		put("score.xml", strings.Repeat(" ", 64<<20))
	case 1:
		for i := range 2000 {
			put(fmt.Sprint(i), "")
		}
		put("META-INF/container.xml", container)
	case 2:
		put("META-INF/container.xml", string(brokenBytes(rng, []byte(container))))
		put("score.xml", text)
	default:
		put("META-INF/container.xml", container)
		put("score.xml", text)
	}
	_ = z.Close()
	if rng.IntN(2) == 0 {
		return brokenBytes(rng, b.Bytes())
	}
	return b.Bytes()
}
