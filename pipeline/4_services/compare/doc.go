// Package compare tells what differs between two scores, or two runs, note by
// note: fingering, text and layout kept apart. It computes differences as
// values; reports/difftext, diffjson, diffpage and corrections draw them.
//
// Everything that stands on the page is compared (elements.go says of each
// element of the format what becomes of it), in three classes: fingering, text
// and layout. What one side's file leaves to the engraver is named as not said.
// What runs through is one cause (causes.go).
//
// What an exporter changes without changing the page is no difference: ids,
// voice numbers, divisions, measure numbers that are not printed, names of
// parts, how a slur or an articulation is hung on a chord, whether a line is
// written staff by staff, whether a title stands in the head or on the page.
package compare
