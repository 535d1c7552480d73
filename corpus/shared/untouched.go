package shared

import _ "embed"

// Untouched is a Python script that has the independent untouched.py of the folder look at pairs of files, given the
// folder's tools and then score and edition, one pair after the other. It prints a line for each pair.
//
//go:embed untouched.py
var Untouched string
