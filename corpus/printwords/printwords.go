// Package printwords holds the sentences that an edition prints, in its language: legend, preface, commentary.
package printwords

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
)

// Languages are those in which an edition can be printed, as the policy names them.
var Languages = []string{"en", "de", "fr", "it"}

// Words says sentences in one language.
type Words struct {
	Language string
	printer  *message.Printer
}

// In gives the words of one of Languages; of another they are English.
func In(lang string) *Words {
	if !slices.Contains(Languages, lang) {
		lang = Languages[0]
	}
	return &Words{lang, message.NewPrinter(language.MustParse(lang), message.Catalog(sentencesCatalog()))}
}

// Say gives a sentence by its key, with what it speaks of. A key that does not
// exist is a mistake of the program.
func (w *Words) Say(key string, args ...any) string {
	if _, ok := sentences[key]; !ok {
		panic("printwords: there is no sentence " + key)
	}
	if len(args) == 0 && !strings.Contains(sentences[key][0], "%") {
		return sentences[key][slices.Index(Languages, w.Language)]
	}
	return w.printer.Sprintf(message.Key(key, key), args...)
}

// Has reports whether there is a sentence of a key.
func Has(key string) bool { _, ok := sentences[key]; return ok }

// List joins words as a sentence does: "a, b and c".
func (w *Words) List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + w.Say("and") + words[last]
}

// Keys lists the sentences in order.
func Keys() []string { return slices.Sorted(maps.Keys(sentences)) }

// Forms gives the forms of a sentence in a language: one, or by number.
func Forms(key, lang string) []string {
	return strings.Split(sentences[key][slices.Index(Languages, lang)], numberForms)
}

// numberForms stands between the forms of a sentence for one and for several of
// its first argument; a third is for none.
const numberForms = " ¦ "

var sentencesCatalog = sync.OnceValue(func() catalog.Catalog {
	b := catalog.NewBuilder(catalog.Fallback(language.English))
	for _, key := range Keys() {
		for _, lang := range Languages {
			var err error
			forms, tag := Forms(key, lang), language.MustParse(lang)
			switch len(forms) {
			case 1:
				err = b.SetString(tag, key, forms[0])
			case 2:
				err = b.Set(tag, key, plural.Selectf(1, "%d", plural.One, forms[0], plural.Other, forms[1]))
			default:
				err = b.Set(tag, key, plural.Selectf(1, "%d", "=0", forms[2], plural.One, forms[0], plural.Other, forms[1]))
			}
			if err != nil {
				panic(fmt.Sprintf("printwords: %s in %s: %v", key, lang, err))
			}
		}
	}
	return b
})
