import type { Words } from '../shape.ts';

export const theMachine: Words['lessons']['the-machine'] = {
  title: 'Der Speicher um die Matrix',
  steps: {
    inhibit: {
      title: 'Wie eine NULL geschrieben wird',
      text: 'Alle Matrizen eines Stapels haben X- und Y-Leitungen gemeinsam; ein Schreiben brächte also in jede Matrix eine EINS. Wo eine NULL hingehört, führt ein weiterer Draht durch alle Kerne dieser Matrix während des Schreibens einen Strom.',
      question: 'Wie groß soll dieser Strom sein, als Durchflutung eines Kerns?',
      choices: {
        against: {
          text: 'Etwa wie der einer Leitung, gegen das Schreiben',
          whyNot: 'Die Summen unten ansehen: am adressierten Kern und an einem, den keine Leitung auswählt.',
        },
        both: {
          text: 'So groß wie beide Leitungen zusammen, gegen das Schreiben',
          whyNot:
            'Dann sähe der adressierte Kern nichts, aber jeder andere der Matrix ein volles Lesen. Einen Kern abseits der beiden Leitungen antippen und den Sperrstrom verdoppeln.',
        },
        along: {
          text: 'Etwa wie der einer Leitung, mit dem Schreiben',
          whyNot:
            'Das würde den Kern noch schneller umschalten und die ganze Matrix in Richtung EINS halb auswählen. Den Zeitpunkt ins Schreiben ziehen: Der Sperrstrom muss den Punkt festhalten.',
        },
      },
      meaning:
        'Als Durchflutung gerechnet nimmt der Sperrstrom den Strom einer Leitung wieder weg: Der adressierte Kern sieht etwa einen Halbstrom, der Rest der Matrix ebenso, nur in Gegenrichtung. Er muss das Schreiben an beiden Enden überdecken.',
      answers: {
        addressed: 'Adressierter Kern: X + Y − Sperrstrom',
        lines: 'Andere auf seinen beiden Leitungen: eine Leitung − Sperrstrom',
        rest: 'Der ganze Rest der Matrix',
      },
      traces: { x: 'X, und Y ebenso', inhibit: 'Sperrstrom', seen: 'am adressierten Kern' },
    },
    wires: {
      title: 'Drei Drähte oder vier',
      text: 'Bei drei Drähten durch einen Kern hört und sperrt ein Draht abwechselnd. Bei vier hat der Sperrstrom einen eigenen Draht, und der Lesedraht führt durch die Hälfte der Kerne mit ihm und durch die andere Hälfte gegen ihn. Beim Schreiben fließt in beiden Fällen derselbe Sperrstrom.',
      question: 'Wie viel vom Sperrimpuls hört der Lesedraht bei vier Drähten noch?',
      choices: {
        same: {
          text: 'Etwa ebenso viel',
          whyNot:
            'Der Strom selbst fließt nicht mehr in ihm. Was bleibt, ist Kopplung, und zwar mit beiden Vorzeichen. Die Fädelung auf einen gemeinsamen geraden Durchlauf stellen und vergleichen.',
        },
        half: {
          text: 'Etwa die Hälfte',
          whyNot:
            'Die Hälfte der Kerne nimmt ihn mit, die Hälfte entgegen: Beide in der Matrix zählen, während der Sperrstrom steigt, und voneinander abziehen.',
        },
        nothing: { text: 'So gut wie nichts', whyNot: 'Die beiden Werte unten vergleichen.' },
      },
      meaning:
        'Ein eigener Lesedraht kostet einen vierten Draht durch jeden Kern, für den in kleinen Kernen kaum Platz ist. Bei dreien muss der Draht den ganzen Impuls ertragen und bis zum nächsten Lesen wieder ruhig sein. Eine wirkliche Fädelung hebt weniger vollkommen auf als diese ideale.',
      answers: { three: 'Vom Sperrimpuls gehört, drei Drähte', four: 'Vier Drähte' },
      traces: { three: 'Sperrimpuls, drei Drähte', four: 'Sperrimpuls, vier Drähte' },
    },
    drivers: {
      title: 'Was gemeinsame Leitungen sparen',
      text: 'Zwölf Matrizen zu 32 × 32 enthalten Wörter von 12 Bit. Mit Sperrdrähten teilen sich alle Matrizen X- und Y-Leitungen. Der andere Weg ist, jeder Matrix eigene X- und Y-Leitungen zu geben und eine Leitung wegzulassen, wo eine NULL hingehört.',
      question: 'Wie viele Treiber braucht der andere Weg gegenüber dem mit Sperrdrähten?',
      choices: {
        same: {
          text: 'Etwa ebenso viele',
          whyNot:
            'Auf der Bühne die Größe der Matrix ansehen und abzählen: Zeilen und Spalten einmal und ein Sperrtreiber je Matrix, gegen Zeilen und Spalten jeder Matrix.',
        },
        twice: {
          text: 'Etwa doppelt so viele',
          whyNot:
            'Mehr: auf der Bühne die Leitungen der Matrix zählen. Jede der zwölf bringt ihre eigenen 64 mit.',
        },
        ten: { text: 'Etwa zehnmal so viele', whyNot: 'Die beiden Zahlen unten vergleichen.' },
      },
      meaning:
        'Die Koinzidenz zweier Leitungen und ein Sperrdraht je Bit haben große Speicher bezahlbar gemacht. Dazwischen liegen Speicher mit gemeinsamen X-Leitungen und eigenen Y-Leitungen je Bit: ohne Sperrdraht, so dass drei oder gar zwei Drähte genügen, aber mit einem Mehrfachen an Treibern. Ein Speicher, der ganze Wörter mit einer Leitung auswählt, braucht einen Treiber je Wort.',
      answers: {
        shared: 'Gemeinsam: Zeilen + Spalten + Matrizen',
        perBit: 'X gemeinsam, Y je Matrix: Zeilen + Spalten × Matrizen',
        own: 'Beide je Matrix: (Zeilen + Spalten) × Matrizen',
        words: 'Eine Leitung je Wort: Zeilen × Spalten + Matrizen',
      },
      traces: { x: 'X, allen Matrizen gemeinsam', inhibit: 'Sperrstrom einer Matrix' },
    },
    recover: {
      title: 'Erholung vom Sperrimpuls',
      text: 'In dieser Matrix führt der Draht, der die Kerne hört, auch den Sperrstrom. Das nächste Lesen folgt bald darauf.',
      question: 'Wie verhält sich die Spannung des Sperrimpulses auf diesem Draht zu der einer EINS?',
      choices: {
        smaller: {
          text: 'Sie ist kleiner',
          whyNot:
            'Hunderte von Milliampere durch die Abschlüsse des Drahtes: in Volt rechnen, nicht in Millivolt. Die Ableselinie zum Schreiben ziehen und ablesen.',
        },
        same: {
          text: 'Sie ist etwa so groß',
          whyNot:
            'Weit mehr: die Ableselinie über das Schreiben ziehen, auf eine EINS umschalten und mit deren Glocke vergleichen.',
        },
        larger: { text: 'Sie ist um ein Vielfaches größer', whyNot: 'Die beiden Werte unten vergleichen.' },
      },
      meaning:
        'Der Draht und der Verstärker dahinter müssen bis zum nächsten Abtasten zur Ruhe kommen. In dieser Matrix aus 16 Kernen gelingt das leicht.',
      answers: { pulse: 'Sperrimpuls auf dem Draht', bell: 'Glocke der EINS', ratio: 'Verhältnis' },
      traces: { inhibit: 'Sperrimpuls', core: 'ausgewählter Kern, EINS' },
    },
    'recover-64': {
      title: 'Dasselbe auf einer großen Matrix',
      text: 'Dieselben Impulse bei 64 × 64 und ein Zyklus von 2,3 µs: Das nächste Lesen beginnt 300 ns nach dem Ende des Schreibens. Der Verstärker nimmt an seinem Eingang höchstens 1 V an und gibt höchstens 5 V ab.',
      question: 'Wo steht der Ausgang des Verstärkers in diesem Augenblick?',
      choices: {
        rest: {
          text: 'In Ruhe',
          whyNot:
            'Bei 16 Kernen wäre es so. Hier hält die Induktivität von 4096 Kernen den Strom aufrecht. Die Ableselinie am Ausgang entlangziehen: Er bleibt an seiner Grenze.',
        },
        tail: {
          text: 'Auf einem Ausläufer unterhalb der Schwelle',
          whyNot:
            'Noch nicht: Etliche Volt müssen erst auf Millivolt abklingen. Die Ableselinie ans Ende des Zyklus ziehen und den Ausgang ablesen.',
        },
        over: { text: 'Weit über der Schwelle', whyNot: 'Ausgang und Schwelle unten vergleichen.' },
      },
      meaning:
        'Der Verstärker ist noch übersteuert: Was immer das nächste Lesen gibt, es wäre nicht zu hören, bevor der Ausläufer vergangen ist. Hier bestimmt die Erholung die Zykluszeit. Kürzere Drähte, Hälften mit je einem Verstärker oder eine Begrenzung verkürzen sie.',
      answers: {
        next: 'Ausgang nach 300 ns, 64 × 64',
        threshold: 'Schwelle dort',
        large: 'Ruhig nach dem Schreiben, 64 × 64',
        small: 'Ruhig nach dem Schreiben, 4 × 4',
      },
      traces: { large: 'Verstärker, 64 × 64', small: 'Verstärker, 4 × 4' },
    },
  },
};
