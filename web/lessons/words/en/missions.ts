import type { LessonWords } from '../step-words.ts';

/** What every capture with a fault has in common: each fault's name, how it would look, and what to compare. */
const FOUND = {
  text: 'A read of a ONE was captured on the wire of the learning board. It is not what the design expects, and one thing alone is wrong.',
  question: 'What is wrong?',
  choices: {
    late: {
      text: 'One line comes 80 ns late',
      whyNot:
        'That would part the spike in two, one for each line, and shift the bell as it is. Set a stagger in Plan and look.',
    },
    weak: {
      text: 'Both lines carry a tenth too little',
      whyNot:
        'That would make the bell later and lower, and the spike stay one. Lower both lines in Plan and look.',
    },
    missing: {
      text: 'The addressed core is not there',
      whyNot: 'Then no bell would be left at all, only the spike. Take the core out in Plan and look.',
    },
    backwards: {
      text: 'The addressed core is threaded backwards',
      whyNot:
        'Then the bell would point the other way, at its usual time. Turn the core round in Plan and look.',
    },
  },
  answers: { expected: 'Selected core’s bell, expected', found: 'Found' },
  traces: { expected: 'expected', found: 'found' },
} as const;

export const missions = {
  title: 'Missions',
  steps: {
    'capture-1': {
      ...FOUND,
      title: 'A capture that is not as expected',
      meaning:
        'A bell that is lower and later at once has been driven too weakly, or is cold: both act on the drive beyond the threshold.',
    },
    'capture-2': {
      ...FOUND,
      title: 'Another one',
      meaning:
        'Two small spikes instead of one large one, and the bell moved as a whole: each line makes its own spike, and the core turns only once both are there.',
    },
    'capture-3': {
      ...FOUND,
      title: 'And a third',
      meaning:
        'Everything has its usual size and time, but the bell points the other way: the wire passes this one core from the wrong side. A detector for either sign would not even notice.',
    },
    slice: {
      title: 'Set the threshold',
      text: 'A mat of 32 × 32 on one run; whatever the threshold, the strobe goes to its best place. With the threshold at 18 mV, 6.3 mV are left on the side of the ZERO and more on the side of the ONE.',
      question: 'Set the threshold so that most is left on the side that has less.',
      whyNot: {
        low: 'Lower helps the ONE, and it is the ZERO that has less. Move it the other way.',
        high: 'Too far: now the ONE has less. Move it back: somewhere in between both sides are alike.',
      },
      meaning:
        'Strobe and threshold belong together: each has a best place only for the other. The winding, the drive and the wire’s ends are yours to change now: find a margin that is greater still.',
      answers: { best: 'Best', left: 'Left there', before: 'Left at 18 mV' },
      traces: { one: 'least ONE', zero: 'greatest ZERO' },
    },
    'own-board': {
      title: 'Reach a margin',
      text: 'A mat of 32 × 32 on one run: with 370 mA a line and a threshold of 18 mV, 6.3 mV are left at its best strobe. The course has shown what moves that.',
      question: 'Change the board until 10.5 mV or more are left.',
      whyNot: {
        one: 'The ONE has less: more current, or a lower threshold, gives it room. Each costs the ZERO something.',
        zero: 'The ZERO has less: less current, a winding that cancels, or a higher threshold gives it room. Each costs the ONE something.',
        fewer: 'There are fewer cores than before; with those it is no art. Put the rows and columns back.',
      },
      meaning:
        'A little less current is enough here. A higher threshold alone, or two halves alone, end just short of 10.5 mV, though either is far better than before. And this is the margin as designed: what supply, temperature and parts take from it Plan tells at the corners.',
      answers: { first: 'Left before any change', strobe: 'Its best strobe' },
      traces: { one: 'least ONE, before', zero: 'greatest ZERO, before' },
    },
    'real-capture': {
      title: 'A real capture beside its prediction',
      text: 'One core of 1.3 mm, measured with the current through it (“Magnetic Core Memory Controller”, 2025, HX2003/HX2003.github.io). The core of the prediction was fitted to this read, so that the two lying on each other proves nothing. The write that puts the ONE back, 4.8 µs later, had no part in the fit; its current was measured too.',
      question: 'How well does that core tell the peak of the write?',
      choices: {
        exact: {
          text: 'Within a fiftieth, as it does the read',
          whyNot:
            'A fit lies well on what it was fitted to: it may bend every parameter until it does. Move a current on the stage: of that peak no fit has seen anything.',
        },
        near: {
          text: 'It misses by something like a twentieth',
          whyNot: 'Look at the two peaks of the write below, and by how much the upper one is higher.',
        },
        far: {
          text: 'It misses by more than a seventh',
          whyNot:
            'It is the same core, at nearly the same current: most of what the read says holds for the write. Drag the reading line over both bells and compare.',
        },
      },
      meaning:
        'What was left out of a fit says how well it tells; what went into it does not. And this is still one core, one instrument and nearly one drive: at other currents, whose traces came without the current itself, it misses by more. In Plan stands this core fitted to all its published traces, this write among them, which is why nothing there is a proof of it.',
      answers: {
        read: 'Peak of the read, measured and fitted',
        write: 'Peak of the write, measured and told',
        off: 'Told higher by',
        early: 'Told earlier by',
      },
      traces: { measured: 'measured', told: 'told from the read' },
    },
  },
} as const satisfies LessonWords;
