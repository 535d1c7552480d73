package printwords

import "maps"

// sentences are all there are, by key, in the order of Languages.
var sentences = func() map[string][4]string {
	out := map[string][4]string{}
	for _, group := range []map[string][4]string{legend, places, commentary, reasons, preface} {
		maps.Copy(out, group)
	}
	return out
}()

// legend explains the looks of digits and signs.
var legend = map[string][4]string{
	"and": {" and ", " und ", " et ", " e "},
	"or":  {", or ", ", oder ", ", ou ", ", o "},
	"legend": {
		"Fingering: %s.", "Fingersatz: %s.", "Doigté : %s.", "Diteggiatura: %s.",
	},
	"whose.composer": {"the composer's", "vom Komponisten", "du compositeur", "del compositore"},
	"whose.source":   {"of the source", "aus der Quelle", "de la source", "della fonte"},
	"whose.earlier": {
		"an earlier hand's: a pupil, a reviser or an earlier editor",
		"von früherer Hand: von Schülern, Revisoren oder früheren Herausgebern",
		"d’une main antérieure : élève, réviseur ou éditeur précédent",
		"di mano precedente: un allievo, un revisore o un curatore precedente",
	},
	"whose.editor": {"the editor's", "vom Herausgeber", "de l’éditeur", "del curatore"},
	"whose.open": {
		"suggested, and not yet decided by an editor",
		"vorgeschlagen und vom Herausgeber noch nicht entschieden",
		"proposé, pas encore arrêté par l’éditeur",
		"proposta, non ancora decisa dal curatore",
	},
	"whose.beside": {
		"the editor's, set beside the composer's", "vom Herausgeber, neben dem des Komponisten",
		"de l’éditeur, à côté de celui du compositeur", "del curatore, accanto a quella del compositore",
	},
	"whose.beside.source": {
		"the editor's, set beside one of the source", "vom Herausgeber, neben dem der Quelle",
		"de l’éditeur, à côté de celui de la source", "del curatore, accanto a quella della fonte",
	},
	"whose.beside.earlier": {
		"the editor's, in place of one of an earlier hand that stands beside it",
		"vom Herausgeber, anstelle der danebenstehenden von früherer Hand",
		"de l’éditeur, au lieu de celui d’une main antérieure, à côté",
		"del curatore, in luogo di quella di mano precedente, accanto",
	},
	"whose.single": {
		"the composer's, in a single witness and not in the text",
		"vom Komponisten, in einer einzigen Quelle und nicht im Haupttext",
		"du compositeur, dans une seule source et non dans le texte",
		"del compositore, in un solo testimone e non nel testo",
	},
	"whose.alternative": {
		"an alternative, offered beside the first", "Alternative zum ersten Fingersatz",
		"variante, proposée à côté du premier doigté", "alternativa, proposta accanto alla prima",
	},
	"sign.offered": {
		"%s or %s in parentheses", "%s oder %s in runden Klammern", "%s ou %s entre parenthèses", "%s o %s tra parentesi tonde",
	},
	"sign.offered.bracket": {
		", with a broken bracket where several notes follow one another", ", mit gestrichelter Klammer, wo mehrere Noten aufeinanderfolgen",
		", avec un crochet en pointillé quand plusieurs notes se suivent", ", con parentesi orizzontale tratteggiata per più note di seguito",
	},
	"sign.offered.meaning": {
		"notes that the right or the left hand may take instead of the other",
		"Noten, die die rechte oder die linke Hand anstelle der anderen übernehmen kann",
		"notes que la main droite ou la main gauche peut prendre au lieu de l’autre",
		"note che la mano destra o la sinistra può prendere al posto dell’altra",
	},
	"sign.offered.digits": {
		"; an alternative there is its finger", "; eine Alternative dort ist ihr Finger",
		" ; une variante y indique son doigt", "; un’alternativa lì indica il suo dito",
	},
	"sign.offered.alone": {
		"%s in parentheses", "%s in runden Klammern", "%s entre parenthèses", "%s tra parentesi tonde",
	},
	"sign.offered.meaning.R": {
		"notes that the right hand may take instead of the left", "Noten, die die rechte Hand anstelle der linken übernehmen kann",
		"notes que la main droite peut prendre au lieu de la gauche", "note che la mano destra può prendere al posto della sinistra",
	},
	"sign.offered.meaning.L": {
		"notes that the left hand may take instead of the right", "Noten, die die linke Hand anstelle der rechten übernehmen kann",
		"notes que la main gauche peut prendre au lieu de la droite", "note che la mano sinistra può prendere al posto della destra",
	},
	"sign.bracket": {"a broken bracket", "gestrichelte Klammer", "crochet en pointillé", "parentesi orizzontale tratteggiata"},
	"sign.bracket.meaning": {
		"notes taken by the other hand, as far as it reaches; the sign at its beginning names the hand",
		"Noten, die die andere Hand übernimmt, so weit die Klammer reicht; das Zeichen an ihrem Anfang nennt die Hand",
		"notes prises par l’autre main, aussi loin qu’il s’étend ; le signe placé à son début indique la main",
		"note prese dall’altra mano, fin dove arriva; il segno al suo inizio indica la mano",
	},
	"sign.change": {"%s or %s in brackets", "%s oder %s in eckigen Klammern", "%s ou %s entre crochets", "%s o %s tra parentesi quadre"},
	"sign.change.meaning": {
		"here the right or the left hand plays, added by the edition", "hier spielt die rechte oder die linke Hand, Zusatz der Ausgabe",
		"ici joue la main droite ou la main gauche, ajout de l’édition", "qui suona la mano destra o la sinistra, aggiunta dell’edizione",
	},
	"sign.change.alone": {"%s in brackets", "%s in eckigen Klammern", "%s entre crochets", "%s tra parentesi quadre"},
	"sign.change.meaning.R": {
		"here the right hand plays, added by the edition", "hier spielt die rechte Hand, Zusatz der Ausgabe",
		"ici joue la main droite, ajout de l’édition", "qui suona la mano destra, aggiunta dell’edizione",
	},
	"sign.change.meaning.L": {
		"here the left hand plays, added by the edition", "hier spielt die linke Hand, Zusatz der Ausgabe",
		"ici joue la main gauche, ajout de l’édition", "qui suona la mano sinistra, aggiunta dell’edizione",
	},
	"sign.roll": {
		"the sign of a rolled chord with %s", "Arpeggiozeichen mit %s", "signe d’arpège avec %s", "segno d’arpeggio con %s",
	},
	"sign.roll.meaning": {
		"rolled by the edition, not by the composer", "Arpeggio der Ausgabe, nicht des Komponisten",
		"arpège de l’édition, non du compositeur", "arpeggio dell’edizione, non del compositore",
	},
	"sign.roll.offered": {
		"may be rolled where the hand does not reach", "kann arpeggiert werden, wenn die Hand nicht reicht",
		"peut être arpégé si la main n’y suffit pas", "si può arpeggiare se la mano non arriva",
	},
	"look.upright": {"upright", "gerade", "romain", "tondo"},
	"look.italic":  {"italic", "kursiv", "italique", "corsivo"},
	"look.bold":    {"bold", "fett", "gras", "neretto"},
	"look.points":  {"%s points", "%s Punkt", "%s points", "%s punti"},
	"look.small":   {"small", "klein", "petit", "piccolo"},
	"look.medium":  {"medium", "mittelgroß", "moyen", "medio"},
	"look.large":   {"large", "groß", "grand", "grande"},
	"look.added": {
		"%s; %s where this edition adds them", "%s; %s, wo diese Ausgabe sie ergänzt",
		"%s ; %s là où cette édition les ajoute", "%s; %s dove questa edizione le aggiunge",
	},
	"look.parentheses": {
		"in parentheses", "in runden Klammern", "entre parenthèses", "tra parentesi tonde",
	},
	"look.brackets": {"in brackets", "in eckigen Klammern", "entre crochets", "tra parentesi quadre"},
}

// places name where something stands.
var places = map[string][4]string{
	"hand.R":     {"right hand", "rechte Hand", "main droite", "mano destra"},
	"hand.L":     {"left hand", "linke Hand", "main gauche", "mano sinistra"},
	"the.hand.R": {"the right hand", "die rechte Hand", "la main droite", "la mano destra"},
	"the.hand.L": {"the left hand", "die linke Hand", "la main gauche", "la mano sinistra"},
	"of.hand.R":  {"of the right hand", "der rechten Hand", "de la main droite", "della mano destra"},
	"of.hand.L":  {"of the left hand", "der linken Hand", "de la main gauche", "della mano sinistra"},
	"in.hand.R":  {"in the right hand", "in der rechten Hand", "à la main droite", "alla mano destra"},
	"in.hand.L":  {"in the left hand", "in der linken Hand", "à la main gauche", "alla mano sinistra"},
	"player":     {"player %d", "Spieler %d", "pianiste %d", "esecutore %d"},
	"of.player":  {" of player %d", " von Spieler %d", " du pianiste %d", " dell’esecutore %d"},
	"measure":    {"m. %s", "T. %s", "mes. %s", "b. %s"},
	"measures":   {"mm. %s", "T. %s", "mes. %s", "bb. %s"},
	"in.measure": {"in m. %s ", "in T. %s ", "mes. %s ", "a b. %s "},
	"beat":       {"beat %s", "Zählzeit %s", "temps %s", "tempo %s"},
	"grace": {
		"grace note at %s", "Vorschlagsnote bei %s", "petite note, %s", "notina, %s",
	},
	"beat.value": {"%s, %s %s", "%s, %s %s", "%s, %s %s", "%s, %s %s"},
	"beat.part":  {"%s, %s of %s", "%s, %s von %s", "%s, %s de %s", "%s, %s di %s"},
	"beat.note":  {"%s, note %d from there", "%s, %d. Note von dort an", "%s, %de note à partir de là", "%s, %da nota da lì"},
	"beat.rest": {
		"%s, %s of a quarter after it", "%s, %s Viertel danach", "%s, %s de noire après", "%s, %s di semiminima dopo",
	},
	"ordinal.1": {"first", "1.", "1re", "1ª"}, "ordinal.2": {"second", "2.", "2e", "2ª"},
	"ordinal.3": {"third", "3.", "3e", "3ª"}, "ordinal.4": {"fourth", "4.", "4e", "4ª"},
	"ordinal.5": {"fifth", "5.", "5e", "5ª"}, "ordinal.6": {"sixth", "6.", "6e", "6ª"},
	"ordinal.7": {"seventh", "7.", "7e", "7ª"},
	"ordinal":   {"no. %d", "%d.", "%de", "%dª"},
	"value.2":   {"half", "Halbe", "blanche", "minima"}, "value.4": {"quarter", "Viertel", "noire", "semiminima"},
	"value.8":  {"eighth", "Achtel", "croche", "croma"},
	"value.16": {"sixteenth", "Sechzehntel", "double croche", "semicroma"},
	"value.32": {"thirty-second", "Zweiunddreißigstel", "triple croche", "biscroma"},
	"value.64": {"sixty-fourth", "Vierundsechzigstel", "quadruple croche", "semibiscroma"},
	"parts.2":  {"two", "zwei", "deux", "due"}, "parts.3": {"three", "drei", "trois", "tre"},
	"parts.5": {"five", "fünf", "cinq", "cinque"}, "parts.6": {"six", "sechs", "six", "sei"},
	"parts.7": {"seven", "sieben", "sept", "sette"},
	"notes":   {"%d note ¦ %d notes ¦ no notes", "%d Note ¦ %d Noten ¦ keiner Note", "%d note ¦ %d notes ¦ aucune note", "%d nota ¦ %d note ¦ nessuna nota"},
	"on.notes": {
		"on %d note ¦ on %d notes ¦ on no notes", "bei %d Note ¦ bei %d Noten ¦ bei keiner Note",
		"sur %d note ¦ sur %d notes ¦ sur aucune note", "su %d nota ¦ su %d note ¦ su nessuna nota",
	},
	"digits": {
		"%d digit ¦ %d digits ¦ no digits", "%d Ziffer ¦ %d Ziffern ¦ keine Ziffer", "%d chiffre ¦ %d chiffres ¦ aucun chiffre",
		"%d cifra ¦ %d cifre ¦ nessuna cifra",
	},
}

// reasons say why notes are offered to the other hand; the argument is the hand
// that has them in the text, with its article.
var reasons = map[string][4]string{
	"reason.reach": {
		"the grip %s goes beyond the hand", "der Griff %s übersteigt die Spannweite der Hand",
		"l’accord %s dépasse l’extension de la main", "l’accordo %s supera l’estensione della mano",
	},
	"roll.decided": {"%s%s rolled, %s", "%s%s arpeggiert, %s", "%s%s arpégés, %s", "%s%s arpeggiati, %s"},
	"roll.offered": {
		"%s%s may be rolled, %s", "%s%s kann arpeggiert werden, %s", "%s%s peuvent être arpégés, %s", "%s%s si possono arpeggiare, %s",
	},
	"roll.down": {
		" from the highest key", " von der höchsten Taste an", ", depuis la touche la plus haute", ", dal tasto più alto",
	},
	"roll.both": {"both hands", "beide Hände", "les deux mains", "le due mani"},
	"reason.speed": {
		"the leap %s leaves too little time", "für den Sprung %s bleibt zu wenig Zeit",
		"le saut %s laisse trop peu de temps", "il salto %s lascia troppo poco tempo",
	},
	"reason.line": {
		"the legato line %s cannot be joined as slurred", "die Legatolinie %s lässt sich nicht wie gebunden verbinden",
		"la ligne %s ne peut être liée comme écrit", "la linea %s non si può legare come scritto",
	},
	"reason.rhythm": {
		"the part %s has two rhythms against each other", "die Partie %s hat zwei Rhythmen gegeneinander",
		"la partie %s a deux rythmes l’un contre l’autre", "la parte %s ha due ritmi l’uno contro l’altro",
	},
	"reason.held": {
		"a key %s cannot be held for as long as it is written", "eine Taste %s lässt sich nicht so lange halten wie notiert",
		"une touche %s ne peut être tenue aussi longtemps qu’il est écrit", "un tasto %s non si può tenere quanto è scritto",
	},
	"reason.collision": {
		"the keys %s are those of the other hand too: the hands meet", "die Tasten %s braucht auch die andere Hand: die Hände treffen sich",
		"les touches %s sont aussi celles de l’autre main : les mains se rencontrent", "i tasti %s sono anche dell’altra mano: le mani si incontrano",
	},
	"reason.crossing": {
		"a voice of its own lies beyond the other keys %s, and the other hand is free to cross over",
		"eine eigene Stimme liegt jenseits der übrigen Tasten %s, und die andere Hand kann frei übergreifen",
		"une voix indépendante se trouve au-delà des autres touches %s, et l’autre main, libre, peut croiser",
		"una voce propria sta oltre gli altri tasti %s, e l’altra mano, libera, può incrociare",
	},
	"reason.clarity": {
		"the part %s has two voices, and the other hand is free to make them clear",
		"die Partie %s hat zwei Stimmen, und die freie andere Hand kann sie verdeutlichen",
		"la partie %s a deux voix, que l’autre main, libre, peut rendre claires",
		"la parte %s ha due voci, che l’altra mano, libera, può rendere chiare",
	},
	"reason.evenness": {
		"the sweep %s goes on under the other hand, which is free", "der Lauf %s setzt sich unter der freien anderen Hand fort",
		"le trait %s se poursuit sous l’autre main, qui est libre", "il passaggio %s prosegue sotto l’altra mano, che è libera",
	},
	"reason.turns": {
		"the figure %s leaps there and back, and the other hand, which is free, takes its turn",
		"die Figur %s springt hin und zurück, und die freie andere Hand löst ab",
		"la figure %s saute puis revient, et l’autre main, libre, prend le relais",
		"la figura %s salta e ritorna, e l’altra mano, libera, le dà il cambio",
	},
	"reason.decided": {
		"decided by the editor", "Entscheidung des Herausgebers", "décision de l’éditeur", "decisione del curatore",
	},
}
