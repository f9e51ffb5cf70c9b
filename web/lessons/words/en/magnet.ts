import type { LessonWords } from '../step-words.ts';

export const magnet = {
  title: 'A magnet on a core',
  steps: {
    magnet: {
      title: 'A magnet on one core',
      text: 'Hold a magnet to the selected core. Here it stands for 2 A of turns that never end; a real magnet across a ring drives its two halves against each other, so this is a stand-in.',
      question: 'What is left of its two bells?',
      choices: {
        gone: { text: 'Both are gone', whyNot: 'Compare the numbers below.' },
        read: {
          text: 'Only that of the read is gone',
          whyNot:
            'A core that cannot turn one way has nothing to turn back. Move the instant through read and write and watch the dot: it stays at its end.',
        },
        stay: {
          text: 'Both stay',
          whyNot:
            'The magnet’s drive is far beyond that of the lines. Move the instant through the cycle and watch the dot: it stays at the end of its loop.',
        },
      },
      meaning:
        'Only its small elastic answer on the edges remains: a test for any core of a real mat. What a real magnet does to either half of the ring this stand-in does not show. A weak one is the next step.',
      answers: { read: 'Read bell, free and held', write: 'Write bell, free and held' },
      traces: { free: 'free', held: 'held by the magnet' },
    },
    'weak-magnet': {
      title: 'A weak one',
      text: 'Now the magnet stands for only 0.2 A of turns, against 0.74 A of the two lines. They point towards the write.',
      question: 'The bell of the read comes…',
      choices: {
        earlier: {
          text: 'earlier, and higher',
          whyNot:
            'That is what the other pole does, which helps the read. Move the instant through the read here and see how late the dot leaves.',
        },
        same: {
          text: 'as before: it is too weak to hold the core',
          whyNot:
            'It holds nothing, but it is part of the sum that the core sees. Give each line 100 mA more, which makes up for it, and watch the peak.',
        },
        later: { text: 'later, and lower', whyNot: 'Compare the three runs below.' },
      },
      meaning:
        'The core sees the sum of all ampere-turns: 0.2 A less takes two thirds of the drive beyond the threshold. Moved from core to core, a weak magnet tells by a late bell which core is being read.',
      answers: { bell: 'Bell with {} of turns' },
      traces: {},
    },
  },
} as const satisfies LessonWords;
