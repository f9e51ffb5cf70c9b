import type { Words } from '../shape.ts';

const FOUND = {
  text: 'Das Lesen einer EINS wurde am Draht der Lernmatrix aufgenommen. Es ist nicht, was der Entwurf erwarten lässt, und genau eines stimmt nicht.',
  question: 'Was stimmt nicht?',
  choices: {
    late: {
      text: 'Eine Leitung kommt 80 ns zu spät',
      whyNot:
        'Das würde die Störspitze in zwei teilen, eine je Leitung, und die Glocke als Ganzes verschieben. In Plan eine Staffelung einstellen und ansehen.',
    },
    weak: {
      text: 'Beide Leitungen führen ein Zehntel zu wenig',
      whyNot:
        'Das würde die Glocke später und niedriger machen und die Störspitze ungeteilt lassen. In Plan beide Leitungen schwächer stellen und ansehen.',
    },
    missing: {
      text: 'Der adressierte Kern fehlt',
      whyNot: 'Dann bliebe gar keine Glocke, nur die Störspitze. In Plan den Kern herausnehmen und ansehen.',
    },
    backwards: {
      text: 'Der adressierte Kern ist verkehrt herum eingefädelt',
      whyNot:
        'Dann zeigte die Glocke zur gewohnten Zeit in die Gegenrichtung. In Plan den Kern umdrehen und ansehen.',
    },
  },
  answers: { expected: 'Glocke des ausgewählten Kerns, erwartet', found: 'Gefunden' },
  traces: { expected: 'erwartet', found: 'gefunden' },
};

export const missions: Words['lessons']['missions'] = {
  title: 'Aufträge',
  steps: {
    'find-weak': {
      ...FOUND,
      title: 'Eine Aufnahme, die nicht stimmt',
      meaning:
        'Eine Glocke, die zugleich niedriger und später ist, wurde zu schwach getrieben oder ist kalt: Beides wirkt auf die Durchflutung jenseits der Schwelle.',
    },
    'find-late': {
      ...FOUND,
      title: 'Noch eine',
      meaning:
        'Zwei kleine Störspitzen statt einer großen, und die Glocke als Ganzes verschoben: Jede Leitung macht ihre eigene Spitze, und der Kern schaltet erst um, wenn beide da sind.',
    },
    'find-backwards': {
      ...FOUND,
      title: 'Und eine dritte',
      meaning:
        'Alles hat seine gewohnte Größe und Zeit, nur zeigt die Glocke in die Gegenrichtung: Der Draht führt durch diesen einen Kern von der falschen Seite. Ein Detektor für beide Vorzeichen würde es nicht einmal merken.',
    },
    slice: {
      title: 'Die Schwelle einstellen',
      text: 'Eine Matrix von 32 × 32 in einem geraden Durchlauf; bei jeder Schwelle wird bestmöglich abgetastet. Liegt die Schwelle bei 18 mV, so bleiben auf der Seite der NULL 6,3 mV und auf der Seite der EINS mehr.',
      question: 'Bei welcher Schwelle bleibt auf der knapperen Seite am meisten?',
      whyNot: {
        low: 'Tiefer hilft der EINS, aber knapper ist die NULL. In die andere Richtung gehen.',
        high: 'Zu weit: Jetzt ist die EINS knapper. Dazwischen sind beide Seiten gleich.',
      },
      meaning:
        'Abtastzeitpunkt und Schwelle gehören zusammen: Jedes hat seinen besten Platz nur für das andere. In Plan öffnen und eine noch größere Reserve suchen; Fädelung, Strom und Abschlüsse des Drahtes dürfen sich ändern.',
      answers: { best: 'Am besten', left: 'Dort bleiben', before: 'Bei 18 mV bleiben' },
      traces: { one: 'kleinste EINS', zero: 'größte NULL' },
    },
  },
};
