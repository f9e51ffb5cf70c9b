import type { Words } from '../shape.ts';

export const manyCores: Words['lessons']['many-cores'] = {
  title: 'Viele Kerne an einem Draht',
  steps: {
    drown: {
      title: 'Mehr Kerne',
      text: 'In einer Matrix aus n × n Kernen führt jede Leitung durch n von ihnen. Gelesen wird eine NULL, so dass nichts umschaltet.',
      question:
        'Um welchen Faktor wächst von 4 × 4 auf 16 × 16, was die halb ausgewählten Kerne bei diesem Lesen höchstens geben?',
      whyNot: {
        low: 'Jeder halb ausgewählte Kern gibt seine kleine Antwort dazu. Den Zeitpunkt auf 20 ns ziehen und sie in der Matrix zählen: alle anderen auf beiden Leitungen.',
        high: 'Nicht alle Kerne der Matrix zählen. Den Zeitpunkt auf 20 ns ziehen und ansehen, wer etwas gibt: nur die auf den beiden Leitungen, Zeilen und Spalten weniger zwei.',
      },
      meaning:
        'Jeder halb ausgewählte Kern gibt seine kleine elastische Antwort dazu, und bei geradem Durchlauf addieren sie sich alle: 30 durch 6 ist 5, und fast um diesen Faktor wächst die Fläche der Störspitze. Ihre Höhe wächst etwas weniger, weil die Spannung auf einem längeren Draht langsamer steigt.',
      answers: {
        cores: 'Halb ausgewählte Kerne',
        small: 'Höchstens, 4 × 4',
        large: 'Höchstens, 16 × 16',
        factor: 'Faktor',
      },
      traces: { large: 'NULL, 16 × 16', small: 'NULL, 4 × 4' },
    },
    'the-one': {
      title: 'Und die EINS?',
      text: 'Dieselben beiden Matrizen; nun enthält der ausgewählte Kern eine EINS. Es geht um den Scheitel seiner eigenen Glocke, nicht um die Störspitze.',
      question: 'Von 4 × 4 auf 16 × 16 wird diese Glocke …',
      choices: {
        smaller: {
          text: 'viel kleiner',
          whyNot:
            'Es ist immer noch ein Kern, der umschaltet, und auf dem Draht geht wenig verloren. Was leidet, ist der Raum darunter: ansehen, wo die Reserve bleibt.',
        },
        same: { text: 'kaum anders', whyNot: 'Die beiden Werte unten vergleichen.' },
        larger: {
          text: 'größer',
          whyNot:
            'Mehr Kerne am Draht helfen ihr nicht. Den Zeitpunkt auf den Scheitel ziehen und die Matrix ansehen: Ein einziger Kern gibt fast alles davon.',
        },
      },
      meaning:
        'Das Signal bleibt; was unter ihm liegt, wächst. Darum scheitert eine große Matrix an ihren NULLEN und an ihren Störspitzen und nicht daran, dass ihre EINSEN schwach wären.',
      answers: { small: 'Glocke, 4 × 4', large: 'Glocke, 16 × 16' },
      traces: { large: 'ausgewählter Kern, 16 × 16', small: 'ausgewählter Kern, 4 × 4' },
    },
    cancel: {
      title: 'Aufheben durch die Fädelung',
      text: 'Der Lesedraht führe durch die Hälfte der Kerne jeder Zeile und jeder Spalte in Gegenrichtung.',
      question:
        'Bei 16 × 16, mit zwei Hälften statt eines geraden Durchlaufs, wird das, was die halb ausgewählten Kerne höchstens geben, …',
      choices: {
        nothing: {
          text: 'zu nichts',
          whyNot:
            'In seiner eigenen Hälfte fehlt der ausgewählte Kern: 14 stehen gegen 16. Den Zeitpunkt auf 20 ns ziehen und in der Matrix zählen, wer dazugibt und wer wegnimmt.',
        },
        smaller: { text: 'viel kleiner', whyNot: 'Die beiden Werte unten vergleichen.' },
        same: {
          text: 'nicht anders',
          whyNot:
            'Was in beiden Hälften gleich ist, wird mit beiden Vorzeichen gehört und hebt sich auf. Den Zeitpunkt auf 20 ns ziehen und in der Matrix ansehen, wer wegnimmt.',
        },
      },
      meaning:
        'Zuerst kommt die Anzahl: 14 gegen 16 von einer Art, zwei Kerne, die niemand aufhebt. Was darüber hinaus bleibt, hängt davon ab, was die Kerne enthalten.',
      answers: {
        run: 'Halb ausgewählte Kerne, gerader Durchlauf',
        halves: 'Halb ausgewählte Kerne, zwei Hälften',
        part: 'Das ist ein Anteil von',
      },
      traces: { run: 'gerader Durchlauf', halves: 'zwei Hälften' },
    },
    pattern: {
      title: 'Das ungünstigste Muster suchen',
      text: 'Eine halb ausgewählte EINS antwortet etwas stärker als eine halb ausgewählte NULL und etwas länger. Die Hälfte der Kerne wird mit dem anderen Vorzeichen gehört. Es geht um das, was nach der Flanke bleibt, wenn abgetastet wird.',
      question: 'Welches gespeicherte Muster lässt dann auf dem Draht aus zwei Hälften am meisten übrig?',
      choices: {
        zeros: {
          text: 'Lauter NULLEN',
          whyNot:
            'Alle gleich: Beide Hälften geben dasselbe, und es hebt sich auf, bis auf den Überschuss von zwei Kernen. Den Zeitpunkt auf 150 ns ziehen und ansehen, welche der halb ausgewählten Kerne am meisten geben.',
        },
        ones: {
          text: 'Lauter EINSEN',
          whyNot:
            'Wieder alle gleich, jede etwas lauter: Beide Hälften heben sich auf, bis auf zwei Kerne. Das Bit eines halb ausgewählten Kerns umdrehen und den Draht bei 150 ns ansehen.',
        },
        checkerboard: {
          text: 'Ein Schachbrettmuster',
          whyNot:
            'In jeder Hälfte stehen so viele EINSEN wie NULLEN: Auch sie heben sich auf. In der Matrix ansehen, welches Bit hier zu welchem Vorzeichen gehört: Das Schachbrett mischt sie.',
        },
        signs: {
          text: 'EINS beim einen Vorzeichen des Drahtes, NULL beim anderen',
          whyNot: 'Die vier Werte unten vergleichen.',
        },
      },
      meaning:
        'Der Unterschied zwischen EINSEN und NULLEN, das Delta-Rauschen, hebt sich nicht auf, wo das Muster den Vorzeichen der Fädelung folgt. Jede Fädelung hat ihr eigenes ungünstigstes Muster.',
      answers: {
        zeros: 'Höchstens nach 120 ns, lauter NULLEN',
        ones: 'Höchstens nach 120 ns, lauter EINSEN',
        checkerboard: 'Höchstens nach 120 ns, Schachbrett',
        signs: 'Höchstens nach 120 ns, nach den Vorzeichen des Drahtes',
      },
      traces: { zeros: 'lauter NULLEN', ones: 'lauter EINSEN', signs: 'nach den Vorzeichen des Drahtes' },
    },
    hunt: {
      title: 'Selbst das Schlimmste finden',
      text: 'Derselbe Draht in zwei Hälften bei 4 × 4: Sechs Kerne sind halb ausgewählt, und in allen steht eine NULL. Was sie nach der Flanke übrig lassen, ist weniger als ein Mikrovolt.',
      question:
        'Welche Bits müssen in diesen sechs stehen, damit sie ab 120 ns so viel wie möglich übrig lassen?',
      whyNot: {
        low: 'Irgendein Kern nimmt noch weg, was ein anderer gibt. In der Matrix ansehen, was jeder gerade gibt, und eine EINS nur dort speichern, wo sie etwas dazugibt.',
      },
      meaning:
        'Eine EINS beim einen Vorzeichen des Drahtes und eine NULL beim anderen: Dann addiert sich alles, was eine EINS mehr gibt als eine NULL. Bei sechs Kernen ist das weniger als ein Millivolt; bei 64 × 64 sind es 126 Kerne.',
      answers: { worst: 'Höchstens, ungünstigstes Muster', ones: 'Lauter EINSEN', zeros: 'Lauter NULLEN' },
      traces: { worst: 'ungünstigstes Muster', ones: 'lauter EINSEN', zeros: 'lauter NULLEN' },
    },
  },
};
