package score

// WritesAccidentals says that a file writes accidentals out, by how many stand at its notes and how many notes need one and have none. A
// file that leaves more of them out than it writes leaves them to the program that draws it, and the few that stand there came by hand.
func WritesAccidentals(standing, missing int) bool { return standing > 0 && standing >= missing }
