// Package align finds which note of one score is which note of another by the
// music alone: onset, sounding pitch and what stands around them. Ids, voice
// numbers, divisions, printed measure numbers, spelling and the layout on
// staves may all differ between a manuscript copy, an exporter's file and an
// engraver's proof, so none of them is trusted.
//
// The way of an alignment:
//
//	material   each measure becomes its notes in order of time and pitch
//	anchors    measures whose music occurs once in both scores (patience)
//	measures   between anchors, the best sequence of paired, re-barred,
//	           missing and inserted measures
//	notes      within paired measures, note by note: equal, an octave off,
//	           shifted in time, another pitch; two readings of each pair of
//	           measures are weighed and the cheaper one stands
//	strays     what slipped over a barline, ties split or merged, repeats
//	           written out
//
// Everything is integer arithmetic on ticks and every tie is broken by a
// written order, so the result is the same on every machine.
package align
