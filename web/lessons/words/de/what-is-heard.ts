import type { Words } from '../shape.ts';

export const whatIsHeard: Words['lessons']['what-is-heard'] = {
  title: 'Was der Lesedraht hört',
  steps: {
    draw: {
      title: 'Zeichnen, was zu erwarten ist',
      text: 'Die Matrix hat 16 Kerne, alle bis auf einen auf NULL. Beide Leitungen dieses Kerns werden in 40 ns eingeschaltet und bleiben 800 ns lang an; der Lesedraht führt durch jeden Kern. Am Ort dieses Kerns ist das Vorzeichen des Drahtes so, dass eine EINS nach oben zeigt.',
      question: 'Die Spannung am Lesedraht über die ersten 600 ns des Lesens zeichnen.',
      meaning:
        'Zweierlei nacheinander: eine Störspitze, solange die Ströme steigen, dann die Glocke des einen Kerns, der umschaltet. Die Glocke ist das Signal.',
      answers: { spike: 'Störspitze auf der Flanke', bell: 'Glocke' },
      traces: { one: 'Lesedraht, eine EINS' },
    },
    hears: {
      title: 'Woraus die Störspitze besteht',
      text: 'Der Draht hört den ausgewählten Kern, und er hört alles andere, was sich bewegt.',
      question: 'Welches ist in den ersten 60 ns des Lesens der größte Teil der Spannung?',
      choices: {
        selected: {
          text: 'Die Glocke des ausgewählten Kerns',
          whyNot:
            'Er hat kaum begonnen umzuschalten. Die Ableselinie auf 20 ns ziehen und die Ursachen ansehen.',
        },
        others: {
          text: 'Die Kopplung der Treiberleitungen und die halb ausgewählten Kerne',
          whyNot: 'Die beiden Werte unten vergleichen.',
        },
        inhibit: {
          text: 'Der Sperrstrom',
          whyNot:
            'Beim Lesen wird nichts gesperrt. Auf der Bühne den ganzen Zyklus zeigen und den Sperrstrom bei den Strömen suchen: Er fließt mit dem Schreiben.',
        },
      },
      meaning: 'All das lebt von den Flanken der Ströme: Es kommt und geht mit ihnen. Die Glocke nicht.',
      answers: {
        selected: 'Ausgewählter Kern, erste 60 ns',
        others: 'Kopplung und halb ausgewählte Kerne',
        bell: 'Glocke des ausgewählten Kerns später',
      },
      traces: {
        half: 'halb ausgewählte Kerne',
        direct: 'direkte Kopplung',
        selected: 'ausgewählter Kern',
      },
    },
    late: {
      title: 'Warum die Glocke spät kommt',
      text: 'Nach 40 ns hat der Strom seinen vollen Wert; die Glocke des Kerns erreicht ihren Scheitel lange danach.',
      question: 'Mit einem Zehntel mehr Strom in beiden Leitungen kommt der Scheitel der Glocke …',
      choices: {
        earlier: { text: 'früher und höher', whyNot: 'Die drei Läufe unten vergleichen.' },
        same: {
          text: 'zur selben Zeit, aber höher',
          whyNot:
            'Die Verzögerung ist nicht die des Stromes: Wie schnell der Kern umschaltet, bestimmt die Durchflutung jenseits seiner Schwelle. Jede Leitung auf 330 mA stellen und den Scheitel ansehen.',
        },
        later: {
          text: 'später, weil mehr umzuschalten ist',
          whyNot:
            'Umzuschalten ist genau so viel Fluss, und er wird schneller umgeschaltet. Jede Leitung auf 330 mA stellen und ansehen, wie viel später der Scheitel kommt.',
        },
      },
      meaning:
        'Wie schnell ein Kern umschaltet, folgt aus der Durchflutung jenseits seiner Schwelle. Die Fläche ist der Fluss, und der Fluss bleibt gleich: Eine doppelt so hohe Glocke ist halb so breit und früher vorbei. Darum liegt der Abtastzeitpunkt so spät, und darum muss er dem Strom folgen.',
      answers: { bell: 'Glocke bei {}' },
      traces: {},
    },
    zero: {
      title: 'Und wenn er eine NULL enthielt?',
      text: 'Dasselbe Lesen, dieselben Ströme; der ausgewählte Kern steht schon dort, wohin ihn das Lesen brächte.',
      question: 'Was zeigt der Lesedraht bei einer NULL?',
      choices: {
        nothing: {
          text: 'Gar nichts',
          whyNot:
            'Es fehlt nur, was bleibend umschaltet. Den Zeitpunkt auf 20 ns ziehen und die Ursachen ansehen: Alles, was an den Flanken der Ströme hängt, ist noch da.',
        },
        spike: { text: 'Die Störspitze ohne die Glocke', whyNot: 'Die beiden Werte unten vergleichen.' },
        reverse: {
          text: 'Dieselbe Glocke auf dem Kopf',
          whyNot:
            'Das wäre das Schreiben einer EINS. Weiter als bis ans Ende seiner Schleife kommt ein Kern nicht: den Zeitpunkt durch das Lesen ziehen und den Punkt ansehen.',
        },
      },
      meaning:
        'EINS und NULL unterscheiden sich nur dort, wo die Glocke ist. Davor gleichen sie sich und danach auch: Es gibt eine einzige Strecke, auf der ein Latch sie auseinanderhalten kann.',
      answers: {
        spike: 'Störspitze einer NULL',
        left: 'Rest, wo die Glocke einer EINS ihren Scheitel hat',
      },
      traces: { one: 'EINS', zero: 'NULL' },
    },
  },
};
