import type { Words } from '../shape.ts';

export const say: Words['say'] = {
  decimal: ',',
  at: 'bei',
  to: 'bis',
  and: 'und',
  none: 'keines',
  under: (figure) => `unter ${figure}`,
};

export const scores: Words['scores'] = {
  right: 'Wie erwartet: ',
  wrong: 'Nicht richtig: ',
  number: (said, so) => `erwartet ${said}, richtig sind ${so}`,
  place: (time, there, best, most) => `Bei ${time} ${there}; im besten Zeitpunkt, ${best}, bleiben ${most}`,
  left: (volts) => `bleiben ${volts}`,
  wrongBy: (volts) => `fehlen im ungünstigsten Fall ${volts}`,
  best: (time, volts) => `${time}, wo ${volts} bleiben`,
  asDrawn: 'Wie unten gezeichnet',
  enough: 'Erreicht: ',
  notEnough: 'Noch nicht: ',
  moved: (got, need, most) =>
    `Es ergibt ${got}, verlangt sind mindestens ${need}${most === undefined ? '' : `; möglich sind ${most}`}`,
  most: (place, volts) => `${place}, das ergibt ${volts}`,
  atLeast: (volts) => `mindestens ${volts}`,
  draw: (volts) => `Im Mittel um ${volts} daneben`,
  drawing: {
    upsideDown:
      'Auf dem Kopf: An diesem Kern zeigt eine EINS nach oben. Die Ableselinie über die Glocke ziehen und das Vorzeichen ablesen.',
    noSpike:
      'Die Störspitze fehlt: Solange die Ströme steigen, antwortet alles, was an den beiden Leitungen hängt. Den Zeitpunkt durch die ersten 40 ns ziehen und die Matrix ansehen.',
    noBell:
      'Die Glocke fehlt: Der Kern, der umschaltet, ist erst nach der Flanke zu hören. Den Zeitpunkt von 100 ns an weiterziehen und den Ring ansehen.',
    bellEarly: (by) =>
      `Die Glocke kommt hier etwa ${by} zu früh: Ein Kern braucht seine Zeit. Die Ableselinie auf den Scheitel ziehen.`,
    bellLate: (by) => `Die Glocke kommt hier etwa ${by} zu spät. Die Ableselinie auf den Scheitel ziehen.`,
    heights:
      'Störspitze und Glocke sind da, ihre Höhen stimmen nicht. Die Ableselinie auf beide Scheitel ziehen und sie ablesen.',
  },
};

export const learn: Words['learn'] = {
  language: 'Sprache',
  notFetched: (language) =>
    `Die Texte in der Sprache ${language} ließen sich nicht laden: Verbindung prüfen und noch einmal wählen.`,
  title: 'Lernen: von einem Kern zum Speicher, der richtig liest',
  about: (lessons, steps) =>
    `${lessons} Lektionen mit zusammen ${steps} Schritten. Erst wählen, setzen oder zeichnen, was zu erwarten ist; dann antwortet die Rechnung. Nichts wird gesendet; eine Begründung in einer Zeile bleibt in diesem Tab und wird mit ihrer Frage gedruckt. Jede Antwort wird am kleinen Entwurf des Schrittes berechnet; auf der Bühne gespielt, verdeckt und sperrt ein Schritt seinen Entwurf bis zur Antwort und gibt ihn danach zum Ausprobieren frei. Das Arbeitsblatt enthält zuerst die Fragen und auf eigenen Seiten die Antworten mit ihren Bildern. Planung und Messplatz sind englisch beschriftet.`,
  print: 'Als Arbeitsblatt drucken',
  solutions: 'Antworten, jede am eigenen kleinen Entwurf berechnet',
  because: 'Begründung in einer Zeile:',
  computing: 'Wird berechnet.',
  failed: (why) => `Dieser Schritt ließ sich nicht berechnen: ${why}`,
  reveal: 'Auflösen',
  show: 'Lösung zeigen',
  open: 'In Plan öffnen',
  drawn: 'gezeichnet',
  choose: 'Erst vorhersagen: eine der Antworten wählen.',
  type: (unit) =>
    unit === ''
      ? 'Erst vorhersagen: eine einfache Zahl eingeben.'
      : `Erst vorhersagen: eine einfache Zahl in ${unit} eingeben.`,
  place:
    'Erst vorhersagen: die beiden Kurven zeigen und den Abtastzeitpunkt dorthin setzen, wo er hingehört.',
  slide: 'Erst vorhersagen: den Regler dorthin schieben, wo er hingehört.',
  turnBits: 'Erst vorhersagen: die Bits einiger Kerne umdrehen.',
  bitAt: (row, column) => `Kern in Zeile ${row}, Spalte ${column}`,
  bitRead: 'gelesen',
  onStageOnly: 'Diese Frage wird auf der Bühne beantwortet: dort spielen.',
  showLines: 'Die beiden Kurven zeigen',
  moveLine: 'Die Linie ziehen oder die Pfeiltasten benutzen.',
  rectified: 'So, wie das Latch es hört: positiv gemacht, gleich wohin es am Draht zeigt.',
  cutOff: (top) => `Was über ${top} hinausgeht, ist abgeschnitten.`,
  draw: 'Erst vorhersagen: die erwartete Kurve zeichnen.',
  pull: 'Quer über das Feld zeichnen oder mit dem Regler darunter einen Punkt nach dem anderen setzen. Mit Tasten: Punkt mit der Tabulatortaste anwählen, dann Pfeil- und Bildtasten.',
  points: (question) => `${question} Punkte zum Ziehen, von links nach rechts.`,
  pointAt: (time) => `Bei ${time}`,
  pointBefore: 'Der Punkt davor',
  pointAfter: 'Der nächste Punkt',
};

export const loopChart: Words['loopChart'] = {
  name: (rest) => `Der Weg des Kerns auf seiner Schleife. ${rest}`,
  read: 'Lesen',
  write: 'Schreiben',
};

export const terms: Words['terms'] = {
  title: 'Fachwörter',
  about: 'So, wie sie hier gebraucht werden, jeweils mit der Herkunft.',
};
