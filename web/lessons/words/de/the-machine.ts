import type { Words } from '../shape.ts';

export const theMachine: Words['lessons']['the-machine'] = {
  title: 'Der Speicher um die Matrix',
  steps: {
    inhibit: {
      title: 'Eine NULL ist ein gesperrtes Schreiben',
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
            'Dann sähe der adressierte Kern nichts, aber jeder andere Kern der Matrix ein volles Lesen, und er verlöre seine EINS.',
        },
        along: {
          text: 'Etwa wie der einer Leitung, mit dem Schreiben',
          whyNot:
            'Das würde den Kern noch schneller umschalten und die ganze Matrix in Richtung EINS halb auswählen.',
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
    drivers: {
      title: 'Was gemeinsame Leitungen sparen',
      text: 'Zwölf Matrizen zu 32 × 32 enthalten Wörter von 12 Bit. Mit Sperrdrähten teilen sich alle Matrizen X- und Y-Leitungen. Der andere Weg ist, jeder Matrix eigene X- und Y-Leitungen zu geben und eine Leitung wegzulassen, wo eine NULL hingehört.',
      question: 'Wie viele Treiber braucht der andere Weg gegenüber dem mit Sperrdrähten?',
      choices: {
        same: {
          text: 'Etwa ebenso viele',
          whyNot:
            'Abzählen: Zeilen und Spalten einmal und ein Sperrtreiber je Matrix, gegen Zeilen und Spalten jeder Matrix.',
        },
        twice: {
          text: 'Etwa doppelt so viele',
          whyNot: 'Mehr: Jede Matrix bringt ihre eigenen 64 Leitungen mit.',
        },
        ten: { text: 'Etwa zehnmal so viele', whyNot: 'Die beiden Zahlen unten vergleichen.' },
      },
      meaning:
        'Die Koinzidenz zweier Leitungen und ein Sperrdraht je Bit haben große Speicher bezahlbar gemacht. Ein Speicher, der ganze Wörter mit einer Leitung auswählt, braucht ebenfalls keinen Sperrdraht, aber einen Treiber je Wort.',
      answers: {
        shared: 'Gemeinsam: Zeilen + Spalten + Matrizen',
        own: 'Eigene Leitungen je Matrix: (Zeilen + Spalten) × Matrizen',
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
            'Hunderte von Milliampere durch die Abschlüsse des Drahtes: in Volt rechnen, nicht in Millivolt.',
        },
        same: { text: 'Sie ist etwa so groß', whyNot: 'Weit mehr: das Verhältnis unten ansehen.' },
        larger: { text: 'Sie ist um ein Vielfaches größer', whyNot: 'Die beiden Werte unten vergleichen.' },
      },
      meaning:
        'Der Draht und der Verstärker dahinter müssen bis zum nächsten Abtasten zur Ruhe kommen. In dieser Matrix gelingt das leicht; mit mehr Kernen am Draht oder einem schnelleren Zyklus begrenzt es die Zugriffsrate.',
      answers: { pulse: 'Sperrimpuls auf dem Draht', bell: 'Glocke der EINS', ratio: 'Verhältnis' },
      traces: { inhibit: 'Sperrimpuls', core: 'ausgewählter Kern, EINS' },
    },
    magnet: {
      title: 'Ein Magnet an einem Kern',
      text: 'Einen Magneten an den ausgewählten Kern halten. Hier steht er für eine Durchflutung von 2 A, die nie aufhört; ein wirklicher Magnet quer über einem Ring treibt dessen Hälften gegeneinander und hält sie trotzdem fest.',
      question: 'Was bleibt von seinen beiden Glocken?',
      choices: {
        gone: { text: 'Beide sind weg', whyNot: 'Die Werte unten vergleichen.' },
        read: {
          text: 'Nur die des Lesens ist weg',
          whyNot:
            'Ein Kern, der in der einen Richtung nicht umschalten kann, kann es auch zurück nicht: Es gibt nichts zurückzuschalten.',
        },
        stay: {
          text: 'Beide bleiben',
          whyNot:
            'Die Durchflutung des Magneten geht weit über die der Leitungen hinaus: Der Kern steht am Ende seiner Schleife.',
        },
      },
      meaning:
        'Es bleibt nur seine kleine elastische Antwort auf den Flanken: eine Probe für jeden Kern einer wirklichen Matrix. Ein schwacher Magnet bewirkt weniger: Er verschiebt die Durchflutung, und die Glocke kommt spät oder früh.',
      answers: { read: 'Leseglocke, frei und gehalten', write: 'Schreibglocke, frei und gehalten' },
      traces: { free: 'frei', held: 'vom Magneten gehalten' },
    },
  },
};
