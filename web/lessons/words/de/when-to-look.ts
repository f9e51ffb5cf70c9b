import type { Words } from '../shape.ts';

const TRACES = { one: 'kleinste EINS', zero: 'größte NULL' } as const;
const ANSWERS = {
  best: 'Bester Zeitpunkt',
  window: 'Abtastfenster',
  left: 'Dort bleiben',
  elastic: 'Davon in der größten NULL: halb ausgewählte Kerne, elastisch',
  creep: 'Halb ausgewählte Kerne, die kriechen',
} as const;

export const whenToLook: Words['lessons']['when-to-look'] = {
  title: 'Wann abgetastet wird',
  steps: {
    strobe: {
      title: 'Den Abtastzeitpunkt setzen',
      text: 'Ein Latch prüft einmal, in einem einzigen Zeitpunkt, ob die Spannung über der Schwelle liegt. Gezeichnet sind über alle Muster die kleinste EINS und die größte NULL.',
      question: 'Wann soll das Latch prüfen?',
      whyNot: {
        early:
          'Die Störspitze ist noch nicht vorbei, oder die EINS ist noch nicht da. Dorthin schieben, wo beide Kurven am weitesten von der Schwelle entfernt sind.',
        late: 'Die Glocke vergeht und mit ihr die EINS. Dorthin zurückschieben, wo beide Kurven am weitesten von der Schwelle entfernt sind.',
      },
      meaning:
        'Das Abtastfenster ist dort, wo die kleinste EINS über und die größte NULL unter der Schwelle liegt, mit Platz für alles, was nicht genau bekannt ist. Im besten Zeitpunkt bleibt auf der knapperen Seite am meisten.',
      answers: ANSWERS,
      traces: TRACES,
    },
    'strobe-32': {
      title: 'Dasselbe bei 32 × 32',
      text: 'Dieselben Kerne und Ströme, aber 1024 Kerne in einem geraden Durchlauf.',
      question: 'Wann soll das Latch jetzt prüfen?',
      whyNot: {
        early:
          'Hier steht die NULL noch hoch: den Abtastzeitpunkt dorthin schieben, wo sie gefallen ist und die EINS noch nicht.',
        late: 'Zu weit unten auf der Glocke. Ein wenig zurückschieben: Früher bleibt auf der Seite der EINS mehr.',
      },
      meaning:
        'Die EINS selbst ist fast die alte; die NULL steigt von unten. Im Abtastzeitpunkt ist die elastische Antwort längst vorbei: Übrig sind die halb ausgewählten Kerne, die kriechen, 62 an der Zahl, jeder ein wenig. Darum liegt der beste Zeitpunkt später, und es bleibt weniger.',
      answers: ANSWERS,
      traces: TRACES,
    },
    'how-much-current': {
      title: 'Wie viel Strom?',
      text: 'Bei 16 × 16 im geraden Durchlauf führen beide Leitungen 370 mA, und die Schwelle bleibt bei 18 mV. Bei jedem Strom wird bestmöglich abgetastet.',
      question: 'Den Strom beider Leitungen so einstellen, dass auf der knapperen Seite am meisten bleibt.',
      whyNot: {
        low: 'Ein so schwach getriebener Kern schaltet langsam: Seine Glocke ist für die Schwelle zu niedrig. Mehr Strom geben.',
        high: 'Die EINS wächst zwar, aber jetzt kommt schon der halbe Strom nahe an den Knick: Halb ausgewählte Kerne kriechen, und die NULL steigt schneller. Weniger Strom geben.',
      },
      meaning:
        'Mehr Strom macht die EINS größer, lässt aber auch jeden halb ausgewählten Kern mehr kriechen. Bei einem Kern zählt das Erste, bei vielen das Zweite: Eine große Matrix braucht weniger Strom als eine kleine, und er muss genauer stimmen.',
      answers: { left: 'Bei {} bleiben' },
      traces: {
        one: 'kleinste EINS, bester Strom',
        zero: 'größte NULL, bester Strom',
        before: 'größte NULL, 370 mA',
      },
    },
    'two-windings': {
      title: 'Wann sich das Fenster öffnet',
      text: 'Zurück zu 16 × 16. Mit zwei Hälften statt eines geraden Durchlaufs heben sich die halb ausgewählten Kerne bis auf das Muster auf, und es bleibt mehr Reserve. Von beiden Fädelungen ist die kleinste EINS gezeichnet.',
      question: 'Mit zwei Hälften öffnet sich das Abtastfenster …',
      choices: {
        earlier: {
          text: 'früher: Es ist weniger Störung abzuwarten',
          whyNot:
            'Die Störspitze ist in beiden vorbei. Worauf das Fenster wartet, ist die EINS: die Ableselinie dorthin ziehen, wo sie die Schwelle kreuzt, bei dieser Fädelung und im geraden Durchlauf.',
        },
        same: {
          text: 'wann es sich vorher öffnete',
          whyNot:
            'Auf der Bühne die Fädelung auf geraden Durchlauf stellen und zurück und ansehen, wo die EINS die Schwelle kreuzt: Bei zwei Hälften stehen einige Kerne gegen sie.',
        },
        later: { text: 'später, obwohl mehr bleibt', whyNot: 'Die beiden Fenster unten vergleichen.' },
      },
      meaning:
        'Bei geradem Durchlauf zeigt jeder halb ausgewählte Kern in die Richtung der EINS: Schlimmstenfalls gibt er nichts dazu. Bei zwei Hälften zeigt die Hälfte von ihnen gegen sie, und das ungünstigste Muster lässt gerade diese kriechen: Die EINS steigt später über die Schwelle. Die NULL gewinnt mehr als das; darum bleibt im besten Zeitpunkt mehr.',
      answers: {
        run: 'Fenster, gerader Durchlauf',
        halves: 'Fenster, zwei Hälften',
        left: 'Bestenfalls bleiben, gerader Durchlauf und zwei Hälften',
        against: 'Gegen die kleinste EINS, zwei Hälften',
      },
      traces: {
        run: 'kleinste EINS, gerader Durchlauf',
        halves: 'kleinste EINS, zwei Hälften',
        zero: 'größte NULL, zwei Hälften',
      },
    },
  },
};
