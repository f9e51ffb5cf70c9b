import type { Words } from '../shape.ts';

export const tally: Words['made']['tally'] = {
  title: 'Antworten der Klasse',
  back: 'Zurück zur Lektion',
  about:
    'Die Codes einfügen oder eintippen, einen je Zeile. Sie werden in diesem Browser ausgezählt und gehen nirgendwohin.',
  codes: 'Codes',
  count: 'Auszählen',
  counted: (counts, all) => `${counts} von ${all} Codes zählen.`,
  counting: 'Für jeden Wert wird berechnet, was richtig ist.',
  standings: {
    counts: 'zählt',
    again: 'zweimal abgegeben: einmal gezählt',
    replaced: 'durch einen späteren Code derselben Person ersetzt',
    damaged: 'beschädigt: vertippt oder abgeschnitten; neu erbitten',
    otherLesson: 'aus einer anderen Lektion, oder aus dieser, bevor sie geändert wurde',
  },
  line: (number, text, standing) => `Zeile ${number}, ${text}: ${standing}.`,
  all: 'Jeder Code zählt.',
  answered: (right, answered, all) => `${right} richtig von ${answered} beantworteten, ${all} in der Klasse.`,
  distribution: (title) => `Antworten auf „${title}“`,
  drawings: (title, count) => `${count} Zeichnungen zu „${title}“ über dem, was richtig ist`,
  asked: (target) => `verlangt: ${target}`,
  range: (low, high) => `${low} bis ${high}`,
  so: (value) => `richtig ist ${value}`,
  right: 'richtig',
  csv: 'Als CSV sichern',
  csvHeads: { student: 'Person', number: 'Nummer in der Klasse', answer: 'Antwort', right: 'richtig' },
  answerHead: 'Antwort',
  studentsHead: 'Anzahl',
  rightHead: 'Richtig',
};

export const sheets: Words['made']['sheets'] = {
  title: 'Blätter',
  back: 'Zurück zur Lektion',
  about:
    'Was unten steht, kommt auf Papier: zuerst die Fragen, mit leeren Achsen zum Skizzieren und einer Zeile für die Begründung, dann auf eigenen Seiten die Lösung mit Bildern und Eingaben. A4 oder Letter hier und im Druckfenster wählen.',
  which: 'Schritte',
  all: 'alle Schritte',
  one: (number, title) => `nur ${number} ${title}`,
  paper: 'Papier',
  papers: { a4: 'A4', letter: 'Letter' },
  numbers: 'Nummern in der Klasse',
  numbersHelp: (most) =>
    `je eine ein Blatt, etwa 1 bis 6; höchstens ${most} auf einmal. Ein Blatt für alle, wo sich nichts unterscheidet.`,
  badNumbers: (most, got) =>
    `Die Nummern müssen eine Zahl sein oder zwei, von klein bis groß mit höchstens ${most} dazwischen, etwa 1 bis 6, sind aber „${got}“.`,
  parts: 'Drucken',
  part: { both: 'Fragen und Lösung', questions: 'Fragen', key: 'Lösung' },
  print: 'Drucken',
  student: (number) => `Nummer in der Klasse: ${number}`,
  sketch: 'Hier skizzieren',
  mark: 'Hier die Stelle markieren',
  answer: 'Antwort:',
  writeBits: 'In jedes umrandete Feld 0 oder 1 schreiben; schraffiert ist der Kern, der gelesen wird.',
  reason: 'Begründung:',
  key: (title) => `Lösung: ${title}`,
  variant: (value, answer) => `${value}: ${answer}`,
  numbersOf: (numbers) => `${numbers.length === 1 ? 'Nummer' : 'Nummern'} ${numbers.join(', ')}`,
  target: (measure, sense, target) => `richtig: ${measure} ${sense} ${target}`,
  inputs: 'Eingaben dieser Matrix unter den Namen, die sie in ihrer Datei haben; alles andere ist Vorgabe',
  cores: {
    measured: 'gemessen',
    measuredInPart: 'zum Teil gemessen',
    handbook: 'aus einem Datenbuch',
    preset: 'eine Vorgabe und nicht gemessen',
    assumed: 'angenommen und nicht gemessen',
    given: 'wie angegeben',
  },
  certainty: (core, version) =>
    `Berechnet von Strobewright ${version} an der Matrix oben, wie entworfen, über die zuerst geprüften Fälle. Ihr Kern ist ${core}; eine Schätzung: messen, bevor ihm Daten anvertraut werden.`,
  uncertain: (threshold, strobe) =>
    `Schwelle auf ±${threshold} bekannt, Abtastzeitpunkt auf ±${strobe}, wie die Matrix angibt.`,
  tolerance: (within) => `richtig innerhalb von ${within}`,
};
