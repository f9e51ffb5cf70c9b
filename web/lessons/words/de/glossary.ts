import type { Words } from '../shape.ts';

export const sources: Words['sources'] = {
  practice: () => 'Allgemein gebräuchlich, keine einzelne Quelle',
  here: () => 'Hier festgelegt',
  induction: () => 'Folgt aus dem Induktionsgesetz',
  reversible: () => 'Allgemein gebräuchlich, keine einzelne Quelle; meist „reversibel“ genannt',
  switching: (cite) => `Folgt aus der Umschaltgleichung in ${cite}`,
  polarities: (cite) => `Folgt aus den Vorzeichen der Fädelung; vergleiche ${cite}, nach Berichten`,
  reported: (cite) => `${cite}, nach Berichten`,
  read: (cite) => cite,
};

export const glossary: Words['glossary'] = {
  aperture: {
    term: 'Abtastdauer',
    meaning: 'So lange hält der Abtastimpuls das Latch offen; der Detektor muss die ganze Zeit recht haben.',
  },
  bell: {
    term: 'Glocke',
    meaning:
      'Die Spannung eines Kerns, der von einem Zustand in den anderen umschaltet: Sie steigt, erreicht einen Scheitel und fällt, im Umriss wie eine Glocke.',
  },
  checkerboard: {
    term: 'Schachbrettmuster',
    meaning:
      'Gespeicherte Bits, die wie Felder eines Schachbretts wechseln, oder nach den Vorzeichen des Lesedrahtes. Oft nahe am ungünstigsten Muster, nicht immer dieses selbst.',
  },
  coincidentCurrent: {
    term: 'Stromkoinzidenz',
    meaning:
      'Auswahl durch zwei halbe Ströme, die sich nur in einem Kern treffen; jeder allein bleibt unter dem Knick.',
  },
  deltaNoise: {
    term: 'Delta-Rauschen',
    meaning:
      'Was von halb ausgewählten Kernen übrig bleibt, die sich aufheben sollten, weil eine EINS etwas anders antwortet als eine NULL.',
  },
  directCoupling: {
    term: 'Direkte Kopplung',
    meaning:
      'Was der Lesedraht durch Luft und Isolation von den Treiberleitungen aufnimmt, ohne dass ein Kern umschaltet.',
  },
  disturbedZero: {
    term: 'Gestörte NULL',
    meaning:
      'Eine gespeicherte NULL, die durch Halbwahlimpulse ein wenig in Richtung EINS gerückt ist; die gestörte EINS ist dasselbe in Gegenrichtung.',
  },
  elasticAnswer: {
    term: 'Elastische Antwort',
    meaning:
      'Der Anteil des Flusses, der der Durchflutung folgt und zurückfedert; er macht die Störspitzen auf den Flanken der Ströme.',
  },
  fullSelect: {
    term: 'Vollwahl',
    meaning:
      'Was ein Kern sieht, wenn beide Treiberleitungen Strom führen: Er schaltet um, wenn er im anderen Zustand war und nichts ihn sperrt.',
  },
  halfSelect: {
    term: 'Halbwahl',
    meaning: 'Was ein Kern sieht, wenn nur eine seiner beiden Treiberleitungen Strom führt.',
  },
  inhibit: {
    term: 'Sperrstrom (Inhibit)',
    meaning: 'Ein Strom, der in einer Matrix dem Schreiben entgegenwirkt, so dass dort eine NULL bleibt.',
  },
  kick: {
    term: 'Abschaltspannung',
    meaning:
      'Die Spannung eines Drahtes, dessen Strom abgeschaltet wird: Induktivität mal Steilheit des Stromes.',
  },
  knee: {
    term: 'Knick',
    meaning: 'Die Biegung der Schleife, jenseits derer ein Kern bleibend umzuschalten beginnt.',
  },
  latch: { term: 'Latch', meaning: 'Hält fest, was der Detektor sagt, solange abgetastet wird.' },
  margin: {
    term: 'Reserve',
    meaning:
      'Wie weit die kleinste EINS im Abtastzeitpunkt über der Schwelle liegt, oder die größte NULL darunter.',
  },
  mat: { term: 'Matrix', meaning: 'Eine Ebene von Kernen: ein Bit jedes Wortes.' },
  opening: {
    term: 'Öffnung',
    meaning:
      'Alle Paare von Abtastzeitpunkt und Schwelle, mit denen richtig gelesen wird. Ein Wort dieser Seite.',
  },
  postWriteDisturb: {
    term: 'Störimpuls nach dem Schreiben',
    meaning:
      'Ein halber Leseimpuls nach dem Schreiben, der die Kerne in den Zustand bringt, in dem spätere Lesevorgänge sie finden.',
  },
  remanentFlux: {
    term: 'Remanenzfluss',
    meaning: 'Was ein Kern ohne Strom behält; EINS und NULL sind seine beiden Vorzeichen.',
  },
  senseWire: {
    term: 'Lesedraht',
    meaning:
      'Der Draht, der durch jeden Kern einer Matrix führt und das Signal trägt; in einer Dreidrahtmatrix führt er auch den Sperrstrom.',
  },
  shmoo: {
    term: 'Shmoo-Diagramm',
    meaning: 'Eine Karte zweier Einstellgrößen, die zeigt, wo der Speicher richtig liest.',
  },
  sliceLevel: { term: 'Entscheidungsschwelle', meaning: 'Die Schwelle, die EINS und NULL trennt.' },
  squareness: {
    term: 'Rechteckigkeit',
    meaning: 'Remanenzfluss zu Sättigungsfluss: wie flach die Schleife oben verläuft.',
  },
  staggeredRead: {
    term: 'Gestaffeltes Lesen',
    meaning:
      'Eine Treiberleitung beginnt vor der anderen, so dass ihre Störung vorbei ist, wenn der Kern umschaltet.',
  },
  strobe: {
    term: 'Abtastimpuls (Strobe)',
    meaning: 'Die kurze Zeit, in der das Latch auf den Detektor hört; ihre Lage ist der Abtastzeitpunkt.',
  },
  strobeWindow: {
    term: 'Abtastfenster',
    meaning: 'Alle Zeitpunkte, in denen jede EINS über und jede NULL unter der Schwelle liegt.',
  },
  switchingTime: {
    term: 'Umschaltzeit',
    meaning:
      'Vom Beginn der Durchflutung bis dorthin, wo die fallende Glocke ein Zehntel ihres Scheitels erreicht. Mal der Durchflutung jenseits der Schwelle ist sie über einen Bereich fast konstant.',
  },
  temperatureCoefficient: {
    term: 'Temperaturkoeffizient',
    meaning:
      'Um wie viel sich eine Schwelle oder ein Fluss des Kerns je Grad ändert. Warmer Ferrit schaltet mit weniger Strom um; darum kommt seine Glocke früher und höher.',
  },
  tolerance: {
    term: 'Toleranz',
    meaning:
      'Wie weit ein Bauteil oder ein Strom von der Angabe abweichen darf; an den Ecken sind alle zugleich an ihren Enden.',
  },
  undisturbedOne: {
    term: 'Ungestörte EINS',
    meaning:
      'Eine EINS, vor der nichts als ihr eigenes Schreiben lag: in Datenbüchern uV1. Entsprechend uVz, und gestört dV1 und dVz.',
  },
  worstPattern: {
    term: 'Ungünstigstes Muster',
    meaning:
      'Die gespeicherten Bits, bei denen sich die halb ausgewählten Kerne gegen den ausgewählten addieren. Es hängt von der Fädelung ab und davon, was vorher geschah.',
  },
  writeBack: {
    term: 'Rückschreiben',
    meaning: 'Die zweite Hälfte des Zyklus, die zurückschreibt, was das Lesen gelöscht hat.',
  },
};
