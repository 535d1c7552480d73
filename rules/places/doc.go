// Package places says where editors print digits: how much a note wants one, and why.
//
// What is known of a note (features.go) is the fingering around it and the music: interval and change of finger to the
// notes before and after, where the hand lies and moves, chord, beat, rest, slur, and when the like stood before. A sum
// of small trees (model.go, model.json), fitted to the digits of printed editions by `workbench places --fit`, makes of
// it the log-odds of a digit. All of it is whole numbers. Which of the things known spoke most for a digit is said in an
// editor's words (reasons.go).
package places
