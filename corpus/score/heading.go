package score

import "regexp"

// partWords begin the headings of parts of a piece (common practice).
var partWords = regexp.MustCompile(`(?i)^\W*(var(iation|iazione|\.|:)?\b|trio\b|menuet|minuet|coda\b|finale\b|tema\b|theme\b|th[eè]me\b|` +
	`(no|nr)\b\.? ?\d|[IVX]+\b\.?$|\d+\.?$)`)

// HeadsPart says that words on the page are the heading of a part of a piece: "Trio", "Var. 3".
func HeadsPart(words string) bool { return partWords.MatchString(words) }
