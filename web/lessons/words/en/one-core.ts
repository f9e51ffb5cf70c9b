import type { LessonWords } from '../step-words.ts';

export const oneCore = {
  title: 'One core',
  steps: {
    loop: {
      title: 'One core and its loop',
      text: 'A ferrite ring remembers which way it was last magnetised. Two wires pass through it, and a read sends a current through each, both in the same sense.',
      question:
        'The core holds a ONE and both wires carry read current. By how much does its stored flux change?',
      choices: {
        nothing: {
          text: 'Not at all',
          whyNot:
            'Then nothing would be heard. Move the instant through the read and follow the dot over the loop: past the knee it does not come back.',
        },
        once: {
          text: 'By about its remanent flux',
          whyNot:
            'That would leave the core empty, half-way. Move the instant past the read and look where the dot rests: a square loop has no resting place in between.',
        },
        twice: {
          text: 'By about twice its remanent flux',
          whyNot: 'Look where the dot starts and where it comes to rest.',
        },
      },
      meaning:
        'The core goes from one remanent state all the way to the other. The voltage that this change induces in the sense wire is the signal.',
      answers: { before: 'Flux before the read', after: 'Flux after it' },
      traces: { flux: 'stored flux' },
    },
    'half-select': {
      title: 'One wire only',
      text: 'Now only one of the two wires carries its current. Whenever a core is read, every other core on its two lines is in just this position.',
      question: 'What does such a half-selected core do?',
      choices: {
        springs: {
          text: 'It gives a little, and almost all of it springs back',
          whyNot: 'See how much of the flux is missing after the pulse.',
        },
        half: {
          text: 'It turns half-way and stays there',
          whyNot:
            'Half the current is not half the turning: below the knee hardly anything turns. Open it in Plan and raise one line’s current until it does.',
        },
        later: {
          text: 'It turns round, only later',
          whyNot:
            'It would have to pass the knee, and no time helps where the drive stays short of it. Make the read wider in Plan and look again.',
        },
      },
      meaning:
        'The knee of the loop does the selecting: one current stays short of it, two together go well beyond. The linkage dips by the elastic part and comes back; the stored flux keeps what it lost. The elastic part goes into the spikes on the sense wire, with the coupling of the drive wires.',
      answers: {
        elastic: 'Gives elastically, of the remanent flux',
        lost: 'Loses for good, first time',
        after: 'Flux after',
      },
      traces: { linkage: 'linkage: stored and elastic', flux: 'stored flux' },
    },
    repeats: {
      title: 'The same again, and again',
      text: 'A core may be half-selected thousands of times before it is read. The first time took a little of its flux.',
      question: 'How much of its remanent flux is gone after five half-reads, in per cent?',
      whyNot: {
        low: 'More than the first time: each pulse takes a little of what the one before has left. Move the instant to the start of this fifth one: the flux already starts lower.',
        high: 'Not five times the first loss: what is easily moved goes first. Move the instant through this fifth pulse and watch the flux: hardly anything goes any more.',
      },
      meaning:
        'A disturbed core settles a little short of where it was. That is why handbooks tell a disturbed ONE and a disturbed ZERO apart from undisturbed ones.',
      answers: { first: 'Gone after the first', fifth: 'After the fifth', twentieth: 'After the twentieth' },
      traces: { fifth: 'in the fifth half-read', first: 'in the first half-read' },
    },
    'write-back': {
      title: 'After the read',
      text: 'After a read the core holds a ZERO, whatever it held before. The second half of the cycle puts back what was read.',
      question: 'A ONE was read and is written back. Which way does the bell of the write point?',
      choices: {
        same: {
          text: 'The same way as that of the read',
          whyNot:
            'The flux would have to go on in the same direction. Move the instant through the write and watch the dot: it must come back where it came from.',
        },
        opposite: { text: 'The opposite way', whyNot: 'Compare the signs of the two numbers below.' },
        none: {
          text: 'There is no second bell',
          whyNot: 'Whatever turns the core is heard. Write a ZERO in Plan: then it is gone.',
        },
      },
      meaning:
        'The flux goes back the way it came, so the voltage has the other sign. Inhibit the write, and both this bell and the next read’s are gone.',
      answers: { read: 'Bell of the read', write: 'Bell of the write', peak: 'Time of the read’s peak' },
      traces: { core: 'selected core' },
    },
  },
} as const satisfies LessonWords;
