import type { LessonWords } from '../step-words.ts';

export const theMachine = {
  title: 'The memory around it',
  steps: {
    inhibit: {
      title: 'How a ZERO is written',
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
            'Then the addressed core would see nothing, but every other core of the mat a full read. Tap a core off the two lines, and set the inhibit to twice as much.',
        },
        along: {
          text: 'About that of one line, along with the write',
          whyNot:
            'That would turn the core even faster, and half-select the whole mat towards ONE. Move the instant into the write: inhibit must keep the dot where it is.',
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
    wires: {
      title: 'Three wires or four',
      text: 'With three wires through a core one wire hears and inhibits in turn. With a fourth the inhibit has a wire of its own, and the sense wire passes half of the cores along it and half against it. During the write the same inhibit current flows in either.',
      question: 'How much of the inhibit pulse does the sense wire with a partner of its own still hear?',
      choices: {
        same: {
          text: 'About as much',
          whyNot:
            'The current itself no longer flows in it. What is left is coupling, with both signs. Set the winding to one shared run and compare.',
        },
        half: {
          text: 'About half',
          whyNot:
            'Half of the cores take it along and half against: count both in the mat while the inhibit rises, and take one from the other.',
        },
        nothing: { text: 'Next to nothing', whyNot: 'Compare the two numbers below.' },
      },
      meaning:
        'A sense wire of its own costs a fourth wire through every core, which small cores hardly take. With three the wire must bear the whole pulse and be quiet again for the next read. A real winding cancels less perfectly than this ideal one.',
      answers: { three: 'Heard of the inhibit, three wires', four: 'Four wires' },
      traces: { three: 'inhibit, three wires', four: 'inhibit, four wires' },
    },
    drivers: {
      title: 'What sharing saves',
      text: 'Twelve mats of 32 × 32 hold words of 12 bits. With inhibit wires all mats share their X and Y lines. The other way is to give every mat X and Y lines of its own and to leave a line out where a ZERO belongs.',
      question: 'How many drivers does the other way need, over those with inhibit wires?',
      choices: {
        same: {
          text: 'About as many',
          whyNot:
            'Look at the size of the mat on the stage, and count: rows and columns once and one inhibit a mat, against rows and columns of every mat.',
        },
        twice: {
          text: 'About twice as many',
          whyNot:
            'More: count the lines of the mat on the stage. Every one of the twelve brings 64 of its own.',
        },
        ten: { text: 'About ten times as many', whyNot: 'Compare the two numbers below.' },
      },
      meaning:
        'Coincidence in two lines and an inhibit a bit is what made large memories affordable. In between lie memories that share X and give each bit a Y of its own: no inhibit wire, so that three wires or even two are enough, for several times the drivers. A memory that selects whole words by one line needs a driver for every word.',
      answers: {
        shared: 'Shared: rows + columns + mats',
        perBit: 'X shared, Y of its own for every mat: rows + columns × mats',
        own: 'Both of its own for every mat: (rows + columns) × mats',
        words: 'A line for every word: rows × columns + mats',
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
          whyNot:
            'Hundreds of milliamperes through the wire’s ends: count volts, not millivolts. Drag the reading line to the write and read it off.',
        },
        same: {
          text: 'It is about as large',
          whyNot:
            'Far more: drag the reading line over the write, switch to a ONE, and compare with its bell.',
        },
        larger: { text: 'It is many times as large', whyNot: 'Compare the two numbers below.' },
      },
      meaning:
        'The wire and the amplifier behind it must come to rest before the next strobe. On this board of 16 cores they do so easily.',
      answers: { pulse: 'Inhibit on the wire', bell: 'The ONE’s bell', ratio: 'Ratio' },
      traces: { inhibit: 'inhibit', core: 'selected core, ONE' },
    },
    'recover-64': {
      title: 'The same on a large mat',
      text: 'The same pulses on 64 × 64, and a cycle of 2.3 µs: the next read begins 300 ns after the write has ended. The amplifier takes at most 1 V at its input and gives at most 5 V.',
      question: 'At that moment, where does the output of the amplifier stand?',
      choices: {
        rest: {
          text: 'At rest',
          whyNot:
            'On 16 cores it would. Here 4,096 cores of inductance keep the current going. Drag the reading line along the output: it stays at its limit.',
        },
        tail: {
          text: 'On a tail that is smaller than the threshold',
          whyNot:
            'Not yet: volts have to die down to millivolts first. Drag the reading line to the end of the cycle and read off the output.',
        },
        over: { text: 'Far over the threshold', whyNot: 'Compare output and threshold below.' },
      },
      meaning:
        'The amplifier is still overloaded: whatever the next read gives, it could not be heard before the tail has gone. Here recovery sets the cycle time. Shorter wires, halves with an amplifier each or a clamp make it shorter.',
      answers: {
        next: 'Output after 300 ns, 64 × 64',
        threshold: 'Threshold there',
        large: 'Quiet after the write, 64 × 64',
        small: 'Quiet after the write, 4 × 4',
      },
      traces: { large: 'amplifier, 64 × 64', small: 'amplifier, 4 × 4' },
    },
  },
} as const satisfies LessonWords;
