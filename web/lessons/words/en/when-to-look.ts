import type { LessonWords } from '../step-words.ts';

const UPRIGHT =
  'Both lines are drawn upright, as the detector hears them, whichever way a ONE points at the wire.';
const TRACES = { one: 'least ONE', zero: 'greatest ZERO' } as const;
const ANSWERS = { best: 'Best instant', window: 'Window', left: 'Left there' } as const;

export const whenToLook = {
  title: 'When to look',
  steps: {
    strobe: {
      title: 'Place the strobe',
      text: `A latch looks once, at one instant, whether the voltage is over the threshold. Of all patterns the least ONE and the greatest ZERO are drawn. ${UPRIGHT}`,
      question: 'Where should the latch look? Drag the line, or use the arrow keys.',
      whyNot: {
        early:
          'The spike has not gone yet, or the ONE has not come. Move it to where the two lines stand furthest apart from the threshold.',
        late: 'The bell is going, and the ONE with it. Move it back to where the two lines stand furthest apart from the threshold.',
      },
      meaning:
        'The window is where the least ONE is over the threshold and the greatest ZERO under it, with room for all that is not known exactly. The best instant leaves most on the side that has less.',
      answers: ANSWERS,
      traces: TRACES,
    },
    'strobe-32': {
      title: 'The same on 32 × 32',
      text: `The same cores and currents, 1,024 of them on one run. ${UPRIGHT}`,
      question: 'Where should the latch look now?',
      whyNot: {
        early: 'Here the ZERO still stands high: look for where it has fallen and the ONE has not.',
        late: 'Too far down the bell. A little earlier there is more on the side of the ONE.',
      },
      meaning:
        'The half-selected cores eat from below, so the best instant lies later and less is left. The ONE itself is nearly what it was.',
      answers: ANSWERS,
      traces: TRACES,
    },
    warm: {
      title: 'A warm day',
      text: 'The currents stay what they are; the board goes from 25 to 45 °C.',
      question: 'The peak of the bell comes…',
      choices: {
        earlier: { text: 'earlier, and higher', whyNot: 'Compare the three runs below.' },
        same: {
          text: 'when it came before',
          whyNot:
            'Its threshold falls by half a per cent a degree: of the drive beyond it that is a lot more.',
        },
        later: {
          text: 'later, and lower',
          whyNot:
            'That is the cold board. Warm ferrite turns more easily, so the same current is more for it.',
        },
      },
      meaning:
        'A strobe that is right in the cold may stand too late when it is warm, and half-selected cores begin to creep. Drivers whose current falls with temperature as the threshold does keep the bell in its place.',
      answers: { bell: 'Bell at {}' },
      traces: {},
    },
    drift: {
      title: 'A strobe that stays while the drive drops',
      text: 'The strobe stands at the best instant of the board as designed, with 370 mA a line. Now the drive drops to 330 mA.',
      question:
        'What is then left at that instant, in millivolts? (As designed some 14 mV are left; below zero it reads wrong.)',
      whyNot: {
        low: 'Not quite so bad: the bell comes later, but it is wide, and the strobe still stands on its flank.',
        high: 'The bell comes 76 ns later and a quarter lower: where its peak was there is now its rising flank.',
      },
      meaning:
        'Tolerances are not a detail: margin as designed says little until drive, supply, temperature and threshold have been taken to their ends. Parts as they come, each a little different, take their share too.',
      answers: {
        strobe: 'Strobe',
        usual: 'Left with 370 mA',
        weak: 'Left with 330 mA',
        one: 'Least ONE there',
      },
      traces: { weak: 'least ONE, 330 mA', usual: 'least ONE, 370 mA' },
    },
  },
} as const satisfies LessonWords;
