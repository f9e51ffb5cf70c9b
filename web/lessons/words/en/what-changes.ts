import type { LessonWords } from '../step-words.ts';

export const whatChanges = {
  title: 'What changes',
  steps: {
    warm: {
      title: 'A warm day',
      text: 'The currents stay what they are; the board goes from 25 to 45 °C.',
      question: 'The peak of the bell comes…',
      choices: {
        earlier: { text: 'earlier, and higher', whyNot: 'Compare the three runs below.' },
        same: {
          text: 'when it came before',
          whyNot:
            'Its threshold falls by half a per cent a degree: of the drive beyond it that is a lot more. Set the temperature back to 25 °C and watch the peak.',
        },
        later: {
          text: 'later, and lower',
          whyNot:
            'That is the cold board. Warm ferrite turns more easily, so the same current is more for it. Set the temperature to 5 °C and look.',
        },
      },
      meaning:
        'A strobe that is right in the cold may stand too late when it is warm, and half-selected cores begin to creep. So drivers are often made to give less current the warmer it gets; the next step shows what that does.',
      answers: { bell: 'Bell at {}' },
      traces: {},
    },
    tracks: {
      title: 'Drivers that follow the heat',
      text: 'With currents that stay, the peak of the bell moves by 80 ns between 5 and 45 °C. Now the drivers lose half a per cent of their current with each degree, as the core loses half a per cent of its threshold.',
      question: 'By how much does the peak of the bell move between 5 and 45 °C now?',
      choices: {
        same: {
          text: 'By as much as before',
          whyNot:
            'The drive beyond the threshold is what counts, and it no longer grows with the heat. Set the temperature to 5 °C and see how little the peak moves.',
        },
        less: { text: 'By much less, but it does move', whyNot: 'Compare the three runs below.' },
        none: {
          text: 'Not at all',
          whyNot:
            'Drive and threshold shrink alike, and with them their difference: a warm core is pushed a little less. Set 5 °C and look which way the peak goes.',
        },
      },
      meaning:
        'Tracking takes most of the shift away and turns the rest round: of two quantities that shrink alike the difference shrinks too, so the warm bell is now a little late. Somewhat less than half a per cent would do better; try it in Plan.',
      answers: { bell: 'Bell at {}', shift: 'From 5 to 45 °C: currents that stay, and that track' },
      traces: {},
    },
    parts: {
      title: 'Parts as they come',
      text: 'No two cores are alike. Of 1,024 whose thresholds scatter by 3 % (one standard deviation), two or three lie more than 9 % off the middle.',
      question: 'One line drives them all. The bell of a core with thresholds 9 % too high comes…',
      choices: {
        earlier: {
          text: 'earlier, and higher',
          whyNot:
            'That is the soft one, at the other end: a high threshold leaves less of the drive beyond it. Give each line a tenth more and see what this core lacks.',
        },
        same: {
          text: 'at the same time: the same flux is turned',
          whyNot:
            'The same flux, but at another speed. Give each line a tenth more and watch its bell get narrower as it gets higher.',
        },
        later: { text: 'later, and lower', whyNot: 'Compare the three runs below.' },
      },
      meaning:
        'One strobe has to serve them all, so a mat is as good as its hardest core, and its softest is the first to creep. That is why cores were tested one by one before they were threaded, and why a margin as designed is not the margin of parts as they come.',
      answers: { bell: 'Bell at {}' },
      traces: {},
    },
    drift: {
      title: 'A strobe that stays while the drive drops',
      text: 'The strobe stands at the best instant of the board as designed, with 370 mA a line. Now the drive drops to 330 mA.',
      question:
        'What is then left at that instant, in millivolts? (As designed some 14 mV are left; below zero it reads wrong.)',
      whyNot: {
        low: 'Not quite so bad: the bell comes later, but it is wide, and the strobe still stands on its flank. Drag the strobe there and read what is left.',
        high: 'The bell comes 76 ns later and a quarter lower: where its peak was there is now its rising flank. Drag the strobe later and watch what is left.',
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
