import type { Words } from '../shape.ts';

export const magnet: Words['lessons']['magnet'] = {
  title: 'Ein Magnet am Kern',
  steps: {
    magnet: {
      title: 'Ein Magnet an einem Kern',
      text: 'Einen Magneten an den ausgewählten Kern halten. Hier steht er für eine Durchflutung von 2 A, die nie aufhört; ein wirklicher Magnet quer über einem Ring treibt dessen Hälften gegeneinander, das hier ist also nur ein Ersatz.',
      question: 'Was bleibt von seinen beiden Glocken?',
      choices: {
        gone: { text: 'Beide sind weg', whyNot: 'Die Werte unten vergleichen.' },
        read: {
          text: 'Nur die des Lesens ist weg',
          whyNot:
            'Ein Kern, der in der einen Richtung nicht umschalten kann, hat nichts zurückzuschalten. Den Zeitpunkt durch Lesen und Schreiben ziehen: Der Punkt bleibt an seinem Ende.',
        },
        stay: {
          text: 'Beide bleiben',
          whyNot:
            'Die Durchflutung des Magneten geht weit über die der Leitungen hinaus. Den Zeitpunkt durch den Zyklus ziehen: Der Punkt bleibt am Ende seiner Schleife.',
        },
      },
      meaning:
        'Es bleibt nur seine kleine elastische Antwort auf den Flanken: eine Probe für jeden Kern einer wirklichen Matrix. Was ein wirklicher Magnet mit den beiden Hälften des Ringes macht, zeigt dieser Ersatz nicht. Ein schwacher kommt im nächsten Schritt.',
      answers: { read: 'Leseglocke, frei und gehalten', write: 'Schreibglocke, frei und gehalten' },
      traces: { free: 'frei', held: 'vom Magneten gehalten' },
    },
    'weak-magnet': {
      title: 'Ein schwacher Magnet',
      text: 'Nun steht der Magnet nur für 0,2 A Durchflutung, gegen 0,74 A der beiden Leitungen. Sie zeigt in Schreibrichtung.',
      question: 'Die Glocke des Lesens kommt …',
      choices: {
        earlier: {
          text: 'früher und höher',
          whyNot:
            'Das tut der andere Pol, der dem Lesen hilft. Den Zeitpunkt hier durch das Lesen ziehen und ansehen, wie spät der Punkt sich bewegt.',
        },
        same: {
          text: 'wie zuvor: Er ist zu schwach, um den Kern festzuhalten',
          whyNot:
            'Er hält nichts fest, gehört aber zur Summe, die der Kern sieht. Jeder Leitung 100 mA mehr geben, was ihn ausgleicht, und den Scheitel ansehen.',
        },
        later: { text: 'später und niedriger', whyNot: 'Die drei Läufe unten vergleichen.' },
      },
      meaning:
        'Der Kern sieht die Summe aller Durchflutungen: 0,2 A weniger nimmt zwei Drittel der Durchflutung jenseits der Schwelle weg. Von Kern zu Kern bewegt, verrät ein schwacher Magnet durch eine späte Glocke, welcher Kern gerade gelesen wird.',
      answers: { bell: 'Glocke bei {} Durchflutung' },
      traces: {},
    },
  },
};
