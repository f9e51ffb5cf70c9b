import type { Words } from '../shape.ts';

export const play: Words['made']['play'] = {
  about: (steps) =>
    `${steps} ${steps === 1 ? 'Frage' : 'Fragen'}. Erst wählen, setzen oder zeichnen, was zu erwarten ist; dann antwortet die Rechnung. Es zählt die erste Antwort auf jede Frage; nach einem Namen wird nicht gefragt, und nichts wird gesendet.`,
  number: 'Nummer in der Klasse',
  numberHelp: (most) => `1 bis ${most}, wie von der Lehrkraft vergeben: Nachbarn haben verschiedene Werte.`,
  numberFirst: 'Erst die Nummer in der Klasse eingeben: Sie bestimmt die Werte.',
  badNumber: (most, got) =>
    `Die Nummer muss eine ganze Zahl von 1 bis ${most} sein, ist aber „${got}“: die Lehrkraft danach fragen.`,
  step: (number, title) => `${number} ${title}`,
  busy: 'Wird berechnet.',
  reveal: 'Auflösen',
  open: 'Diese Matrix in Plan öffnen',
  right: 'Wie erwartet: ',
  wrong: 'Nicht richtig: ',
  makerSays: ' (so sagt, wer die Lektion gemacht hat; die Rechnung wurde nicht gefragt)',
  choose: 'Erst vorhersagen: eine der Antworten wählen.',
  type: (unit) => `Erst vorhersagen: eine einfache Zahl in ${unit} eingeben.`,
  place: 'Erst vorhersagen: den Regler dorthin schieben, wo es hingehört.',
  points: (question) => `${question} Punkte zum Ziehen, von links nach rechts.`,
  numberSo: (said, so) => `erwartet ${said}, richtig sind ${so}`,
  scanSo: (at, got, best, most) => `${at} ergibt ${got}; ${best} ergibt ${most}`,
  none: 'nichts, was sich angeben ließe',
  drawSo: (off) => `im Mittel um ${off} daneben`,
  because: 'Begründung in einer Zeile:',
  counted: 'Im Code steht die erste Antwort.',
  code: 'Der Code',
  codeHelp: (done, all) =>
    `${done} von ${all} beantwortet. Er enthält die Antworten und ein zufälliges Kennzeichen, keinen Namen und keine Begründung; der Lehrkraft geben.`,
  copy: 'Code kopieren',
  copied: 'Kopiert.',
  notCopied: 'Der Browser ließ das Kopieren nicht zu: den Code markieren und von Hand kopieren.',
  again: 'Neu antworten',
};

export const file: Words['made']['file'] = {
  damaged:
    'Der Link dieser Lektion ist beschädigt (abgeschnitten oder vertippt); neu erbitten oder die Datei der Lektion öffnen.',
  tooLarge: (name, most, size) =>
    `${name} darf höchstens ${most} MB haben, hat aber ${size} MB: eine Lektion oder einen Entwurf wählen.`,
  left: 'Was hier war, ist geblieben, wie es war.',
};
