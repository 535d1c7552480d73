package printwords

// commentary is what is remarked piece by piece.
var commentary = map[string][4]string{
	"colon":      {": ", ": ", " : ", ": "}, // French sets a space before both
	"semicolon":  {"; ", "; ", " ; ", "; "},
	"commentary": {"Editorial commentary", "Kritischer Kommentar zum Fingersatz", "Commentaire éditorial", "Commento editoriale"},
	"commentary.of": {
		"%s: editorial commentary", "%s: Kommentar zum Fingersatz", "%s : commentaire éditorial", "%s: commento editoriale",
	},
	"digits.heading": {
		"Fingering: what the digits mean (%s)", "Fingersatz: was die Ziffern bedeuten (%s)",
		"Doigté : ce que signifient les chiffres (%s)", "Diteggiatura: che cosa significano le cifre (%s)",
	},
	"about.hand": {"Fingered for the %s.", "Fingersatz für die %s.", "Doigté pour la %s.", "Diteggiatura per la %s."},
	"about.press": {
		"For press: only digits that stand in the text or were decided are printed.",
		"Druckfassung: nur Ziffern, die im Text stehen oder entschieden sind, sind gedruckt.",
		"Pour l’impression : seuls figurent les chiffres du texte et ceux qui sont arrêtés.",
		"Per la stampa: figurano solo le cifre del testo e quelle decise.",
	},
	"hand.octave":     {"octave hand (%s mm)", "Oktavhand (%s mm)", "main qui prend l’octave (%s mm)", "mano che abbraccia l’ottava (%s mm)"},
	"hand.ninth":      {"ninth hand (%s mm)", "Nonenhand (%s mm)", "main qui prend la neuvième (%s mm)", "mano che abbraccia la nona (%s mm)"},
	"hand.tenth":      {"tenth hand (%s mm)", "Dezimenhand (%s mm)", "main qui prend la dixième (%s mm)", "mano che abbraccia la decima (%s mm)"},
	"column.digits":   {"digits", "Ziffern", "chiffres", "cifre"},
	"column.look":     {"look", "Aussehen", "aspect", "aspetto"},
	"column.are":      {"are", "Bedeutung", "signification", "significato"},
	"column.piece":    {"piece", "Stück", "pièce", "brano"},
	"column.notes":    {"notes", "Noten", "notes", "note"},
	"column.printed":  {"with a digit", "mit Ziffer", "avec chiffre", "con cifra"},
	"column.composer": {"the composer's", "vom Komponisten", "du compositeur", "del compositore"},
	"column.earlier":  {"of earlier hands", "von früherer Hand", "de mains antérieures", "di mani precedenti"},
	"column.editor":   {"the editor's", "vom Herausgeber", "de l’éditeur", "del curatore"},
	"column.open":     {"open", "offen", "en suspens", "in sospeso"},
	"column.differ":   {"unlike the composer's", "anders als beim Komponisten", "autre que celui du compositeur", "diversa da quella del compositore"},
	"column.all":      {"all", "alle", "total", "totale"},
	"reading": {
		"Places are named by measure, hand and beat, and within the beat by the note value that falls there. Where several " +
			"notes sound together the lowest stands first, and so does its digit. A change of finger on a held key is written 4-1.",
		"Stellen sind nach Takt, Hand und Zählzeit benannt, innerhalb der Zählzeit nach dem Notenwert, der dort steht. Klingen " +
			"mehrere Noten zusammen, so steht die tiefste zuerst, ebenso ihre Ziffer. Tonnamen mit Oktavziffer: C4 ist das " +
			"eingestrichene C, B der Ton H. Stummer Fingerwechsel wird 4-1 geschrieben.",
		"Les passages sont désignés par mesure, main et temps, et, à l’intérieur du temps, par la valeur de note qui y tombe. Quand " +
			"plusieurs notes sonnent ensemble, la plus grave vient d’abord, de même que son chiffre. Noms de notes : C4 est le do du milieu. " +
			"Une substitution de doigt sur une touche tenue s’écrit 4-1.",
		"I luoghi sono indicati per battuta, mano e tempo, e all’interno del tempo per il valore di nota che vi cade. Se più note suonano " +
			"insieme, la più grave sta per prima, e così la sua cifra. Nomi delle note: C4 è il do centrale. La sostituzione del dito sul " +
			"tasto tenuto si scrive 4-1.",
	},
	"failed":      {"Could not be worked on: %s", "Konnte nicht bearbeitet werden: %s", "N’a pu être traité : %s", "Non si è potuto elaborare: %s"},
	"house.style": {"House style: %s", "Hausstil: %s", "Normes éditoriales : %s", "Norme redazionali: %s"},
	"witnesses":   {"Witnesses:", "Quellen:", "Sources :", "Testimoni:"},
	"not.answered": {
		"No editor has remarked on anything here; %d finding of the checks is unanswered. ¦ No editor has remarked on anything here; " +
			"%d findings of the checks are unanswered.",
		"Kein Herausgeber hat hier etwas bemerkt; %d Befund der Prüfung ist unbeantwortet. ¦ Kein Herausgeber hat hier etwas bemerkt; " +
			"%d Befunde der Prüfung sind unbeantwortet.",
		"Aucune remarque des éditeurs ici ; %d constat de la vérification reste sans réponse. ¦ Aucune remarque des éditeurs ici ; " +
			"%d constats de la vérification restent sans réponse.",
		"Nessuna osservazione dei curatori; %d rilievo della verifica resta senza risposta. ¦ Nessuna osservazione dei curatori; " +
			"%d rilievi della verifica restano senza risposta.",
	},
	"nothing":    {"Nothing to remark.", "Keine Bemerkungen.", "Rien à signaler.", "Nulla da osservare."},
	"statistics": {"Statistics", "Statistik", "Statistique", "Statistica"},
	"caution":    {"Caution", "Zur Vorsicht", "Mise en garde", "Avvertenza"},
	"caution.text": {
		"A fingering here is a suggestion for a hand of the size named. Reach is not comfort: a stretch that is just within reach " +
			"may strain the hand. Use it only if it is free of strain. Pain is a reason to stop and to see a clinician; this is not " +
			"medical advice. Teachers and clinicians decide.",
		"Ein Fingersatz ist hier ein Vorschlag für eine Hand der genannten Größe. Erreichbar heißt nicht bequem: Eine Spannung, die " +
			"gerade noch zu greifen ist, kann die Hand überanstrengen. Man verwende ihn nur, wenn er ohne Anstrengung geht. Schmerz ist " +
			"ein Grund aufzuhören und ärztlichen Rat zu suchen; dies ist kein medizinischer Rat. Lehrende und Ärzte entscheiden.",
		"Un doigté est ici une proposition pour une main de la taille indiquée. Atteignable ne veut pas dire confortable : une extension " +
			"tout juste à portée peut fatiguer la main. Ne l’employer que s’il est exempt de tension. La douleur est une raison de " +
			"s’arrêter et de consulter ; ceci n’est pas un avis médical. Aux professeurs et aux médecins de décider.",
		"Qui una diteggiatura è una proposta per una mano della misura indicata. Raggiungibile non vuol dire comodo: un’estensione appena " +
			"raggiungibile può affaticare la mano. La si usi solo se non costa sforzo. Il dolore è un motivo per fermarsi e rivolgersi a un " +
			"medico; questo non è un parere medico. La decisione spetta a insegnanti e medici.",
	},
	"section.redistributions": {"Redistributions", "Verteilung auf die Hände", "Répartition entre les mains", "Ridistribuzione tra le mani"},
	"section.seconds": {
		"Second fingerings in print, and for whom", "Zweite Fingersätze im Druck, und für wen", "Seconds doigtés imprimés, et pour qui",
		"Seconde diteggiature stampate, e per chi",
	},
	"stets.opening": {
		"What was found, and the editor's reason to let it stand.",
		"Stelle, Noten und der Grund des Herausgebers, es so zu lassen. Was die Prüfung dort fand, sagt sie auf Englisch; hier steht es nicht.",
		"L’endroit, les notes et la raison de l’éditeur de les laisser ainsi. Ce que le contrôle y a trouvé, il le dit en anglais ; ce n’est pas repris ici.",
		"Il luogo, le note e il motivo del curatore per lasciarle così. Ciò che il controllo vi ha trovato è detto in inglese; qui non è ripreso.",
	},
	"second.for":      {". For: %s.", ". Für: %s.", ". Pour : %s.", ". Per: %s."},
	"section.reasons": {"Fingerings, and why", "Fingersätze, und warum", "Doigtés, et pourquoi", "Diteggiature, e perché"},
	"section.stets": {
		"Left as it stands, and why", "So belassen, und warum", "Laissé tel quel, et pourquoi", "Lasciato così, e perché",
	},
	"stet.music":    {"the text at %s", "Notentext bei %s", "le texte à %s", "il testo a %s"},
	"stet.measure":  {"the text", "Notentext", "le texte", "il testo"},
	"section.rolls": {"Rolled chords", "Arpeggierte Akkorde", "Accords arpégés", "Accordi arpeggiati"},
	"section.composer": {
		"The composer's digits, and where ours differ", "Ziffern des Komponisten, und wo unsere abweichen",
		"Les chiffres du compositeur, et où les nôtres s’en écartent", "Le cifre del compositore, e dove le nostre differiscono",
	},
	"section.composer.source": {
		"The digits of the source, and where ours differ", "Ziffern der Quelle, und wo unsere abweichen",
		"Les chiffres de la source, et où les nôtres s’en écartent", "Le cifre della fonte, e dove le nostre differiscono",
	},
	"section.beside": {
		"Set beside the composer's digits", "Neben den Ziffern des Komponisten", "À côté des chiffres du compositeur",
		"Accanto alle cifre del compositore",
	},
	"section.beside.source": {
		"Set beside the digits of the source", "Neben den Ziffern der Quelle", "À côté des chiffres de la source",
		"Accanto alle cifre della fonte",
	},
	"section.earlier": {
		"Where our fingering is another than an earlier editor's digit", "Wo unser Fingersatz von der Ziffer eines früheren Herausgebers abweicht",
		"Où notre doigté s’écarte du chiffre d’un éditeur antérieur", "Dove la nostra diteggiatura si scosta dalla cifra di un curatore precedente",
	},
	"differs.earlier": {
		"earlier editor %s, edition %s%s.", "früherer Herausgeber %s, Ausgabe %s%s.", "éditeur antérieur %s, édition %s%s.",
		"curatore precedente %s, edizione %s%s.",
	},
	"counted.earlier": {
		" From the digits of earlier editors it differs %s.", " Von den Ziffern früherer Herausgeber weicht er %s ab.",
		" Écarts avec les chiffres d’éditeurs antérieurs : %s.", " Scarti dalle cifre di curatori precedenti: %s.",
	},
	"section.readings": {"Readings of the witnesses", "Lesarten der Quellen", "Leçons des sources", "Lezioni dei testimoni"},
	"section.returns": {
		"Returns fingered differently on purpose", "Wiederkehrende Stellen mit absichtlich anderem Fingersatz",
		"Retours doigtés autrement à dessein", "Ritorni diteggiati diversamente di proposito",
	},
	"section.queries": {"Queries", "Fragen", "Questions", "Quesiti"},
	"query":           {"%s asks: %s", "%s fragt: %s", "%s demande : %s", "%s chiede: %s"},
	"unattributed": {
		"nothing says whose the digits in the text are: they are called of the source, and look and count as the composer's",
		"nichts sagt, von wem die Ziffern im Text stammen: sie heißen Ziffern der Quelle und gelten als die des Komponisten",
		"rien ne dit de qui sont les chiffres du texte : ils sont dits de la source, et comptent comme ceux du compositeur",
		"nulla dice di chi siano le cifre del testo: sono dette della fonte, e valgono come quelle del compositore",
	},
	"takes":          {"%s%s takes %s", "%s%s übernimmt %s", "%s%s prend %s", "%s%s prende %s"},
	"may.take":       {"%s%s may take %s", "%s%s kann %s übernehmen", "%s%s peut prendre %s", "%s%s può prendere %s"},
	"reason":         {". Reason: %s.", ". Grund: %s.", ". Raison : %s.", ". Motivo: %s."},
	"with.digits":    {"%s with %s", "%s mit %s", "%s avec %s", "%s con %s"},
	"as.often":       {", %d times", ", %d-mal", ", %d fois", ", %d volte"},
	"and.again":      {", and again %s", ", und wieder %s", ", et encore %s", ", e ancora %s"},
	"with.it":        {" With it %s: %s.", " Dazu %s: %s.", " En conséquence, %s : %s.", " Di conseguenza, %s: %s."},
	"differs":        {"the composer's %s; ours %s%s.", "Komponist %s; hier %s%s.", "compositeur %s ; ici %s%s.", "compositore %s; qui %s%s."},
	"differs.source": {"the source's %s; ours %s%s.", "Quelle %s; hier %s%s.", "source %s ; ici %s%s.", "fonte %s; qui %s%s."},
	"beside":         {"the composer's %s; beside it %s.", "Komponist %s; daneben %s.", "compositeur %s ; à côté %s.", "compositore %s; accanto %s."},
	"beside.source":  {"the source's %s; beside it %s.", "Quelle %s; daneben %s.", "source %s ; à côté %s.", "fonte %s; accanto %s."},
	"stand": {
		"The composer's digits stand %s: %s.", "Ziffern des Komponisten stehen %s: %s.",
		"Les chiffres du compositeur se trouvent %s : %s.", "Le cifre del compositore stanno %s: %s.",
	},
	"stand.source": {
		"The digits of the source stand %s: %s.", "Ziffern der Quelle stehen %s: %s.",
		"Les chiffres de la source se trouvent %s : %s.", "Le cifre della fonte stanno %s: %s.",
	},
	"kept": {
		" The fingering keeps them all.", " Der Fingersatz behält sie alle bei.", " Le doigté les garde tous.",
		" La diteggiatura le mantiene tutte.",
	},
	// Nothing is said of who decided it there: what is carried is as little anybody's decision in a piece that is passed as before.
	"carried": {
		"They are carried to %d note of passages that return: %[2]s. ¦ They are carried to %d notes of passages that return: %[2]s.",
		"Sie sind auf %d Note wiederkehrender Stellen übertragen: %[2]s. ¦ Sie sind auf %d Noten wiederkehrender Stellen übertragen: %[2]s.",
		"Ils sont reportés sur %d note de passages qui reviennent : %[2]s. ¦ Ils sont reportés sur %d notes de passages qui reviennent : %[2]s.",
		"Sono riportate su %d nota di passi che ritornano: %[2]s. ¦ Sono riportate su %d note di passi che ritornano: %[2]s.",
	},
	"returns": {
		"%s returns from %s and is fingered for itself", "%s kehrt aus %s wieder und hat eigenen Fingersatz",
		"%s revient de %s et a son propre doigté", "%s ritorna da %s e ha una diteggiatura propria",
	},
	"returns.alike": {
		", note for note with the same fingers all the same.", ", Note für Note dennoch mit denselben Fingern.",
		", note pour note avec les mêmes doigts malgré tout.", ", nota per nota comunque con le stesse dita.",
	},
	"returns.other": {
		": another finger on %d of %s.", ": anderer Finger auf %d von %s.", " : autre doigt sur %d de %s.", ": altro dito su %d di %s.",
	},
	"text":     {"text %s", "Text %s", "texte %s", "testo %s"},
	"no.digit": {"no digit", "keine Ziffer", "sans chiffre", "nessuna cifra"},
	"also":     {" (also %s)", " (auch %s)", " (aussi %s)", " (anche %s)"},
	"cell.or":  {" or ", " oder ", " ou ", " o "},
	"odd.digit": {
		"“%s”, which is no finger in its numbering", "„%s“, in ihrer Zählung kein Finger", "« %s », qui n’est pas un doigt dans sa numérotation",
		"«%s», che nella sua numerazione non è un dito",
	},
	"witness": {"%s: %s, %s", "%s: %s, %s", "%s : %s, %s", "%s: %s, %s"},
	"numbering.new": {
		"fingers numbered 1 to 5", "Finger von 1 bis 5 gezählt", "doigts numérotés de 1 à 5", "dita numerate da 1 a 5",
	},
	"numbering.old": {
		"fingers numbered + 1 2 3 4, + the thumb; given here as 1 to 5", "Finger mit + 1 2 3 4 gezählt, + der Daumen; hier als 1 bis 5",
		"doigts numérotés + 1 2 3 4, + pour le pouce ; donnés ici de 1 à 5", "dita numerate + 1 2 3 4, + il pollice; qui da 1 a 5",
	},
	"taken.composer": {
		"its digits taken as the composer's", "ihre Ziffern gelten als die des Komponisten", "ses chiffres tenus pour ceux du compositeur",
		"le sue cifre considerate del compositore",
	},
	"taken.earlier": {
		"its digits taken as an earlier hand's", "ihre Ziffern gelten als von früherer Hand", "ses chiffres tenus pour d’une main antérieure",
		"le sue cifre considerate di mano precedente",
	},
	"witness.digits": {
		"; %s at notes of the text", "; %s an Noten des Textes", " ; %s sur des notes du texte", "; %s su note del testo",
	},
	"witness.unplaced": {
		", %d on notes that the text does not have", ", %d an Noten, die der Text nicht hat", ", %d sur des notes absentes du texte",
		", %d su note che il testo non ha",
	},
	"witness.odd": {
		"; %d of all are no fingers in its numbering", "; %d davon sind in ihrer Zählung keine Finger",
		" ; %d en tout ne sont pas des doigts dans sa numérotation", "; %d in tutto non sono dita nella sua numerazione",
	},
	"binds.none": {
		"Where the text has no digit, none of a witness binds the fingering", "Wo der Text keine Ziffer hat, bindet keine aus einer Quelle den Fingersatz",
		"Là où le texte n’a pas de chiffre, aucun d’une source ne lie le doigté", "Dove il testo non ha cifre, nessuna di un testimone vincola la diteggiatura",
	},
	"binds.agreeing": {
		"Where the text has no digit, one in which two witnesses agree binds the fingering",
		"Wo der Text keine Ziffer hat, bindet eine, in der zwei Quellen übereinstimmen, den Fingersatz",
		"Là où le texte n’a pas de chiffre, celui sur lequel deux sources s’accordent lie le doigté",
		"Dove il testo non ha cifre, quella su cui due testimoni concordano vincola la diteggiatura",
	},
	"binds.composer": {
		"Where the text has no digit, the composer's in a witness bind the fingering",
		"Wo der Text keine Ziffer hat, binden die des Komponisten in einer Quelle den Fingersatz",
		"Là où le texte n’a pas de chiffre, ceux du compositeur dans une source lient le doigté",
		"Dove il testo non ha cifre, quelle del compositore in un testimone vincolano la diteggiatura",
	},
	"binds.all": {
		"Where the text has no digit, those of the witnesses bind the fingering",
		"Wo der Text keine Ziffer hat, binden die der Quellen den Fingersatz",
		"Là où le texte n’a pas de chiffre, ceux des sources lient le doigté", "Dove il testo non ha cifre, quelle dei testimoni vincolano la diteggiatura",
	},
	"prints.none": {
		"apart from those that bind none of them is printed", "außer denen, die binden, ist keine davon gedruckt",
		"hormis ceux qui lient, aucun n’est imprimé", "tranne quelle che vincolano, nessuna è stampata",
	},
	"prints.composer": {"the composer's among them are printed", "die des Komponisten unter ihnen sind gedruckt", "ceux du compositeur sont imprimés", "quelle del compositore sono stampate"},
	"prints.all":      {"they are printed", "sie sind gedruckt", "ils sont imprimés", "sono stampate"},
	"counted": {
		"%s struck, %s with a digit in print (%d in 100): %s. The fingering differs from the composer's digits %s.",
		"Angeschlagen: %s; mit gedruckter Ziffer: %s (%d von 100), davon %s. Von den Ziffern des Komponisten weicht der Fingersatz %s ab.",
		"On joue %s ; avec un chiffre imprimé : %s (%d sur 100), dont %s. Écarts avec les chiffres du compositeur : %s.",
		"Si suonano %s; con una cifra stampata: %s (%d su 100), di cui %s. Scarti dalle cifre del compositore: %s.",
	},
	"open.not.printed": {
		"Nobody has decided the digits of %s yet: they are not printed, though the fingering cannot be read without them there.",
		"Über die Ziffern von %s ist noch nicht entschieden: Sie sind nicht gedruckt, obwohl sich der Fingersatz dort ohne sie nicht lesen lässt.",
		"Les chiffres de %s ne sont pas encore arrêtés : ils ne sont pas imprimés, bien que le doigté ne puisse s’y lire sans eux.",
		"Le cifre di %s non sono ancora decise: non sono stampate, anche se senza di esse la diteggiatura lì non si legge.",
	},
	"counted.notes": {
		"Notes are counted, not digits: one with a change of finger, or with several digits, counts once; one that bears digits of " +
			"several hands counts with each of them.",
		"Gezählt sind Noten, nicht Ziffern: eine mit Fingerwechsel oder mehreren Ziffern zählt einmal; eine, die Ziffern von mehreren " +
			"Händen trägt, zählt bei jeder von ihnen.",
		"On compte les notes et non les chiffres : celle qui porte un changement de doigt ou plusieurs chiffres compte une fois ; celle " +
			"qui porte des chiffres de plusieurs mains compte avec chacune d’elles.",
		"Si contano le note e non le cifre: una con un cambio di dito o con più cifre conta una volta; una che porta cifre di più mani " +
			"conta con ciascuna di esse.",
	},
	"count.composer": {"%d the composer's", "%d vom Komponisten", "%d du compositeur", "%d del compositore"},
	"count.earlier":  {"%d of earlier hands", "%d von früherer Hand", "%d de mains antérieures", "%d di mani precedenti"},
	"count.editor":   {"%d the editor's", "%d vom Herausgeber", "%d de l’éditeur", "%d del curatore"},
	"count.open":     {"%d open", "%d offen", "%d en suspens", "%d in sospeso"},
}
