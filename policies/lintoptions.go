package policies

// LintReachShare is the share of pianists, in percent, who should be able to
// take every grip; 0 where lint asks nothing of the kind.
func (p *Policy) LintReachShare() int { return p.number("lint_options.reach_share") }

// LintWideSpan is the share of a pair's widest span, in percent, from which
// lint calls a span wide.
func (p *Policy) LintWideSpan() int { return p.number("lint_options.wide_span") }

// LintReturns says which passages that return lint holds against each other:
// none, exact, transposed or all.
func (p *Policy) LintReturns() string { return p.values["lint_options.returns"].Text }

// LintPersonal is what an editor's passage costs more than the best for most hands, in milli-nats, from which on lint
// calls it personal; 0 where it calls none so.
func (p *Policy) LintPersonal() int { return p.number("lint_options.personal") }

// LintText says whether lint looks at the text beside its fingering.
func (p *Policy) LintText() bool { return p.is("lint_options.text") }
