import type { LessonWords } from '../step-words.ts';

export const theMachine = {
  title: 'The memory around it',
  steps: {
    inhibit: {
      title: 'A ZERO is a write that is held back',
      text: 'All mats of a stack share their X and Y lines, so a write would put a ONE into every mat. Where a ZERO belongs, one more wire through all cores of that mat carries a current during the write.',
      question: 'How large should that current be, in the ampere-turns of a core?',
      choices: {
        against: {
          text: 'About that of one line, against the write',
          whyNot: 'Look at the sums below: of the addressed core, and of a core that no line selects.',
        },
        both: {
          text: 'As much as both lines together, against the write',
          whyNot:
            'Then the addressed core would see nothing, but every other core of the mat would see a full read and lose its ONE.',
        },
        along: {
          text: 'About that of one line, along with the write',
          whyNot: 'That would turn the core even faster, and half-select the whole mat towards ONE.',
        },
      },
      meaning:
        'Counted in ampere-turns the inhibit takes one line’s current away again: the addressed core sees about a half-select, and so does the rest of the mat, the other way round. It must cover the write at both ends.',
      answers: {
        addressed: 'Addressed core: X + Y − inhibit',
        lines: 'Others on its two lines: one line − inhibit',
        rest: 'All the rest of the mat',
      },
      traces: { x: 'X, and Y alike', inhibit: 'inhibit', seen: 'seen by the addressed core' },
    },
    drivers: {
      title: 'What sharing saves',
      text: 'Twelve mats of 32 × 32 hold words of 12 bits. With inhibit wires all mats share their X and Y lines. The other way is to give every mat X and Y lines of its own and to leave a line out where a ZERO belongs.',
      question: 'How many drivers does the other way need, over those with inhibit wires?',
      choices: {
        same: {
          text: 'About as many',
          whyNot:
            'Count: rows and columns once and one inhibit a mat, against rows and columns of every mat.',
        },
        twice: { text: 'About twice as many', whyNot: 'More: every mat brings 64 lines of its own.' },
        ten: { text: 'About ten times as many', whyNot: 'Compare the two numbers below.' },
      },
      meaning:
        'Coincidence in two lines and an inhibit a bit is what made large memories affordable. A memory that selects whole words by one line needs no inhibit either, but a driver for every word.',
      answers: {
        shared: 'Shared: rows + columns + mats',
        own: 'Lines of its own for every mat: (rows + columns) × mats',
      },
      traces: { x: 'X, shared by all mats', inhibit: 'inhibit of one mat' },
    },
    recover: {
      title: 'Recover from inhibit',
      text: 'On this board the wire that hears the cores carries the inhibit current too. The next read comes soon after.',
      question: 'How does the voltage of the inhibit pulse on that wire compare with a ONE?',
      choices: {
        smaller: {
          text: 'It is smaller',
          whyNot: 'Hundreds of milliamperes through the wire’s ends: count volts, not millivolts.',
        },
        same: { text: 'It is about as large', whyNot: 'Far more: look at the ratio below.' },
        larger: { text: 'It is many times as large', whyNot: 'Compare the two numbers below.' },
      },
      meaning:
        'The wire and the amplifier behind it must come to rest before the next strobe. On this board they do so easily; with more cores on the wire, or a faster cycle, it is what limits the rate.',
      answers: { pulse: 'Inhibit on the wire', bell: 'The ONE’s bell', ratio: 'Ratio' },
      traces: { inhibit: 'inhibit', core: 'selected core, ONE' },
    },
    magnet: {
      title: 'A magnet on one core',
      text: 'Hold a magnet to the selected core. Here it stands for 2 A of turns that never end; a real magnet across a ring drives its two halves against each other, and holds them all the same.',
      question: 'What is left of its two bells?',
      choices: {
        gone: { text: 'Both are gone', whyNot: 'Compare the numbers below.' },
        read: {
          text: 'Only that of the read is gone',
          whyNot: 'A core that cannot turn one way cannot turn back either: there is nothing to turn back.',
        },
        stay: {
          text: 'Both stay',
          whyNot:
            'The magnet’s drive is far beyond that of the lines: the core stands at the end of its loop.',
        },
      },
      meaning:
        'Only its small elastic answer on the edges remains: a test for any core of a real mat. A weak magnet does less: it shifts the drive, and the bell comes late or early.',
      answers: { read: 'Read bell, free and held', write: 'Write bell, free and held' },
      traces: { free: 'free', held: 'held by the magnet' },
    },
  },
} as const satisfies LessonWords;
