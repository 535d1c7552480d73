package compare

import "strings"

// overlooked is what attributes are that Scores does not compare by themselves: what reports name as not compared (named), or
// what prints nothing ("").
type overlooked struct {
	named string
	// attributes are their names; a last "*" stands for all that begin so, a first one for all that end so. "name@element" is one
	// at one element, "@element" an element that comes or goes as a whole, or has another text.
	attributes string
}

// silentIn lists them for each format. What diff is silent of and does not stand here may be seen on the page: `workbench
// one-change` counts it.
var silentIn = map[string][]overlooked{
	"MusicXML": {
		{"", "id name time-only attack release dynamics end-dynamics pizzicato accelerate beats last-beat second-beat start-note trill-step " +
			"two-note-turn make-time steal-time-previous steal-time-following tempo elevation pan divisions dacapo dalsegno fine forward-repeat " +
			"segno coda tocoda damper-pedal soft-pedal sostenuto-pedal number after-jump non-controlling measure times location xml:lang xml:space xlink:* type@rights type@tie type@tuplet type@non-arpeggiate " +
			"type@wavy-line type@ending cautionary@accidental print-dot@figured-bass print-lyric@figured-bass"},
		// What another element says as well, or what holds without it.
		{"", "@bar-style @beats @beat-type @duration @voice @tie @staff @glissando @notations @line @staff-lines @staff-details @syllabic " +
			"@tuplet @wavy-line @type @time-modification"},
		{heightOfRests, "@display-step @display-octave"},
		{stemsLeft, "@stem"},
		{bracesOfStaves, "@part-group type@part-group print-object@part-name"},
		{framesOfTitles, "enclosure@credit-words line-through@credit-words overline@credit-words underline@credit-words"},
		{positions, "default-* relative-* bezier-* halign valign justify rotation text-x text-y end-length spread directive page width " +
			"staff-spacing start-x dir"},
		{fonts, "color font-* dash-length space-length letter-spacing line-height"},
		{sizes, "page-number blank-page print-spacing size"},
		{sidesOfSigns, "placement"},
		{shapesOfSlurs, "orientation"},
		{bracketsOfTuplets, "bracket line-shape"},
		{rollsThrough, "unbroken"},
		{numbersOfMeasures, "implicit text multiple-rest-always multiple-rest-range staff"},
		{systemsOfSigns, "system"},
		{clefsAtBarlines, "after-barline additional"},
	},
	"MEI": {
		{"", "xml:id class copyof corresp decls evidence cert facs follows precedes next prev sameas synch resp source hand seq label type target " +
			"targettype when evaluate part partstaff analog altrend def plist instr audience data control expand join restart base translit " +
			"func n layer chordref subtype xml:lang vgrp colored notationtype notationsubtype metcon optimize layerscheme dur@annot dur@space unitdur dur.default con@syl wordpos@syl " +
			"clef.shape@scoreDef clef.line line@clef numbase@tuplet dur@note @space @pgHead"},
		{"playback", "*.ges dur.metrical dur.recip dur.quality dur.ppq ppq *.real midi.* tune.* pnum vel val val2 deg intm inth mfunc pclass psolfa " +
			"grace.time key.mode key.pname key.accid mm mm.unit mm.dots instrumentation"},
		{positions, "ho vo to startho startvo startto endho endvo endto x y x2 y2 halign valign rotation width grid.* *.dist " +
			"angle.optimize aboveorder beloworder betweenorder"},
		{shapesOfSlurs, "bezier bulge curvedir"},
		{heightOfRests, "loc oloc ploc"},
		{stemLengths, "stem.len stem.pos stem.x stem.y"},
		{stemsLeft, "stem.dir"},
		{"editorial levels and footnotes", "@annot"},
		{fonts, "color *.color *.fillcolor font* glyph.auth glyph.uri letterspacing lineheight lwidth *.lwidth *.fam *.name *.weight *.style *.size " +
			"music.* text.* lyric.* head.color rend"},
		{sizes, "scale spacing spacing.* page.* *mar compressable vu.height opening opening.vertical"},
		{bracketsOfTuplets, "bracket.place bracket.visible num.place"},
		{bracesOfStaves, "symbol bar.thru system.leftline"},
		{sidesOfSigns, "place"},
		{"naturals that cancel a signature", "keysig.cancelaccid cancelaccid sig.showchange"},
	},
}

// Names under which reports say what is not compared.
const (
	positions         = "exact positions"
	fonts             = "fonts, colours and thickness of lines"
	sizes             = "size of pages and staves, margins and distances"
	sidesOfSigns      = "side of signs at notes, and of others to which one file gives none"
	shapesOfSlurs     = "side and shape of slurs and ties"
	bracketsOfTuplets = "brackets of tuplets, and the side of their numbers"
	rollsThrough      = "whether a roll runs through both staves"
	heightOfRests     = "height of rests"
	stemLengths       = "length of stems"
	stemsLeft         = "stems to which one file gives no direction"
	framesOfTitles    = "frames and lines at titles"
	bracesOfStaves    = "names of parts and instruments, braces and brackets of staves"
	numbersOfMeasures = "numbers of measures where not both files say that they print them"
	systemsOfSigns    = "at which staves of a system a sign for all of them stands"
	clefsAtBarlines   = "on which side of a barline a clef stands"
)

// Silent says of an attribute of an element that Scores may pass over why it does: as reports name what is not compared, or
// because it prints nothing. No attribute asks about the element as a whole. known is false of anything that may be seen and
// is named nowhere.
func Silent(format, element, attribute string) (why string, prints, known bool) {
	if attribute == "" && format == "MusicXML" {
		if _, omitted, _ := ElementKind(element); omitted != "" {
			return omitted, true, true
		}
	}
	for _, s := range silentIn[format] {
		for _, name := range strings.Fields(s.attributes) {
			begin, begins := strings.CutSuffix(name, "*")
			end, ends := strings.CutPrefix(name, "*")
			if at, of, is := strings.Cut(name, "@"); is {
				if at == attribute && of == element {
					return s.named, s.named != "", true
				}
				continue
			}
			if attribute == "" {
				continue
			}
			if name == attribute || begins && strings.HasPrefix(attribute, begin) || ends && strings.HasSuffix(attribute, end) {
				return s.named, s.named != "", true
			}
		}
	}
	return "", false, false
}
