package printwords

// preface is the front matter of an edition.
var preface = map[string][4]string{
	"preface": {"On the fingering of this edition", "Zum Fingersatz dieser Ausgabe", "Le doigté de cette édition", "La diteggiatura di questa edizione"},
	"preface.text": {
		"The musical text is untouched. What this edition adds to it is fingering, and what shows which hand plays.",
		"Der Notentext ist unangetastet. Hinzugefügt sind Fingersätze sowie Zeichen, die angeben, welche Hand spielt.",
		"Le texte musical est intact. L’édition y ajoute des doigtés et les signes qui indiquent quelle main joue.",
		"Il testo musicale è intatto. L’edizione vi aggiunge diteggiature e i segni che indicano quale mano suona.",
	},
	"preface.text.no.digit": {
		"The musical text is untouched; this edition adds no digit to it.",
		"Der Notentext ist unangetastet; diese Ausgabe fügt ihm keine Ziffer hinzu.",
		"Le texte musical est intact ; l’édition n’y ajoute aucun chiffre.",
		"Il testo musicale è intatto; l’edizione non vi aggiunge alcuna cifra.",
	},
	"preface.text.hands": {
		"The musical text is untouched. What this edition adds to it shows which hand plays; it adds no digit.",
		"Der Notentext ist unangetastet. Hinzugefügt sind Zeichen, die angeben, welche Hand spielt, und keine Ziffer.",
		"Le texte musical est intact. L’édition y ajoute des signes qui indiquent quelle main joue, et aucun chiffre.",
		"Il testo musicale è intatto. L’edizione vi aggiunge segni che indicano quale mano suona, e nessuna cifra.",
	},
	"preface.rolls": {
		"Where a chord may be rolled, or is rolled, that the text does not roll, a sign of this edition says so; the legend says how such a sign looks.",
		"Wo ein Akkord gebrochen werden kann oder soll, den der Text nicht bricht, sagt es ein Zeichen dieser Ausgabe; wie es aussieht, sagt die Legende.",
		"Quand un accord que le texte n’arpège pas peut ou doit l’être, un signe de cette édition l’indique ; la légende en donne l’aspect.",
		"Dove un accordo che il testo non arpeggia può o deve esserlo, lo dice un segno di questa edizione; la legenda ne indica l’aspetto.",
	},
	"preface.whose": {"Whose the digits are", "Von wem die Ziffern stammen", "De qui sont les chiffres", "Di chi sono le cifre"},
	"preface.whose.text": {
		"Whose a digit is shows in how it looks:", "Von wem eine Ziffer stammt, zeigt ihr Aussehen:",
		"L’aspect d’un chiffre indique de qui il est :", "L’aspetto di una cifra indica di chi è:",
	},
	"preface.composer.stands": {
		"The composer's digits stand as the sources have them; none was taken out or changed.",
		"Die Ziffern des Komponisten stehen so, wie die Quellen sie haben; keine ist entfernt oder geändert.",
		"Les chiffres du compositeur sont ceux des sources ; aucun n’a été ôté ni modifié.",
		"Le cifre del compositore sono quelle delle fonti; nessuna è stata tolta o modificata.",
	},
	"preface.earlier.stands": {
		"The digits of earlier hands stand as the sources have them. Where this edition takes another finger, its digit stands beside " +
			"theirs, so: %s; the commentary lists these places.",
		"Die Ziffern früherer Hände stehen so, wie die Quellen sie haben. Wo diese Ausgabe einen anderen Finger nimmt, steht ihre Ziffer " +
			"daneben, so: %s; der Bericht nennt diese Stellen.",
		"Les chiffres de mains antérieures sont ceux des sources. Là où cette édition prend un autre doigt, son chiffre se trouve à côté, " +
			"ainsi : %s ; le commentaire indique ces endroits.",
		"Le cifre di mani precedenti sono quelle delle fonti. Dove questa edizione prende un altro dito, la sua cifra sta accanto, così: %s; " +
			"il commento elenca questi luoghi.",
	},
	"preface.hands": {"Which hand", "Welche Hand", "Quelle main", "Quale mano"},
	"preface.hands.text": {
		"Digits of the right hand stand above its notes, those of the left hand below, as a rule; where a hand plays two voices, the " +
			"inner voice has its digits between the staves.",
		"Ziffern der rechten Hand stehen in der Regel über ihren Noten, die der linken darunter; spielt eine Hand zwei Stimmen, so stehen " +
			"die Ziffern der inneren Stimme zwischen den Systemen.",
		"En règle générale, les chiffres de la main droite sont au-dessus des notes, ceux de la main gauche au-dessous ; quand une main joue " +
			"deux voix, ceux de la voix intérieure sont entre les portées.",
		"Di regola le cifre della mano destra stanno sopra le note, quelle della sinistra sotto; se una mano suona due voci, quelle della " +
			"voce interna stanno tra i pentagrammi.",
	},
	"preface.digits": {"How to read the digits", "Wie die Ziffern zu lesen sind", "Comment lire les chiffres", "Come leggere le cifre"},
	"preface.digits.text": {
		"1 is the thumb and 5 the little finger of either hand.", "1 ist in beiden Händen der Daumen, 5 der kleine Finger.",
		"1 désigne le pouce et 5 l’auriculaire, aux deux mains.", "1 è il pollice e 5 il mignolo, in entrambe le mani.",
	},
	"preface.every-note": {
		"Every note has its digit.", "Jede Note hat ihre Ziffer.", "Chaque note porte son chiffre.", "Ogni nota ha la sua cifra.",
	},
	// What it says of a note without a digit is read to the letter by rules/places (Preface), and 15_thin keeps the promise of the
	// last sentence.
	"preface.needed": {
		"A digit stands where the fingering could not be read without it, above all at a shift of the hand, where the thumb passes under, " +
			"and where the hand opens or closes. Where none stands, a passage or a figure that comes again keeps the fingers that it had " +
			"last, also where it goes on higher or lower; of two that it could be, the longer. It is known from its second note on, where it " +
			"comes again at once on the same keys from the first; after a digit with another finger it holds no more in that measure. Otherwise keys that are struck again at once " +
			"keep their fingers, and within a measure a key keeps its finger; of keys that are struck together all do or none. " +
			"Otherwise the hand keeps its position: from one note to the next there is a finger for each step of the scale, beyond " +
			"the hand the outermost. Keys a fifth or more apart that are struck together are taken by 1 and 5, octaves on black keys by 1 and 4 " +
			"as well; two that are nearer lie as the hand does. What is named first holds first. Wherever another finger is meant, its digit " +
			"stands.",
		"Eine Ziffer steht, wo der Fingersatz ohne sie nicht abzulesen wäre, vor allem beim Lagenwechsel, beim Untersatz des Daumens und wo " +
			"sich die Hand öffnet oder zusammenzieht. Wo keine steht, behält eine Stelle oder Figur, die wiederkehrt, die Finger des vorigen " +
			"Mals, auch wenn sie höher oder tiefer fortgesetzt wird; könnten es zwei sein, gilt die längere. Kenntlich ist sie von ihrer zweiten Note an, " +
			"auf denselben Tasten sogleich wiederholt von der ersten; nach einer Ziffer mit anderem Finger gilt sie in diesem Takt nicht mehr. Sonst behalten sogleich wieder " +
			"angeschlagene Tasten ihre Finger, und innerhalb eines Taktes behält eine Taste ihren Finger; von Tasten, die zusammen " +
			"angeschlagen werden, behalten ihn alle oder keine. Sonst bleibt die Hand in ihrer Lage: Von Note zu " +
			"Note kommt auf jede Stufe der Tonleiter ein Finger, über die Hand hinaus der äußerste. Zusammen angeschlagene " +
			"Tasten im Abstand einer Quinte oder mehr greift man mit 1 und 5, Oktaven auf schwarzen Tasten auch mit 1 und 4; zwei, die näher " +
			"beieinander sind, wie die Hand liegt. Was zuerst genannt ist, gilt zuerst. Wo ein anderer Finger gemeint ist, steht seine Ziffer.",
		"Un chiffre figure là où le doigté ne se lirait pas sans lui, surtout aux déplacements de la main, au passage du pouce et là où la " +
			"main s’ouvre ou se resserre. En l’absence de chiffre, un passage ou une figure qui reviennent gardent les doigts de la fois " +
			"précédente, même s’ils se poursuivent plus haut ou plus bas ; de deux possibles, le plus long l’emporte. On les reconnaît dès la deuxième note, et dès la première " +
			"s’ils reviennent aussitôt sur les mêmes touches ; après un chiffre qui change le doigt, ils ne valent plus dans cette mesure. Sinon, les touches " +
			"aussitôt répétées gardent leurs doigts et, dans une même mesure, une touche garde son doigt ; de touches que l’on frappe " +
			"ensemble, toutes le gardent ou aucune. Sinon, la main garde sa position : d’une note à l’autre, un doigt " +
			"pour chaque degré de la gamme et, au-delà de la main, le doigt extrême. Les touches distantes d’une quinte ou plus que " +
			"l’on frappe ensemble se prennent avec 1 et 5, les octaves sur touches noires aussi avec 1 et 4 ; deux touches plus proches, comme " +
			"la main se trouve. Ce qui est nommé d’abord l’emporte. Partout où un autre doigt est voulu, son chiffre est imprimé.",
		"Una cifra sta dove senza di essa la diteggiatura non si leggerebbe, soprattutto negli spostamenti della mano, al passaggio del " +
			"pollice e dove la mano si apre o si chiude. Dove manca, un passo o una figura che ritorna mantiene le dita della volta " +
			"precedente, anche se prosegue più in alto o più in basso; di due possibili vale il più lungo. Si riconosce dalla seconda nota, dalla prima se ritorna subito " +
			"sugli stessi tasti; dopo una cifra che cambia il dito non vale più in quella battuta. Altrimenti i tasti subito " +
			"ribattuti mantengono le loro dita e, all’interno di una battuta, un tasto mantiene il suo dito; di tasti suonati insieme lo " +
			"mantengono tutti o nessuno. Altrimenti la mano mantiene la posizione: da una nota all’altra un dito per " +
			"ogni grado della scala e, oltre la mano, il dito estremo. I tasti a distanza di quinta o più " +
			"suonati insieme si prendono con 1 e 5, le ottave sui tasti neri anche con 1 e 4; due più vicini, come si trova la mano. Ciò che è " +
			"nominato prima vale prima. Dove si intende un altro dito, la sua cifra è stampata.",
	},
	"preface.composer-only": {
		"Only digits that the sources hold are printed, and what an editor set beside them or offers as an alternative.",
		"Gedruckt sind nur Ziffern der Quellen und was der Herausgeber neben sie gesetzt hat oder als Alternative anbietet.",
		"Ne sont imprimés que les chiffres des sources et ce que l’éditeur a mis à côté d’eux ou propose comme variante.",
		"Sono stampate solo le cifre delle fonti e ciò che il curatore ha messo accanto a esse o propone come alternativa.",
	},
	"preface.substitution": {
		"Two digits at one note (4-1) are a silent change of finger on the held key, unless one of them looks like an alternative; at a " +
			"trill or another ornament they are its fingers in the order of playing.",
		"Zwei Ziffern bei einer Note (4-1) bedeuten stummen Fingerwechsel auf der gehaltenen Taste, sofern nicht eine davon wie eine " +
			"Alternative aussieht; bei einem Triller oder einer anderen Verzierung sind es deren Finger in der Reihenfolge des Spiels.",
		"Deux chiffres à une même note (4-1) indiquent une substitution muette sur la touche tenue, sauf si l’un d’eux a l’aspect d’une " +
			"variante ; à un trille ou à un autre ornement, ce sont ses doigts dans l’ordre du jeu.",
		"Due cifre su una nota (4-1) indicano una sostituzione muta del dito sul tasto tenuto, salvo che una di esse abbia l’aspetto di " +
			"un’alternativa; su un trillo o un altro abbellimento sono le sue dita nell’ordine di esecuzione.",
	},
	"preface.hand": {"For which hand", "Für welche Hand", "Pour quelle main", "Per quale mano"},
	"preface.hand.text": {
		"The fingering was chosen for the %s. Another hand may need another fingering.",
		"Der Fingersatz ist für die %s gewählt. Eine andere Hand braucht vielleicht einen anderen.",
		"Le doigté a été choisi pour la %s. Une autre main peut en demander un autre.",
		"La diteggiatura è scelta per la %s. Un’altra mano può chiederne un’altra.",
	},
	"preface.agents":   {"Fingered by: %s.", "Fingersatz: %s.", "Doigtés : %s.", "Diteggiatura: %s."},
	"preface.contents": {"The pieces", "Die Stücke", "Les pièces", "I brani"},
}
