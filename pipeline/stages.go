package pipeline

import "slices"

// Stage is one step in the making of an edition: a pure function of the fields it needs.
type Stage struct {
	Name  string
	Needs []string // fields of PieceRun
	Gives []string
	Run   func(*PieceRun) error
}

// Stages lists the stages of a piece in their order, by the names of their
// folders below 4_stages. A test runs each with everything it does not declare
// taken away.
var Stages = []Stage{
	{
		Name: "open", Run: openScore,
		Needs: []string{"Piece", "Data"},
		Gives: []string{"Document", "Base", "Embedded", "Changed"},
	},
	{
		Name: "read", Run: readScore,
		Needs: []string{"Document", "Base", "Changed"},
		Gives: []string{"Score", "Layout", "Held"},
	},
	{
		Name: "witnesses", Run: readWitnesses,
		Needs: []string{"Piece", "WitnessData", "DraftData"},
		Gives: []string{"Witnesses", "DraftScore", "DraftHeld"},
	},
	{
		Name: "attribute", Run: attributeDigits,
		Needs: []string{"Piece", "Score", "Policy", "Witnesses", "Embedded", "Held", "DraftScore", "DraftHeld"},
		Gives: []string{"Whose", "Sources", "Draft"},
	},
	{
		Name: "decide", Run: placeDecisions,
		Needs: []string{"Score", "Embedded", "Held", "Decisions", "Today"},
		Gives: []string{"Decided"},
	},
	{
		Name: "hands", Run: findHands,
		Needs: []string{"Piece", "Score", "Policy", "Decided", "Whose", "Embedded", "Held"},
		Gives: []string{"Playing", "Profile"},
	},
	{
		Name: "tempo", Run: findTempo,
		Needs: []string{"Piece", "Score", "Policy"},
		Gives: []string{"Tempo"},
	},
	{
		Name: "returns", Run: findReturns,
		Needs: []string{"Piece", "Score", "Playing"},
		Gives: []string{"Returns", "Same", "Apart"},
	},
	{
		Name: "leading", Run: findLeading,
		Needs: []string{"Piece", "Score", "Playing"},
		Gives: []string{"Leading"},
	},
	{
		Name: "bind", Run: bindDigits,
		Needs: []string{"Score", "Embedded", "Held", "Playing", "Decided", "Same", "Apart"},
		Gives: []string{"Bound"},
	},
	{
		Name: "suggest", Run: suggestFingers,
		Needs: []string{
			"Piece", "Score", "Whose", "Sources", "Playing", "Tempo", "Leading", "Returns", "Apart", "Policy",
			"Profile", "Weights", "Decided", "Bound", "Draft",
		},
		Gives: []string{"Suggestion"},
	},
	{
		Name: "beside", Run: setBeside,
		Needs: []string{
			"Piece", "Score", "Whose", "Sources", "Playing", "Tempo", "Leading", "Returns", "Apart", "Policy",
			"Profile", "Weights", "Decided", "Bound", "Suggestion", "Draft",
		},
		Gives: []string{"Beside"},
	},
	{
		Name: "credit", Run: creditDigits,
		Needs: []string{"Score", "Whose", "Sources", "Returns", "Apart", "Bound", "Suggestion"},
		Gives: []string{"Credited"},
	},
	{
		Name: "redistribute", Run: redistributeNotes,
		Needs: []string{
			"Piece", "Score", "Whose", "Sources", "Playing", "Tempo", "Leading", "Returns", "Apart", "Policy",
			"Profile", "Weights", "Decided", "Bound", "Suggestion", "Witnesses", "Draft",
		},
		Gives: []string{"Redistributions", "InTrouble", "Rolls"},
	},
	{
		Name: "thin", Run: thinOut,
		Needs: []string{
			"Score", "Decided", "Beside", "Whose", "Playing", "Returns", "Suggestion", "Policy", "Bound",
			"Press", "Credited", "Profile", "Draft",
		},
		Gives: []string{"Print", "PrintWhy", "Open", "Alternatives"},
	},
	{
		Name: "mark", Run: markUp,
		Needs: []string{
			"Score", "Layout", "Document", "Base", "Bound", "Decided", "Press", "Whose", "Playing",
			"Suggestion", "Print", "Policy", "Edition", "Redistributions", "Credited", "Alternatives",
			"Piece", "Embedded", "Held", "Sources", "Rolls",
		},
		Gives: []string{"Edits", "EditionData", "Record", "Occurs"},
	},
	{
		Name: "inspect", Run: inspectPiece,
		Needs: []string{
			"Piece", "Data", "Document", "Embedded", "WitnessData", "Weights", "Decisions", "Today", "Press", "Score",
			"Witnesses", "Redistributions", "Whose", "Sources", "Playing", "Tempo", "Leading", "Returns", "Apart",
			"Bound", "Suggestion", "Print", "Open", "Policy", "Profile", "Draft", "Decided", "Unedited",
		},
		Gives: []string{"Findings", "Page", "Unbound"},
	},
	{
		Name: "stet", Run: letStand,
		Needs: []string{"Score", "Playing", "Policy", "Decided", "Findings", "Page"},
		Gives: []string{"Remaining", "LetStand"},
	},
	{
		Name: "results", Run: buildResult,
		Needs: []string{
			"Piece", "Beside", "Witnesses", "Data", "Score", "Policy", "Weights", "Edition", "Decisions",
			"Setting", "Decided", "Bound", "Press", "Open", "Whose", "Sources", "Playing", "Tempo", "Returns",
			"Same", "Apart", "Suggestion", "Print", "Remaining", "LetStand", "Redistributions", "Profile", "Credited",
			"Embedded", "Held", "Rolls", "Draft",
		},
		Gives: []string{"Result"},
	},
}

// stageOrder gives the place of a stage in the list, by its name.
var stageOrder = map[string]int{}

// stageGives gives the fields that a stage sets, by its name.
var stageGives = map[string][]string{}

func init() {
	for i := range Stages {
		stageOrder[Stages[i].Name], stageGives[Stages[i].Name] = i, Stages[i].Gives
		if slices.Contains(keptStages, Stages[i].Name) {
			s := Stages[i]
			Stages[i].Run = func(run *PieceRun) error { return run.runKept(s.Name, s.Run) }
		}
	}
}

// EngineVersion rises when equal inputs may give another fingering.
const EngineVersion = "0.30"
