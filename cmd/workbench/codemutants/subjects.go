package codemutants

import "strings"

// Subject is a package whose source is changed, and the tests that have to notice.
type Subject struct {
	Package string // below the module
	Tests   []Tests
}

// Tests are the tests of a package whose names a regular expression finds; all of them where it is empty.
type Tests struct{ Package, Run string }

// goldenFingers is the test that holds the fingers of the demo collection and of six passages against those written
// down.
var goldenFingers = Tests{"pipeline", "^TestFingersAreThoseOfTheGolden$"}

// Subjects are the packages measured where none is named. Tests of the whole program are left out: what only they
// notice, nobody finds in them.
var Subjects = []Subject{
	{"rules/effort", []Tests{{"rules/effort", ""}, {"rules/engine", ""}, goldenFingers}},
	{"rules/engine", []Tests{{"rules/engine", ""}, goldenFingers}},
	{"rules/lattice", []Tests{{"rules/lattice", ""}, {"rules/engine", ""}}},
	{"pipeline/4_stages/14_redistribute", []Tests{{"pipeline/4_stages/14_redistribute", ""}}},
	{"pipeline/4_stages/15_thin", []Tests{{"pipeline/4_stages/15_thin", ""}}},
	{"pipeline/4_stages/05_decide", []Tests{{"pipeline/4_stages/05_decide", ""}, {"pipeline/3_records/decision", ""}}},
	{"pipeline/3_records/decision", []Tests{{"pipeline/3_records/decision", ""}, {"pipeline/4_stages/05_decide", ""}}},
	{"pipeline/4_services/keying", []Tests{{"pipeline/4_services/keying", ""}}},
	{"corpus/align", []Tests{{"corpus/align", ""}}},
	{"pipeline/4_services/compare", []Tests{{"pipeline/4_services/compare", ""}}},
}

// subjectOf gives the subject of a package: as listed, else with its own tests alone.
func subjectOf(pkg string) Subject {
	pkg = strings.Trim(strings.TrimPrefix(pkg, "./"), "/")
	for _, s := range Subjects {
		if s.Package == pkg {
			return s
		}
	}
	return Subject{pkg, []Tests{{pkg, ""}}}
}

// parseTests reads PACKAGE or PACKAGE:REGEXP.
func parseTests(text string) Tests {
	pkg, run, _ := strings.Cut(text, ":")
	return Tests{strings.Trim(strings.TrimPrefix(pkg, "./"), "/"), run}
}
