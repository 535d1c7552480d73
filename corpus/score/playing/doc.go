// Package playing says in what order the notes of a score are played: it is the only owner of that
// order (DEVELOPERS.md, decision 8).
//
// The notes of a piece are played in lines, one for each hand of each player. A line is a row of strokes; a stroke is
// the keys that one hand strikes at one instant. Playing is that value, built once, as soon as it is known which hand
// plays each note. What has to order notes before that (the reading of ties, the alignment of two scores, the reading
// of hands) compares their instants: InstantOf.
//
// What is assumed:
//
//   - A grace note is struck before whatever else its onset has, in every hand. Players of the nineteenth century and
//     later take it before the beat, those of earlier music often on it (common practice; the sources disagree). Within
//     one hand the order is the same either way; which note of the other hand it sounds with is not.
//   - Several grace notes before one note are played in the order of the document, as MusicXML writes them; those that
//     several voices of a hand write before one onset begin together (common practice).
//   - An after-note belongs to the end of the note before it. MusicXML marks it with steal-time-previous; where that
//     is not given, grace notes before a rest or a barline are after-notes. It has the onset of what follows it and is
//     played before the grace notes of that onset (common practice).
//   - A chord is one stroke, also where it is rolled: a hand that holds it at once takes it as one grip. Where it does
//     not, the notes follow one another in the order of the roll, the last of them on the onset (common practice).
//   - A note that is tied on is no stroke: its key is down already. Where a tie leads from a note of one hand to a
//     note of the other, the key is taken over silently (Line.Taken).
//   - Signs (trills, turns) stand for strokes that the score does not write. They are no part of this order: the stage
//     that suggests fingers gives them an onset of their own between two written ones.
package playing
