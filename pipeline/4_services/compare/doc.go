// Package compare tells what differs between two scores, or two runs, note by
// note: fingering, hands and text kept apart. It computes differences as
// values; reports/difftext, diffjson, diffpage and corrections draw them.
//
// What an exporter changes without changing the page is no difference: ids,
// voice numbers, divisions, measure numbers, how a slur or an articulation is
// hung on a chord, how ties are split, on which staff a voice is written.
package compare
