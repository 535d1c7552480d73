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
	"preface.whose": {"Whose the digits are", "Von wem die Ziffern stammen", "De qui sont les chiffres", "Di chi sono le cifre"},
	"preface.whose.text": {
		"Whose a digit is shows in how it looks:", "Von wem eine Ziffer stammt, zeigt ihr Aussehen:",
		"L’aspect d’un chiffre dit de qui il est :", "L’aspetto di una cifra dice di chi è:",
	},
	"preface.composer.stands": {
		"The composer's digits stand as the sources have them; none was taken out or changed.",
		"Die Ziffern des Komponisten stehen so, wie die Quellen sie haben; keine ist entfernt oder geändert.",
		"Les chiffres du compositeur sont ceux des sources ; aucun n’a été ôté ni modifié.",
		"Le cifre del compositore stanno come nelle fonti; nessuna è stata tolta o mutata.",
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
	"preface.needed": {
		"A digit stands where the fingering could not be read without it, above all at a shift of the hand, where the thumb passes under, " +
			"or where the hand opens or closes. From each digit on the hand goes on as is usual. As a rule it keeps its position; a key or " +
			"a chord that is struck again keeps its fingers; a figure that comes again, on other keys too, keeps those of the first time.",
		"Eine Ziffer steht, wo der Fingersatz ohne sie nicht abzulesen wäre, vor allem beim Lagenwechsel, beim Untersatz des Daumens, wo " +
			"sich die Hand öffnet oder schließt. Von jeder Ziffer an geht die Hand wie üblich weiter: In der Regel bleibt sie in ihrer Lage; " +
			"wiederholte Tasten und Griffe behalten ihre Finger; eine Figur, die wiederkehrt, behält auch auf anderen Tasten die Finger " +
			"des ersten Mals.",
		"Un chiffre figure là où le doigté ne se lirait pas sans lui, surtout aux déplacements de la main, au passage du pouce et là où la " +
			"main s’ouvre ou se resserre. À partir de chaque chiffre, la main continue selon l’usage. En règle générale, elle garde sa " +
			"position ; une touche ou un accord répétés gardent leurs doigts ; une figure qui revient, même sur d’autres touches, garde " +
			"ceux de la première fois.",
		"Una cifra sta dove senza di essa la diteggiatura non si leggerebbe, soprattutto negli spostamenti della mano, al passaggio del " +
			"pollice, dove la mano si apre o si chiude. Da ogni cifra in poi la mano prosegue nel modo consueto. Di regola mantiene la " +
			"posizione; un tasto o un accordo ribattuti mantengono le loro dita; una figura che ritorna, anche su altri tasti, mantiene " +
			"quelle della prima volta.",
	},
	"preface.composer-only": {
		"Only digits that the sources hold, and what an editor decided, are printed.",
		"Gedruckt sind nur Ziffern der Quellen und was der Herausgeber entschieden hat.",
		"Ne sont imprimés que les chiffres des sources et ce que l’éditeur a arrêté.",
		"Sono stampate solo le cifre delle fonti e ciò che il curatore ha deciso.",
	},
	"preface.substitution": {
		"Two digits under one note (4-1) are a silent change of finger on the held key.",
		"Zwei Ziffern bei einer Note (4-1) bedeuten stummen Fingerwechsel auf der gehaltenen Taste.",
		"Deux chiffres sur une note (4-1) indiquent une substitution muette sur la touche tenue.",
		"Due cifre su una nota (4-1) indicano un cambio muto di dito sul tasto tenuto.",
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
