// Command compose writes the scores of the demo collection.
//
// Every piece is invented: the composer, the publisher and the witnesses have never existed, and no note is taken
// from anybody's work. The pieces are written down in ../pieces in a compact notation of our own, and this command
// turns each into MusicXML 4.0, the edition's text into ../scores and each witness into ../witnesses. The same source
// always gives the same bytes.
//
//	go run ./corpus/demo/compose -in corpus/demo
//
// # The notation
//
// A piece opens with a header (title, work, number, key, time, tempo, clefs, witness), a line of three dashes, and
// then the measures. A measure opens with a line "m", its number (0 for a pickup) and what belongs to the measure as
// a whole:
//
//	repeat, again        repeat signs at its beginning, at its end
//	volta N, endvolta    an ending that begins here, that closes here
//	double, final        barline at its end
//	pickup               incomplete on purpose; also "short" for the measure that makes up for it
//	key NAME, time N/M   changes at its beginning
//	tempo "WORDS" q=N    tempo; either half may be missing
//
// Then one line a voice: R, R2, R3 for the upper staff (MusicXML voices 1, 2, 3), L, L2, L3 for the lower one (5, 6,
// 7). A hand without a line rests. "P" lists pedal signs by quarter from the beginning of the measure: 0 puts the
// pedal down, 2 puts it down anew, *3.5 lifts it. "*5" at the end of a voice's content repeats that voice of measure
// 5 without its digits, words and dynamics. "R@E" replaces the line in witness E only.
//
// Inside a voice, separated by blanks:
//
//	c5 f#4 bb3 en4       a pitch; without a sign the key signature holds, signs never last; without an octave it is the nearest
//	                     to the one before (the first of a measure always names its octave)
//	[c4 e g]             a chord from below; without an octave each is the next above
//	r s                  a rest, an empty place
//	R                    a rest of the whole measure
//	/4 /8. /16           value; holds until the next
//	&c5 &&c5             grace note with a stroke, without one
//	-3 -4=3 -2|3 -1,3    a digit, a substitution, an alternative, a row of digits (old numbering is put on by the witness)
//	~ ( ) (( ))          tie, slur, a second slur
//	' _ ^ !              staccato, tenuto, accent, staccatissimo
//	:name                trill, trill#, trillb, trilln, turn, mordent, upper, fermata, arp, marcato, breath, up, down (stems)
//	3:2{ … }             tuplet
//	< … >                one beam over these, instead of beams by the beat
//	@R @L                the following notes stand on this staff
//	\p \< \> \! \8va \loco \clef:bass   dynamics, wedges, octave shift, clef; with ^ before it a sign stands above
//	^"words" _"words"    words above, below
package main
