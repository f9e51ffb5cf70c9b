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
  play: 'Auf der Bühne spielen',
  plan: 'Diese Matrix in Plan öffnen',
  back: 'Zurück',
  next: (title) => `Weiter: ${title}`,
  locked:
    'Bis zur Antwort sind Teile der Bühne verdeckt und ihre Eingaben gesperrt. Der betrachtete Zeitpunkt ist frei.',
  strobe:
    'Bis zur Antwort sind Teile der Bühne verdeckt. Abtastzeitpunkt und betrachteter Zeitpunkt sind frei.',
  threshold: 'Bis zur Antwort sind Teile der Bühne verdeckt. Schwelle und betrachteter Zeitpunkt sind frei.',
  free: 'Nichts ist mehr verdeckt, und alles darf verändert werden: ausprobieren. Der nächste Schritt bringt seine eigene Matrix mit.',
  strobeAside:
    'Den Abtastzeitpunkt auf der Bühne dorthin ziehen, wo das Latch hinsehen soll, oder mit den Pfeiltasten bewegen.',
  missing: (id) => `Einen Schritt namens ${id} gibt es nicht; hier stehen alle, die es gibt.`,
};
