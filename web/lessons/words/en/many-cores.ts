import type { LessonWords } from '../step-words.ts';

export const manyCores = {
  title: 'Many cores on one wire',
  steps: {
    drown: {
      title: 'Add cores',
      text: 'On a mat of n × n cores each line passes n of them. A ZERO is read, so that nothing turns.',
      question:
        'From 4 × 4 to 16 × 16, what the half-selected cores give at most in that read grows by which factor?',
      whyNot: {
        low: 'Every half-selected core adds its own little answer. Move the instant to 20 ns and count them in the mat: all the others on both lines.',
        high: 'Not all the cores of the mat count. Move the instant to 20 ns and look who gives: only those on the two lines, rows and columns less two.',
      },
      meaning:
        'Every half-selected core adds its little elastic answer, and in one straight run they all add up: 30 over 6 is 5, and the area under the spike grows by nearly that. Its height grows by a little less, since a longer wire rises more slowly.',
      answers: {
        cores: 'Half-selected cores',
        small: 'At most, 4 × 4',
        large: 'At most, 16 × 16',
        factor: 'Factor',
      },
      traces: { large: 'ZERO, 16 × 16', small: 'ZERO, 4 × 4' },
    },
    'the-one': {
      title: 'And the ONE?',
      text: 'The same two mats; now the selected core holds a ONE. Look at the peak of its own bell, not at the spike.',
      question: 'From 4 × 4 to 16 × 16, that bell becomes…',
      choices: {
        smaller: {
          text: 'much smaller',
          whyNot:
            'It is still one core that turns, and the wire loses little on the way. What suffers is the room beneath it: look at where the margin goes.',
        },
        same: { text: 'hardly different', whyNot: 'Compare the two numbers below.' },
        larger: {
          text: 'larger',
          whyNot:
            'More cores on the wire do not help it. Move the instant to the peak and look at the mat: one core gives nearly all of it.',
        },
      },
      meaning:
        'The signal stays; what lies beneath it grows. That is why a large mat fails by its ZEROs and by its spikes, not because its ONEs are weak.',
      answers: { small: 'Bell, 4 × 4', large: 'Bell, 16 × 16' },
      traces: { large: 'selected core, 16 × 16', small: 'selected core, 4 × 4' },
    },
    cancel: {
      title: 'Cancel with the winding',
      text: 'Let the wire pass half of the cores of every row and column the other way.',
      question:
        'On 16 × 16, with two halves instead of one run, what the half-selected cores give at most becomes…',
      choices: {
        nothing: {
          text: 'nothing',
          whyNot:
            'The selected core is missing from its own half: 14 stand against 16. Move the instant to 20 ns and count in the mat who adds and who takes away.',
        },
        smaller: { text: 'much smaller', whyNot: 'Compare the two numbers below.' },
        same: {
          text: 'just the same',
          whyNot:
            'What is alike in both halves is heard with both signs, and goes. Move the instant to 20 ns and see in the mat who takes away.',
        },
      },
      meaning:
        'First there is the count: 14 against 16 of one kind, two cores that no one cancels. What is left beyond that depends on what the cores hold.',
      answers: {
        run: 'Half-selected cores, one run',
        halves: 'Half-selected cores, two halves',
        part: 'Which is a part of',
      },
      traces: { run: 'one run', halves: 'two halves' },
    },
    pattern: {
      title: 'Hunt for the worst pattern',
      text: 'A half-selected ONE answers a little more than a half-selected ZERO, and goes on a little longer. Half of the cores are heard with the other sign. Look at what is left once the edge is over, when the strobe comes.',
      question: 'Which stored pattern leaves most on the wire of two halves then?',
      choices: {
        zeros: {
          text: 'All ZERO',
          whyNot:
            'All alike: both halves give the same and it goes, but for the count of two. Move the instant to 150 ns and look which of the half-selected cores give most.',
        },
        ones: {
          text: 'All ONE',
          whyNot:
            'All alike again, each a little louder: both halves still cancel, but for two cores. Turn a bit at a half-selected core and watch the wire at 150 ns.',
        },
        checkerboard: {
          text: 'A checkerboard',
          whyNot:
            'In every half as many ONEs as ZEROs: they cancel as well. Look in the mat which sign goes with which bit here: the checkerboard mixes them.',
        },
        signs: {
          text: 'ONE on one sign of the wire, ZERO on the other',
          whyNot: 'Compare the four numbers below.',
        },
      },
      meaning:
        'The difference between ONEs and ZEROs, called delta noise, does not cancel where the pattern follows the winding’s own signs. Every winding has a worst pattern of its own.',
      answers: {
        zeros: 'At most after 120 ns, all ZERO',
        ones: 'At most after 120 ns, all ONE',
        checkerboard: 'At most after 120 ns, a checkerboard',
        signs: 'At most after 120 ns, by the wire’s signs',
      },
      traces: { zeros: 'all ZERO', ones: 'all ONE', signs: 'by the wire’s signs' },
    },
    hunt: {
      title: 'Make it worse yourself',
      text: 'The same wire of two halves on 4 × 4: six cores are half-selected, and all of them hold a ZERO. What they leave once the edge is over is less than a microvolt.',
      question: 'Which bits must those six hold, so that they leave as much as they can from 120 ns on?',
      whyNot: {
        low: 'Some core still takes away what another gives. Let the mat show what each gives now, and store a ONE only where it adds.',
      },
      meaning:
        'A ONE on one sign of the wire and a ZERO on the other: then what each ONE gives more than a ZERO all adds up. Six cores make less than a millivolt of it; on a mat of 64 × 64 it is 126 of them.',
      answers: { worst: 'At most, worst pattern', ones: 'All ONE', zeros: 'All ZERO' },
      traces: { worst: 'worst pattern', ones: 'all ONE', zeros: 'all ZERO' },
    },
  },
} as const satisfies LessonWords;
