package sarif

// The parts of the format that are written, named as the standard names them
// (SARIF 2.1.0, section 3).

type log struct {
	Schema  string `json:"$schema"`
	Version string `json:"version"`
	Runs    []run  `json:"runs"`
}

type run struct {
	Tool        tool                `json:"tool"`
	Invocations []invocation        `json:"invocations"`
	Automation  automation          `json:"automationDetails"`
	ColumnKind  string              `json:"columnKind"`
	Bases       map[string]location `json:"originalUriBaseIds"`
	Results     []result            `json:"results"`
}

type tool struct {
	Driver driver `json:"driver"`
}

type driver struct {
	Name    string `json:"name"`
	Version string `json:"version,omitempty"`
	Rules   []rule `json:"rules"`
}

type rule struct {
	ID            string         `json:"id"`
	Short         text           `json:"shortDescription"`
	Full          text           `json:"fullDescription"`
	Help          help           `json:"help"`
	Configuration configuration  `json:"defaultConfiguration"`
	Properties    ruleProperties `json:"properties"`
}

type help struct {
	Text     string `json:"text"`
	Markdown string `json:"markdown,omitempty"`
}

type configuration struct {
	Level string `json:"level"`
}

type ruleProperties struct {
	Since string   `json:"since"`
	Tags  []string `json:"tags"`
}

type automation struct {
	ID string `json:"id"`
}

type invocation struct {
	Successful    bool           `json:"executionSuccessful"`
	Notifications []notification `json:"toolExecutionNotifications,omitempty"`
	Overrides     []override     `json:"ruleConfigurationOverrides,omitempty"`
}

// override says that a rule was not looked for.
type override struct {
	Configuration struct {
		Enabled bool `json:"enabled"`
	} `json:"configuration"`
	Descriptor struct {
		ID    string `json:"id"`
		Index int    `json:"index"`
	} `json:"descriptor"`
}

type notification struct {
	Level     string  `json:"level"`
	Message   text    `json:"message"`
	Locations []place `json:"locations,omitempty"`
}

type result struct {
	RuleID       string            `json:"ruleId"`
	RuleIndex    *int              `json:"ruleIndex,omitempty"`
	Level        string            `json:"level"`
	Message      text              `json:"message"`
	Locations    []place           `json:"locations"`
	Fingerprints map[string]string `json:"partialFingerprints"`
	Suppressions []suppression     `json:"suppressions,omitempty"`
	Baseline     string            `json:"baselineState,omitempty"`
	Properties   *properties       `json:"properties,omitempty"`
}

type properties struct {
	Piece   string `json:"piece"`
	Measure string `json:"measure,omitempty"`
	Onset   string `json:"onset,omitempty"`
	Fix     string `json:"fix,omitempty"`
	Fixable bool   `json:"fixable,omitempty"`
	Earlier bool   `json:"asEarlierRunLeftIt,omitempty"` // this run did not look
}

type suppression struct {
	Kind          string `json:"kind"`
	Status        string `json:"status"`
	Justification string `json:"justification"`
}

type place struct {
	Physical physical  `json:"physicalLocation"`
	Logical  []logical `json:"logicalLocations,omitempty"`
}

type physical struct {
	Artifact location `json:"artifactLocation"`
	Region   *region  `json:"region,omitempty"`
}

type location struct {
	URI         string `json:"uri,omitempty"`
	Base        string `json:"uriBaseId,omitempty"`
	Description *text  `json:"description,omitempty"`
}

// region counts lines and columns from one; columns count characters.
type region struct {
	Line   int `json:"startLine"`
	Column int `json:"startColumn,omitempty"`
}

type logical struct {
	Name string `json:"name"`
	Full string `json:"fullyQualifiedName"`
}

type text struct {
	Text string `json:"text"`
}
