import type { LessonWords } from '../step-words.ts';

const TRACES = { one: 'least ONE', zero: 'greatest ZERO' } as const;
const ANSWERS = {
  best: 'Best instant',
  window: 'Window',
  left: 'Left there',
  elastic: 'Of the greatest ZERO there: half-selected cores, elastic',
  creep: 'Half-selected cores that creep',
} as const;

export const whenToLook = {
  title: 'When to look',
  steps: {
    strobe: {
      title: 'Place the strobe',
      text: 'A latch looks once, at one instant, whether the voltage is over the threshold. Of all patterns the least ONE and the greatest ZERO are drawn.',
      question: 'Where should the latch look?',
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
      text: 'The same cores and currents, 1,024 of them on one run.',
      question: 'Where should the latch look now?',
      whyNot: {
        early: 'Here the ZERO still stands high: move the strobe to where it has fallen and the ONE has not.',
        late: 'Too far down the bell. Move it back a little: earlier there is more on the side of the ONE.',
      },
      meaning:
        'The ONE itself is nearly what it was; the ZERO rises from below. At the strobe the elastic answer has long gone: what is left are the half-selected cores that creep, 62 of them, each a little. So the best instant lies later, and less is left.',
      answers: ANSWERS,
      traces: TRACES,
    },
    'how-much-current': {
      title: 'How much current?',
      text: 'On 16 × 16, one run, both lines carry 370 mA, and the threshold stays at 18 mV. Whatever the current, the strobe goes to its best place.',
      question: 'Set the current of both lines so that most is left on the side that has less.',
      whyNot: {
        low: 'A core that is driven so weakly turns slowly: its bell is too low for the threshold. Give it more.',
        high: 'The ONE does grow, but now half a current comes near the knee: half-selected cores creep, and the ZERO rises faster. Give less.',
      },
      meaning:
        'More drive makes the ONE higher, and it makes every half-selected core creep more. With one core the first counts, with many the second: a large mat wants less current than a small one, and a narrower tolerance of it.',
      answers: { left: 'Left at {}' },
      traces: {
        one: 'least ONE, best current',
        zero: 'greatest ZERO, best current',
        before: 'greatest ZERO, 370 mA',
      },
    },
    'two-windings': {
      title: 'When the window opens',
      text: 'Back to 16 × 16. With two halves instead of one run the half-selected cores cancel but for the pattern, and more margin is left. Of either winding the least ONE is drawn.',
      question: 'With two halves, the window opens…',
      choices: {
        earlier: {
          text: 'earlier: there is less noise to wait for',
          whyNot:
            'The spike is over in either. What the window waits for is the ONE: drag the reading line to where it crosses the threshold, with this winding and with one run.',
        },
        same: {
          text: 'when it did before',
          whyNot:
            'Set the winding to one run on the stage and back, and watch where the ONE crosses the threshold: with two halves some cores stand against it.',
        },
        later: { text: 'later, though more is left', whyNot: 'Compare the two windows below.' },
      },
      meaning:
        'In one run every half-selected core points the way of the ONE: at worst it adds nothing. With two halves half of them point against it, and the worst pattern makes those creep: the ONE rises over the threshold later. The ZERO gains more than that, so more is left at the best instant.',
      answers: {
        run: 'Window, one run',
        halves: 'Window, two halves',
        left: 'Left at best, one run and two halves',
        against: 'Against the least ONE, two halves',
      },
      traces: {
        run: 'least ONE, one run',
        halves: 'least ONE, two halves',
        zero: 'greatest ZERO, two halves',
      },
    },
  },
} as const satisfies LessonWords;
