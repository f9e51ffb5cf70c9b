import type { Words } from '../shape.ts';

export const oneCore: Words['lessons']['one-core'] = {
  title: 'Ein einzelner Kern',
  steps: {
    loop: {
      title: 'Ein Kern und seine Schleife',
      text: 'Ein Ferritring behält, in welcher Richtung er zuletzt magnetisiert wurde. Durch ihn führen zwei Drähte; beim Lesen fließt durch jeden ein Strom, in beiden mit gleichem Sinn.',
      question:
        'Der Kern enthält eine EINS, und beide Drähte führen Lesestrom. Um wie viel ändert sich sein gespeicherter Fluss?',
      choices: {
        nothing: {
          text: 'Gar nicht',
          whyNot:
            'Dann wäre nichts zu hören. Den Zeitpunkt durch das Lesen ziehen und dem Punkt auf der Schleife folgen: Jenseits des Knicks kehrt er nicht zurück.',
        },
        once: {
          text: 'Etwa um seinen Remanenzfluss',
          whyNot:
            'Dann bliebe der Kern auf halbem Wege leer zurück. Den Zeitpunkt hinter das Lesen ziehen und ansehen, wo der Punkt ruht: Dazwischen hat eine rechteckige Schleife keinen Ruhepunkt.',
        },
        twice: {
          text: 'Etwa um das Doppelte seines Remanenzflusses',
          whyNot: 'Darauf achten, wo der Weg beginnt und wo er zur Ruhe kommt.',
        },
      },
      meaning:
        'Der Kern geht von einem Remanenzzustand ganz in den anderen über. Die Spannung, die diese Flussänderung im Lesedraht induziert, ist das Signal.',
      answers: { before: 'Fluss vor dem Lesen', after: 'Fluss danach' },
      traces: { flux: 'gespeicherter Fluss' },
    },
    'half-select': {
      title: 'Nur ein Draht',
      text: 'Nun führt nur einer der beiden Drähte seinen Strom. Wird irgendein Kern gelesen, so ist jeder andere Kern auf seinen beiden Leitungen in genau dieser Lage.',
      question: 'Was tut ein solcher halb ausgewählter Kern?',
      choices: {
        springs: {
          text: 'Er gibt ein wenig nach und federt fast ganz zurück',
          whyNot: 'Ansehen, wie viel Fluss nach dem Impuls fehlt.',
        },
        half: {
          text: 'Er schaltet zur Hälfte um und bleibt dort',
          whyNot:
            'Halber Strom heißt nicht halbes Umschalten: Unterhalb des Knicks schaltet fast nichts. In Plan öffnen und den Strom einer Leitung erhöhen, bis es geschieht.',
        },
        later: {
          text: 'Er schaltet ganz um, nur später',
          whyNot:
            'Dazu müsste er über den Knick, und Zeit hilft nicht, solange die Durchflutung darunter bleibt. In Plan den Leseimpuls verlängern und noch einmal ansehen.',
        },
      },
      meaning:
        'Die Auswahl leistet der Knick der Schleife: Ein Strom bleibt darunter, zwei zusammen gehen weit darüber hinaus. Der verkettete Fluss gibt um den elastischen Anteil nach und kehrt zurück; dem gespeicherten fehlt, was er verloren hat. Der elastische Anteil geht, zusammen mit der Kopplung der Treiberleitungen, in die Störspitzen auf dem Lesedraht ein.',
      answers: {
        elastic: 'Gibt elastisch nach, bezogen auf den Remanenzfluss',
        lost: 'Bleibender Verlust beim ersten Mal',
        after: 'Fluss danach',
      },
      traces: { linkage: 'verketteter Fluss: gespeichert und elastisch', flux: 'gespeicherter Fluss' },
    },
    repeats: {
      title: 'Noch einmal, und noch einmal',
      text: 'Ein Kern kann tausendfach halb ausgewählt werden, bevor er gelesen wird. Das erste Mal hat ihm ein wenig Fluss genommen.',
      question: 'Wie viel seines Remanenzflusses fehlt nach fünf halben Lesevorgängen, in Prozent?',
      whyNot: {
        low: 'Es ist mehr als beim ersten Mal: Jeder Impuls nimmt etwas von dem, was der vorige übrig ließ. Den Zeitpunkt an den Anfang dieses fünften ziehen: Der Fluss beginnt schon tiefer.',
        high: 'Nicht das Fünffache des ersten Verlustes: Was sich leicht bewegt, geht zuerst. Den Zeitpunkt durch diesen fünften Impuls ziehen und den Fluss ansehen: Es geht kaum noch etwas.',
      },
      meaning:
        'Ein gestörter Kern kommt etwas unterhalb seines Ausgangspunktes zur Ruhe. Darum unterscheiden Datenbücher die gestörte EINS und die gestörte NULL von den ungestörten.',
      answers: {
        first: 'Verlust nach dem ersten Mal',
        fifth: 'Nach dem fünften',
        twentieth: 'Nach dem zwanzigsten',
      },
      traces: { fifth: 'im fünften halben Lesen', first: 'im ersten halben Lesen' },
    },
    'write-back': {
      title: 'Nach dem Lesen',
      text: 'Nach dem Lesen enthält der Kern eine NULL, was immer er vorher enthielt. Die zweite Hälfte des Zyklus schreibt das Gelesene zurück.',
      question: 'Eine EINS wurde gelesen und wird zurückgeschrieben. Wohin zeigt die Glocke des Schreibens?',
      choices: {
        same: {
          text: 'In dieselbe Richtung wie die des Lesens',
          whyNot:
            'Dann müsste der Fluss weiter in derselben Richtung laufen. Den Zeitpunkt durch das Schreiben ziehen und dem Punkt folgen: Er muss dorthin zurück, woher er kam.',
        },
        opposite: {
          text: 'In die Gegenrichtung',
          whyNot: 'Die Vorzeichen der beiden Werte unten vergleichen.',
        },
        none: {
          text: 'Es gibt keine zweite Glocke',
          whyNot: 'Was den Kern umschaltet, ist zu hören. In Plan eine NULL schreiben: Dann fehlt sie.',
        },
      },
      meaning:
        'Der Fluss geht den Weg zurück, den er kam; darum hat die Spannung das andere Vorzeichen. Wird das Schreiben gesperrt, so fehlen diese Glocke und die des nächsten Lesens.',
      answers: {
        read: 'Glocke des Lesens',
        write: 'Glocke des Schreibens',
        peak: 'Scheitel der Leseglocke',
      },
      traces: { core: 'ausgewählter Kern' },
    },
  },
};
