package strictyaml

import (
	"path/filepath"
	"strings"
	"unicode/utf8"
)

// Nearest gives the word of the list that differs least, "" where none is near.
func Nearest(word string, list []string) string {
	best, least := "", max(2, utf8.RuneCountInString(word)/3)+1
	for _, w := range list {
		if d := distance(word, w); d < least {
			best, least = w, d
		}
	}
	return best
}

// NearestFile gives the file of a folder whose name is nearly the one that is not there, "" where none is: an ending that many share
// makes no likeness, and a name that is in the list, as that of a link to nothing, is not nearly itself.
func NearestFile(name string, list []string) string {
	stem := func(s string) string { return strings.TrimSuffix(s, filepath.Ext(s)) }
	best, least := "", [2]int{max(2, utf8.RuneCountInString(stem(name))/3) + 1, 0}
	for _, w := range list {
		d := [2]int{distance(stem(name), stem(w)), distance(name, w)}
		if w != name && (d[0] < least[0] || d[0] == least[0] && d[1] < least[1]) {
			best, least = w, d
		}
	}
	return best
}

// distance counts the letters to insert, drop or replace (Levenshtein).
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > 100 || len(t) > 100 {
		return 100
	}
	row := make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(s); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			diagonal, row[j] = row[j], min(row[j]+1, row[j-1]+1, diagonal+cost)
		}
	}
	return row[len(t)]
}
