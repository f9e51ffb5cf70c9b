import { board } from '../../web/lessons/course/bench.ts';
import type { MadeLesson, OwnStep } from '../../web/lessons/made/lesson.ts';

const place: OwnStep = {
  title: 'Put the strobe where you would trust it',
  text: 'All patterns are drawn.',
  question: 'Where is at least 8 mV left?',
  meaning: 'After the spike, and before the bell has gone.',
  board,
  ask: {
    kind: 'place',
    moved: 'strobe',
    least: '8 mV',
    tooLow: 'The spike is still there.',
    tooHigh: 'The bell has gone.',
  },
  covered: ['margin', 'causes'],
  movable: ['strobe'],
};

const number: OwnStep = {
  ...place,
  title: 'How high is the bell',
  question: 'How high is the bell, in mV?',
  ask: { kind: 'number', measure: 'bell', within: 10, tooLow: 'It is more.', tooHigh: 'It is less.' },
  varied: {
    pointers: [
      '/drive/x/readAmplitude',
      '/drive/y/readAmplitude',
      '/drive/x/writeAmplitude',
      '/drive/y/writeAmplitude',
    ],
    values: ['330 mA', '370 mA', '410 mA'],
  },
};

/** A lesson with a question of each of some kinds. Invented. */
export const ownLesson: MadeLesson = {
  title: 'A lesson of one’s own',
  seed: 7,
  steps: [place, { ...number, question: 'How high is the bell at {value}, in mV?' }, { course: 'strobe' }],
};
