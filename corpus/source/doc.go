// Package source holds files as bytes and text: what a score file is before
// it is music. It opens plain and compressed score files in their encodings,
// says where in the file a thing stands, applies edits that can be taken back
// exactly, and writes the edited text in the very encoding and container it
// came in. It knows nothing of music.
package source
