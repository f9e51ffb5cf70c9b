import type { Words } from '../shape.ts';

const UPRIGHT =
  'Beide Kurven sind aufrecht gezeichnet, wie der Detektor sie hört, gleich wohin eine EINS am Draht zeigt.';
const TRACES = { one: 'kleinste EINS', zero: 'größte NULL' } as const;
const ANSWERS = { best: 'Bester Zeitpunkt', window: 'Abtastfenster', left: 'Dort bleiben' } as const;

export const whenToLook: Words['lessons']['when-to-look'] = {
  title: 'Wann abgetastet wird',
  steps: {
    strobe: {
      title: 'Den Abtastzeitpunkt setzen',
      text: `Ein Latch prüft einmal, in einem einzigen Zeitpunkt, ob die Spannung über der Schwelle liegt. Gezeichnet sind über alle Muster die kleinste EINS und die größte NULL. ${UPRIGHT}`,
      question: 'Wann soll das Latch prüfen? Die Linie ziehen oder die Pfeiltasten benutzen.',
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
      text: `Dieselben Kerne und Ströme, aber 1024 Kerne in einem geraden Durchlauf. ${UPRIGHT}`,
      question: 'Wann soll das Latch jetzt prüfen?',
      whyNot: {
        early: 'Hier steht die NULL noch hoch: dort suchen, wo sie gefallen ist und die EINS noch nicht.',
        late: 'Zu weit unten auf der Glocke. Etwas früher bleibt auf der Seite der EINS mehr.',
      },
      meaning:
        'Die halb ausgewählten Kerne zehren von unten; darum liegt der beste Zeitpunkt später, und es bleibt weniger. Die EINS selbst ist fast die alte.',
      answers: ANSWERS,
      traces: TRACES,
    },
    warm: {
      title: 'Ein warmer Tag',
      text: 'Die Ströme bleiben, wie sie sind; die Matrix erwärmt sich von 25 auf 45 °C.',
      question: 'Der Scheitel der Glocke kommt …',
      choices: {
        earlier: { text: 'früher und höher', whyNot: 'Die drei Läufe unten vergleichen.' },
        same: {
          text: 'wann er vorher kam',
          whyNot:
            'Die Schwelle des Kerns sinkt um ein halbes Prozent je Grad: Von der Durchflutung jenseits davon ist das weit mehr.',
        },
        later: {
          text: 'später und niedriger',
          whyNot:
            'Das ist die kalte Matrix. Warmer Ferrit schaltet leichter um; derselbe Strom ist für ihn mehr.',
        },
      },
      meaning:
        'Ein Abtastzeitpunkt, der in der Kälte stimmt, liegt in der Wärme vielleicht zu spät, und halb ausgewählte Kerne beginnen zu kriechen. Treiber, deren Strom mit der Temperatur so sinkt wie die Schwelle, halten die Glocke an ihrem Platz.',
      answers: { bell: 'Glocke bei {}' },
      traces: {},
    },
    drift: {
      title: 'Ein fester Abtastzeitpunkt, wenn der Strom sinkt',
      text: 'Der Abtastzeitpunkt liegt bestmöglich für die Matrix wie entworfen, mit 370 mA je Leitung. Nun sinkt der Strom auf 330 mA.',
      question:
        'Wie viel bleibt dann in diesem Zeitpunkt, in Millivolt? (Wie entworfen bleiben etwa 14 mV; unter null wird falsch gelesen.)',
      whyNot: {
        low: 'So schlimm nicht: Die Glocke kommt später, aber sie ist breit, und abgetastet wird noch auf ihrer Flanke.',
        high: 'Die Glocke kommt 76 ns später und ist um ein Viertel niedriger: Wo ihr Scheitel war, ist nun ihre ansteigende Flanke.',
      },
      meaning:
        'Toleranzen sind keine Nebensache: Die Reserve wie entworfen sagt wenig, solange Strom, Versorgung, Temperatur und Schwelle nicht bis an ihre Enden gebracht sind. Die Streuung der Bauteile nimmt sich ihren Teil dazu.',
      answers: {
        strobe: 'Abtastzeitpunkt',
        usual: 'Mit 370 mA bleiben',
        weak: 'Mit 330 mA bleiben',
        one: 'Kleinste EINS dort',
      },
      traces: { weak: 'kleinste EINS, 330 mA', usual: 'kleinste EINS, 370 mA' },
    },
  },
};
