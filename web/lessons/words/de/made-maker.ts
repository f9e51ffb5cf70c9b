import type { Words } from '../shape.ts';

export const maker: Words['made']['maker'] = {
  title: 'Lektionen machen',
  about:
    'Schritte des Kurses wählen und eigene Fragen dazustellen. Jedes Ziel wird an der eigenen Matrix berechnet; was niemand erreichen kann, wird abgelehnt. Die Lektion bleibt in diesem Browser, wird als Datei gesichert und als Link oder auf Papier ausgegeben.',
  toCourse: 'Zum Kurs',
  enter: 'Eine eigene Lektion machen',
  name: 'Titel der Lektion',
  seed: 'Startzahl der Varianten',
  seedHelp: (most) => `0 bis ${most}: welche Nummer der Klasse mit welchem Wert beginnt`,
  steps: 'Schritte',
  noSteps: 'Noch kein Schritt: unten einen hinzufügen.',
  drag: (title) => `An eine andere Stelle ziehen: ${title}`,
  up: (title) => `Nach oben: ${title}`,
  down: (title) => `Nach unten: ${title}`,
  remove: (title) => `Herausnehmen: ${title}`,
  undo: 'In der Lektion rückgängig machen',
  redo: 'In der Lektion wiederherstellen',
  addCourse: 'Einen Schritt des Kurses hinzufügen',
  addCourseFirst: 'Einen Schritt wählen …',
  addOwn: 'Eine eigene Frage hinzufügen',
  open: 'Eine Lektion öffnen',
  fresh: 'Neue Lektion',
  freshTitle: 'Meine Lektion',
  freshStep: {
    title: 'Eine Frage',
    question: 'Wie hoch ist die Glocke des ausgewählten Kerns, in Millivolt?',
  },
  currents: 'Ströme beider Leitungen, Lesen und Schreiben',
  rises: 'Anstieg beider Leitungen',
  fromCourse: 'aus dem Kurs',
  whyNots: 'Warum nicht; erscheint, wenn die Zeichnung so ist',
  courseStep: 'Ein Schritt des Kurses: Text, Matrix und Antwort sind die des Kurses.',
  editOf: (number, title) => `Schritt ${number}: ${title}`,
  stepTitle: 'Titel',
  text: 'Text vor der Frage',
  question: 'Frage',
  answeredBy: 'Beantwortet durch',
  meaning: 'Text nach der Antwort',
  measure: 'Was berechnet wird',
  madeByMe: 'nichts: die richtige Antwort wird hier markiert',
  choices: 'Antworten',
  choice: (number) => `Antwort ${number}`,
  isRight: (number) => `Antwort ${number} ist richtig`,
  from: 'richtig ab',
  to: 'richtig unter',
  whyNot: 'Warum nicht; erscheint, wenn sie gewählt wurde',
  addChoice: 'Eine Antwort hinzufügen',
  removeChoice: (number) => `Antwort ${number} herausnehmen`,
  within: 'Richtig innerhalb von, Prozent',
  tooLow: 'Warum nicht; erscheint bei zu niedrig oder zu früh',
  tooHigh: 'Warum nicht; erscheint bei zu hoch oder zu spät',
  moved: 'Zu setzen',
  least: 'Richtig, wenn mindestens so viel Reserve bleibt',
  input: 'Einzustellende Größe',
  sliderFrom: 'Regler von',
  sliderTo: 'bis',
  places: 'Stellungen des Reglers',
  sense: 'Richtig, wenn der Wert',
  target: 'Ziel',
  curve: 'Zu zeichnen',
  at: 'Punkte bei, durch Kommas getrennt',
  most: 'Oberes Ende des leeren Bildes',
  drawWithin: 'Richtig innerhalb von, im Mittel über die Punkte',
  board: 'Matrix',
  boardIs: (name) => `Jetzt: ${name}`,
  boards: {
    course: 'Die Lernmatrix',
    plan: 'Der Entwurf in Plan',
    file: 'Ein Entwurf aus einer Datei',
  },
  showBoard: 'In Plan öffnen',
  covered: 'Bis zur Antwort verdeckt',
  movable: 'Vor der Antwort beweglich',
  varied: 'Werte, die sich von Nachbar zu Nachbar unterscheiden',
  variedInput: 'Veränderte Größe',
  notVaried: 'keine',
  values: 'Werte, durch Kommas getrennt; „{value}“ in den Texten steht für den eigenen Wert',
  variedChoice:
    'Für alle Werte ist dieselbe Antwort richtig: die Rechnung sagen lassen, welche, oder nichts verändern.',
  check: 'Alles prüfen',
  checking: 'Jede Frage wird an ihrer Matrix berechnet.',
  checked: 'Jede Frage ist beantwortbar.',
  refused: (count) =>
    count === 1
      ? '1 Frage ist nicht beantwortbar; siehe den markierten Schritt.'
      : `${count} Fragen sind nicht beantwortbar; siehe die markierten Schritte.`,
  give: 'Ausgeben',
  save: 'Als Datei sichern',
  link: 'Link kopieren',
  linkCopied: 'Der Link ist kopiert; er enthält die ganze Lektion.',
  theLink: 'Link der Lektion',
  linkShown: 'Der Browser ließ das Kopieren nicht zu: Hier ist er.',
  tooLong: (length, most) =>
    `Als Link hätte die Lektion ${length} Zeichen, und Links über ${most} werden unterwegs abgeschnitten: als Datei sichern und diese ausgeben.`,
  try: 'Ausprobieren wie in der Klasse',
  sheets: 'Blätter zum Drucken',
  tally: 'Antworten auszählen',
  mend: (message) => `Noch keine Lektion: ${message}`,
  emptyTitle: 'Eine Frage ohne Titel',
};

export const refusals: Words['made']['refusals'] = {
  choices: (measure, value, holding) =>
    holding === 0
      ? `${measure}: ${value} an dieser Matrix, und die Grenzen keiner Antwort schließen das ein: eine davon erweitern.`
      : `${measure}: ${value} an dieser Matrix, und die Grenzen von ${holding} Antworten schließen das ein: Sie dürfen sich nicht überschneiden.`,
  nothing: (measure) =>
    `${measure}: An dieser Matrix gibt es das nicht. Eine andere Zahl erfragen oder die Matrix ändern.`,
  tolerance: (least, asked) =>
    `Eine eingetippte Zahl hat drei Stellen und ist nicht genauer als ${least}; verlangt ist ${asked}: ${least} oder mehr zulassen.`,
  target: (measure, sense, target, reached, at) =>
    `${measure}: verlangt ist ${sense} ${target}, aber erreichbar ist an dieser Matrix bestenfalls ${reached}, bei ${at}: höchstens das verlangen oder die Matrix ändern.`,
  drawing: (off, low, high, within) =>
    `Die Kurve läuft von ${low} bis ${high}, und die nächste Zeichnung, die das leere Bild zulässt, liegt um ${off} daneben; verlangt ist ${within}: ${off} oder mehr zulassen oder das Bild so weit reichen lassen.`,
  variant: (value, why) => `Mit ${value}: ${why}`,
};

export const reached: Words['made']['reached'] = {
  choose: (choice) => `Die richtige Antwort ist „${choice}“.`,
  chooseValue: (value, choice) => `${value}; damit ist „${choice}“ richtig.`,
  number: (value) => `Richtig ist ${value}.`,
  scan: (best, got, count, all) =>
    `Die beste Stelle, ${best}, ergibt ${got}; ${count} von ${all} Stellen sind richtig.`,
  draw: (low, high) => `Die Kurve läuft von ${low} bis ${high}.`,
};
