// Package lint is the frame of the rules: a rule is a value with its own
// documentation, an Inspection holds everything a rule may look at, a Finding is
// what it reports. Rules live one folder each below this one.
package lint

// Severity of a finding.
type Severity uint8

// The severities, mildest first.
const (
	Off Severity = iota
	Note
	Warning
	Error
)

var severityNames = [...]string{"off", "note", "warning", "error"}

// String gives the word used in files.
func (s Severity) String() string { return severityNames[s] }

// ParseSeverity reads the word used in files.
func ParseSeverity(word string) (Severity, bool) {
	for i, name := range severityNames {
		if name == word {
			return Severity(i), true
		}
	}
	return Off, false
}

// Rule is one check as a value: its documentation is data, so that help,
// pages and machine formats all read the same text.
type Rule struct {
	Name     string // kebab-case, in the trade's words
	Title    string // one line
	Checks   string // what it checks
	Why      string // why an editor cares
	Before   string // an example that is reported, in words or notes
	After    string // the same put right
	Severity Severity
	// Mildest is the severity of what it is least sure of; Off: all has its own severity.
	Mildest Severity
	Since   string   // version of this program
	Options []string // keys of the policy that change what it reports
	// Text says that the rule looks at the text alone, not at its fingering: a policy may turn all of these off.
	Text bool
	Run  func(*Inspection)
}

// Severities words the severity of a rule, and that of what it is less sure of where it is milder.
func (r *Rule) Severities() string {
	if r.Mildest == Off {
		return r.Severity.String()
	}
	between := " or "
	if r.Severity == Error && r.Mildest == Note { // a warning, too
		between = " to "
	}
	return r.Severity.String() + between + r.Mildest.String()
}

// Run runs rules over an inspection, each at the severity that severities gives for
// its name (its own where the name is missing), and returns the findings
// sorted by place, then by rule.
func Run(p *Inspection, rules []*Rule, severities map[string]Severity) []Finding {
	p.found = nil
	for _, r := range rules {
		s, set := severities[r.Name]
		if !set {
			s = r.Severity
		}
		if s == Off {
			continue
		}
		p.rule, p.severity = r, s
		r.Run(p)
	}
	Sort(p.found)
	return p.found
}
