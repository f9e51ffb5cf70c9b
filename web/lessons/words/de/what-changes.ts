import type { Words } from '../shape.ts';

export const whatChanges: Words['lessons']['what-changes'] = {
  title: 'Was sich ändert',
  steps: {
    warm: {
      title: 'Ein warmer Tag',
      text: 'Die Ströme bleiben, wie sie sind; die Matrix erwärmt sich von 25 auf 45 °C.',
      question: 'Der Scheitel der Glocke kommt …',
      choices: {
        earlier: { text: 'früher und höher', whyNot: 'Die drei Läufe unten vergleichen.' },
        same: {
          text: 'wann er vorher kam',
          whyNot:
            'Die Schwelle des Kerns sinkt um ein halbes Prozent je Grad: Von der Durchflutung jenseits davon ist das weit mehr. Die Temperatur auf 25 °C zurückstellen und den Scheitel ansehen.',
        },
        later: {
          text: 'später und niedriger',
          whyNot:
            'Das ist die kalte Matrix. Warmer Ferrit schaltet leichter um; derselbe Strom ist für ihn mehr. Die Temperatur auf 5 °C stellen und ansehen.',
        },
      },
      meaning:
        'Ein Abtastzeitpunkt, der in der Kälte stimmt, liegt in der Wärme vielleicht zu spät, und halb ausgewählte Kerne beginnen zu kriechen. Darum lässt man den Strom der Treiber mit der Wärme oft sinken; der nächste Schritt zeigt, was das bewirkt.',
      answers: { bell: 'Glocke bei {}' },
      traces: {},
    },
    tracks: {
      title: 'Treiber, die der Wärme folgen',
      text: 'Bei gleichbleibenden Strömen wandert der Scheitel der Glocke zwischen 5 und 45 °C um 80 ns. Nun verlieren die Treiber je Grad ein halbes Prozent ihres Stromes, so wie der Kern je Grad ein halbes Prozent seiner Schwelle verliert.',
      question: 'Um wie viel wandert der Scheitel der Glocke jetzt zwischen 5 und 45 °C?',
      choices: {
        same: {
          text: 'So weit wie zuvor',
          whyNot:
            'Es zählt die Durchflutung jenseits der Schwelle, und die wächst mit der Wärme nicht mehr. Die Temperatur auf 5 °C stellen und ansehen, wie wenig der Scheitel wandert.',
        },
        less: { text: 'Viel weniger, aber er wandert', whyNot: 'Die drei Läufe unten vergleichen.' },
        none: {
          text: 'Gar nicht',
          whyNot:
            'Strom und Schwelle schrumpfen gleich, also auch ihre Differenz: Der warme Kern wird etwas schwächer getrieben. 5 °C einstellen und ansehen, wohin der Scheitel geht.',
        },
      },
      meaning:
        'Die Nachführung nimmt das meiste der Wanderung weg und kehrt den Rest um: Schrumpfen zwei Größen gleich, so schrumpft auch ihre Differenz, und die warme Glocke kommt nun etwas spät. Etwas weniger als ein halbes Prozent wäre besser; in Plan ausprobieren.',
      answers: { bell: 'Glocke bei {}', shift: 'Von 5 auf 45 °C: ohne und mit Nachführung' },
      traces: {},
    },
    parts: {
      title: 'Kerne, wie sie kommen',
      text: 'Keine zwei Kerne sind gleich. Von 1024, deren Schwellen um 3 % streuen (eine Standardabweichung), liegen zwei oder drei mehr als 9 % neben der Mitte.',
      question: 'Ein Strom treibt sie alle. Die Glocke eines Kerns mit 9 % zu hohen Schwellen kommt …',
      choices: {
        earlier: {
          text: 'früher und höher',
          whyNot:
            'Das ist der weiche Kern am anderen Ende: Eine hohe Schwelle lässt weniger jenseits davon übrig. Jeder Leitung ein Zehntel mehr geben und ansehen, was diesem Kern fehlt.',
        },
        same: {
          text: 'zur selben Zeit: Umgeschaltet wird derselbe Fluss',
          whyNot:
            'Derselbe Fluss, aber mit anderer Geschwindigkeit. Jeder Leitung ein Zehntel mehr geben und ansehen, wie die Glocke höher und dabei schmaler wird.',
        },
        later: { text: 'später und niedriger', whyNot: 'Die drei Läufe unten vergleichen.' },
      },
      meaning:
        'Ein Abtastzeitpunkt muss für alle gelten; eine Matrix ist also so gut wie ihr härtester Kern, und ihr weichster kriecht zuerst. Darum wurden Kerne vor dem Fädeln einzeln geprüft, und darum ist die Reserve wie entworfen nicht die der Kerne, wie sie kommen.',
      answers: { bell: 'Glocke bei {}' },
      traces: {},
    },
    drift: {
      title: 'Ein fester Abtastzeitpunkt, wenn der Strom sinkt',
      text: 'Der Abtastzeitpunkt liegt bestmöglich für die Matrix wie entworfen, mit 370 mA je Leitung. Nun sinkt der Strom auf 330 mA.',
      question:
        'Wie viel bleibt dann in diesem Zeitpunkt, in Millivolt? (Wie entworfen bleiben etwa 14 mV; unter null wird falsch gelesen.)',
      whyNot: {
        low: 'So schlimm nicht: Die Glocke kommt später, aber sie ist breit, und abgetastet wird noch auf ihrer Flanke. Den Abtastzeitpunkt dorthin ziehen und ablesen, was bleibt.',
        high: 'Die Glocke kommt 76 ns später und ist um ein Viertel niedriger: Wo ihr Scheitel war, ist nun ihre ansteigende Flanke. Später abtasten und ansehen, was bleibt.',
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
