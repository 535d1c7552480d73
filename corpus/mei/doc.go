// Package mei is the door for MEI (4 and 5, common music notation): it reads a
// document into music as values, and turns marks into edits of the document's
// text, so that all that is not edited stays as it was, byte for byte.
//
// What MEI says is read layer by layer, its events placed in time, and each
// measure then given in the words of score-partwise, as a tree and never as
// text, to the reader of corpus/musicxml: so a tie, a metre or an ornament
// cannot mean one thing in one format and another in the other. Notes stand in
// the order part, measure, staff, layer.
//
// Meanings of elements follow the MEI Guidelines and schema, version 5.1
// (Music Encoding Initiative); where real files differ, the reading that loses
// least is taken and an oddity noted.
package mei
