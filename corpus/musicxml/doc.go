// Package musicxml is the door for MusicXML (score-partwise, 2.0 to 4.0): it
// reads a document into music as values, and turns marks into edits of the
// document's text. Nothing is ever written but by such edits, so that all that
// is not edited stays as it was, byte for byte.
//
// The document is walked once. Each child of a measure is read into a small
// tree with its places in the text, turned into notes and directions, and
// forgotten; what writing will need is kept in a Layout.
//
// Meanings of elements follow the MusicXML 4.0 specification (W3C Music
// Notation Community Group); where real files differ, the reading that loses
// least is taken and an oddity noted.
package musicxml
