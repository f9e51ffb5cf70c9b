import type { Words } from '../shape.ts';

export const onStage: Words['onStage'] = {
  all: 'Alle Lektionen',
  lesson: 'Lektion',
  steps: (lesson) => `Schritte von „${lesson}“`,
  right: ', richtig beantwortet',
  wrong: ', beantwortet, nicht richtig',
  seen: ', Lösung gesehen',
  score: (right, answered) =>
    answered === 0 ? 'Noch nichts beantwortet' : `${right} von ${answered} richtig beantwortet`,
  covered: 'Verdeckt, bis die Frage beantwortet ist',
  play: 'Auf der Bühne spielen',
  plan: 'Diese Matrix in Plan öffnen',
  back: 'Zurück',
  next: (title) => `Weiter: ${title}`,
  locked:
    'Bis zur Antwort sind Teile der Bühne verdeckt und ihre Eingaben gesperrt. Der betrachtete Zeitpunkt ist frei.',
  movable: {
    strobe:
      'Bis zur Antwort sind Teile der Bühne verdeckt. Abtastzeitpunkt und betrachteter Zeitpunkt sind frei.',
    threshold:
      'Bis zur Antwort sind Teile der Bühne verdeckt. Schwelle und betrachteter Zeitpunkt sind frei.',
    bits: 'Bis zur Antwort sind Teile der Bühne verdeckt. Die Bits, hier oder in der Matrix, und der betrachtete Zeitpunkt sind frei.',
    drivers: 'Bis zur Antwort sind Teile der Bühne verdeckt. Strom und betrachteter Zeitpunkt sind frei.',
  },
  goal: 'Der Kern, seine Bits und die Güte von Detektor und Latch bleiben, wie sie sind; alles andere darf sich ändern, in den Teilen über der Bühne und auf ihr.',
  leftNow: (volts) => `Jetzt bleiben ${volts}.`,
  takeOwn: 'Stattdessen den eigenen Entwurf nehmen',
  ownAsks:
    'Beim eigenen Entwurf ist ein Viertel mehr verlangt, als er hat, mindestens aber 1 mV mehr; ob sich das erreichen lässt, hat niemand geprüft.',
  changeFirst: 'Erst etwas verändern: die Teile über der Bühne oder auf ihr Abtastzeitpunkt und Schwelle.',
  free: 'Nichts ist mehr verdeckt, und alles darf verändert werden: ausprobieren. Der nächste Schritt bringt seine eigene Matrix mit.',
  strobeAside:
    'Den Abtastzeitpunkt auf der Bühne dorthin ziehen, wo das Latch hinsehen soll, oder mit den Pfeiltasten bewegen.',
  missing: (id) => `Einen Schritt namens ${id} gibt es nicht; hier stehen alle, die es gibt.`,
};
