package policies

// Keys of the fingering: tempo, aims, memory, the mix of hands, touch.

func makeTempoKeys() []Key {
	return []Key{
		{
			Path: "signs.language", kind: word, Values: []string{"it", "fr", "en", "de"},
			Doc: "The language of hand signs: m.d./m.s., m.d./m.g., r.h./l.h. or r.H./l.H.",
		},
		{
			Path: "signs.changes", kind: word, Values: []string{"brackets", "plain", "none"},
			Doc: "The hand sign where notes that have digits go over to the hand of the other staff and the text does " +
				"not say so: in square brackets, as an addition of the edition, plain, or none.",
		},
		{
			Path: "tempo.default", kind: span, Low: 10, High: 400,
			Doc: "Beats a minute where neither a mark nor a word gives the tempo.",
		},
		{
			Path: "tempo.words.*", kind: span, named: tempoWord, Low: 10, High: 400,
			Doc: "Beats a minute that a tempo word stands for, the word in small letters; of two that fit a text, " +
				"the longer counts. Common practice, from memory: set your own.",
		},
		{
			Path: "tempo.practice", kind: number, Low: 20, High: 100,
			Doc: "The tempo at which a piece is practised, in percent of its own: fingerings that are best there and " +
				"collapse at the tempo are named.",
		},
	}
}

func makeAimKeys() []Key {
	return []Key{
		{
			Path: "aims.comfort", kind: number, Low: 0, High: 400,
			Doc: "How much comfort counts (stretch, position, passing, keys, repetition), in percent of the fitted " +
				"weight.",
		},
		{
			Path: "aims.line", kind: number, Low: 0, High: 400,
			Doc: "How much the line counts: joining under slurs, silent changes of finger, the leading voice on " +
				"fingers that can lead. In percent; 0 leaves it out.",
		},
		{
			Path: "aims.memory", kind: number, Low: 0, High: 400,
			Doc: "How much memory counts: patterns, handbook runs, passages that return. In percent.",
		},
		{
			Path: "aims.habit", kind: number, Low: 0, High: 400,
			Doc: "How much the habit of editors counts: what is printed in such places in the fitted material, by " +
				"table and by the network that learned from it (of two hands of one player). In percent.",
		},
		{
			Path: "aims.tempo", kind: number, Low: 0, High: 400,
			Doc: "How much the tempo counts: what is hard at speed. In percent; 0 fingers for slow practice.",
		},
		{
			Path: "aims.reach", kind: number, Low: 0, High: 400,
			Doc: "How much it counts that many hands can take a grip. In percent.",
		},
		{
			Path: "memory.exact", kind: number, Low: 0, High: 20000,
			Doc: "What the finger of a note may cost more, in thousandths, so that a passage that returns exactly is " +
				"fingered as the first time; 0 lets each be fingered for itself. `aims.memory` counts on top.",
		},
		{
			Path: "memory.transposed", kind: number, Low: 0, High: 20000,
			Doc: "The same for a passage that returns on other keys: a sequence, or a second subject brought home. " +
				"What black and white keys forbid costs more than this, and gives way.",
		},
		{
			Path: "memory.mirrored", kind: number, Low: 0, High: 20000,
			Doc: "The same for a passage that the other hand takes up upside down, or plays against it.",
		},
		{
			Path: "memory.figure", kind: number, Low: 0, High: 20000,
			Doc: "The same for a figure of four strokes or more that turns and comes again within two measures, on " +
				"the same keys or as the same shape on keys of the same colours: the higher, the more strictly it is " +
				"fingered as before. It counts twice where the two strokes before and after are the same, too. What a " +
				"key, a length or the continuation makes dearer gives way; 0 lets each time be fingered for itself.",
		},
		{
			Path: "memory.refrains", kind: number, Low: 0, High: 1000,
			Doc: "How strictly a figure of four single keys has one fingering wherever it comes again within two " +
				"measures, in percent of what is usual: 100 lets the times together be half as likely to have it as " +
				"their own, and a sixteenth on other keys of the same shape; 0 lets each be fingered for itself, but " +
				"for `memory.figure`. The parts of a sequence are left as they lie under the hand. A measure that a hand plays " +
				"again, however far, has one fingering likewise, and so has one on other keys of the same shape within " +
				"eight measures: more strictly, and most where the same strokes stand beside it.",
		},
		{
			Path: "hands.octave", kind: number, Low: 0, High: 100,
			Doc: "Share of octave hands in the mix of hands whose comfort is sought; all three 0: the one `hand`. " +
				"The limits stay those of `hand`.",
		},
		{Path: "hands.ninth", kind: number, Low: 0, High: 100, Doc: "Share of ninth hands in the mix."},
		{Path: "hands.tenth", kind: number, Low: 0, High: 100, Doc: "Share of tenth hands in the mix."},
		{
			Path: "smaller_hand", kind: word, Values: []string{"none", "octave", "ninth"},
			Doc: "A smaller hand for which an alternative is worked out wherever the fingering exceeds it.",
		},
	}
}

func makeTouchKeys() []Key {
	return []Key{
		{
			Path: "instrument", kind: word, Values: []string{"grand", "upright", "period"},
			Doc: "The instrument that is thought of: it bears on how fast one finger may repeat a key. Provisional, " +
				"from memory.",
		},
		{
			Path: "change_ms", kind: number, Low: 100, High: 3000,
			Doc: "The time a silent change of finger needs, in milliseconds; faster ones are not suggested.",
		},
		{
			Path: "touch.finger_pedal", kind: yesNo,
			Doc: "Whether the keys of broken chords under a slur are held as long as the hand can (finger " +
				"pedalling), where no pedal is marked.",
		},
		{
			Path: "touch.default", kind: word, Values: touches,
			Doc: "How notes are joined that no slur, dot or line marks: legato (held for what they are worth), " +
				"non-legato (a little less) or detached (half).",
		},
		{
			Path: "touch.before.*", kind: word, named: year, Values: touches,
			Doc: "How unmarked notes are joined in pieces written before a year (the piece's `year` in the " +
				"manifest); the nearest year after it counts.",
		},
	}
}
