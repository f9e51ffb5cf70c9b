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
    'capture-1': {
      ...FOUND,
      title: 'Eine Aufnahme, die nicht stimmt',
      meaning:
        'Eine Glocke, die zugleich niedriger und später ist, wurde zu schwach getrieben oder ist kalt: Beides wirkt auf die Durchflutung jenseits der Schwelle.',
    },
    'capture-2': {
      ...FOUND,
      title: 'Noch eine',
      meaning:
        'Zwei kleine Störspitzen statt einer großen, und die Glocke als Ganzes verschoben: Jede Leitung macht ihre eigene Spitze, und der Kern schaltet erst um, wenn beide da sind.',
    },
    'capture-3': {
      ...FOUND,
      title: 'Und eine dritte',
      meaning:
        'Alles hat seine gewohnte Größe und Zeit, nur zeigt die Glocke in die Gegenrichtung: Der Draht führt durch diesen einen Kern von der falschen Seite. Ein Detektor für beide Vorzeichen würde es nicht einmal merken.',
    },
    slice: {
      title: 'Die Schwelle einstellen',
      text: 'Eine Matrix von 32 × 32 in einem geraden Durchlauf; bei jeder Schwelle wird bestmöglich abgetastet. Liegt die Schwelle bei 18 mV, so bleiben auf der Seite der NULL 6,3 mV und auf der Seite der EINS mehr.',
      question: 'Die Schwelle so einstellen, dass auf der knapperen Seite am meisten bleibt.',
      whyNot: {
        low: 'Tiefer hilft der EINS, aber knapper ist die NULL. In die andere Richtung gehen.',
        high: 'Zu weit: Jetzt ist die EINS knapper. Zurückgehen: Dazwischen sind beide Seiten gleich.',
      },
      meaning:
        'Abtastzeitpunkt und Schwelle gehören zusammen: Jedes hat seinen besten Platz nur für das andere. Fädelung, Strom und Abschlüsse des Drahtes sind jetzt frei: eine noch größere Reserve suchen.',
      answers: { best: 'Am besten', left: 'Dort bleiben', before: 'Bei 18 mV bleiben' },
      traces: { one: 'kleinste EINS', zero: 'größte NULL' },
    },
    'own-board': {
      title: 'Eine Reserve erreichen',
      text: 'Eine Matrix von 32 × 32 im geraden Durchlauf: Bei 370 mA je Leitung und einer Schwelle von 18 mV bleiben im besten Abtastzeitpunkt 6,3 mV. Was daran etwas ändert, haben die Lektionen gezeigt.',
      question: 'Die Matrix verändern, bis mindestens 10,5 mV bleiben.',
      whyNot: {
        one: 'Knapper ist die EINS: Mehr Strom oder eine tiefere Schwelle gibt ihr Platz. Beides kostet die NULL etwas.',
        zero: 'Knapper ist die NULL: Weniger Strom, eine Fädelung, die aufhebt, oder eine höhere Schwelle gibt ihr Platz. Jedes davon kostet die EINS etwas.',
        fewer:
          'Es sind weniger Kerne als vorher; mit denen ist es keine Kunst. Zeilen und Spalten wiederherstellen.',
      },
      meaning:
        'Etwas weniger Strom genügt hier. Eine höhere Schwelle allein oder zwei Hälften allein bringen viel, bleiben aber knapp unter 10,5 mV. Und das ist die Reserve, wie sie entworfen ist: Was Versorgung, Temperatur und Streuung davon nehmen, sagt Plan in den Ecken.',
      answers: { first: 'Vor jeder Änderung bleiben', strobe: 'Bester Abtastzeitpunkt dabei' },
      traces: { one: 'kleinste EINS, vorher', zero: 'größte NULL, vorher' },
    },
    'real-capture': {
      title: 'Eine wirkliche Aufnahme neben ihrer Vorhersage',
      text: 'Ein Kern von 1,3 mm, gemessen samt dem Strom durch ihn („Magnetic Core Memory Controller“, 2025, HX2003/HX2003.github.io). Der Kern der Vorhersage ist an dieses Lesen angepasst; dass die beiden Kurven aufeinander liegen, beweist also nichts. Das Schreiben, das die EINS 4,8 µs später zurückbringt, ging nicht in die Anpassung ein; auch sein Strom ist gemessen.',
      question: 'Wie gut sagt dieser Kern den Scheitel des Schreibens voraus?',
      choices: {
        exact: {
          text: 'Auf ein Fünfzigstel, wie beim Lesen',
          whyNot:
            'Eine Anpassung liegt gut auf dem, woran sie angepasst wurde: Sie darf jeden Parameter biegen. Auf der Bühne einen Strom ändern: Von diesem Scheitel hat keine Anpassung etwas gesehen.',
        },
        near: {
          text: 'Er verfehlt ihn um etwa ein Zwanzigstel',
          whyNot: 'Unten die beiden Scheitel des Schreibens ansehen, und um wie viel der obere höher liegt.',
        },
        far: {
          text: 'Er verfehlt ihn um mehr als ein Siebtel',
          whyNot:
            'Es ist derselbe Kern bei fast demselben Strom: Das meiste, was das Lesen sagt, gilt auch beim Schreiben. Die Ableselinie über beide Glocken ziehen und vergleichen.',
        },
      },
      meaning:
        'Wie gut eine Anpassung vorhersagt, zeigt, was nicht in sie einging, und nicht, was in sie einging. Und es bleibt ein Kern, ein Messgerät und fast nur ein Strom: Bei anderen Strömen, zu deren Kurven der Strom selbst nicht vorliegt, liegt er weiter daneben. In Plan steht dieser Kern, angepasst an alle seine veröffentlichten Kurven, dieses Schreiben eingeschlossen; dort ist deshalb nichts ein Beweis dafür.',
      answers: {
        read: 'Scheitel des Lesens, gemessen und angepasst',
        write: 'Scheitel des Schreibens, gemessen und vorhergesagt',
        off: 'Zu hoch vorhergesagt um',
        early: 'Zu früh vorhergesagt um',
      },
      traces: { measured: 'gemessen', told: 'aus dem Lesen vorhergesagt' },
    },
  },
};
