import type { LessonWords } from '../step-words.ts';

export const whatIsHeard = {
  title: 'What the wire hears',
  steps: {
    draw: {
      title: 'Draw what you expect',
      text: 'The board has 16 cores, all ZERO but one. Both lines of that core switch on within 40 ns and stay on for 800 ns; the sense wire passes through every core. At this core’s place the sign of the wire is such that a ONE is heard upward.',
      question: 'Draw the voltage of the sense wire over the first 600 ns of the read.',
      meaning:
        'Two things, one after the other: a spike while the currents rise, then the bell of the one core that turns. The bell is the signal.',
      answers: { spike: 'Spike on the edge', bell: 'Bell' },
      traces: { one: 'the wire, a ONE' },
    },
    hears: {
      title: 'What the spike is made of',
      text: 'The wire hears the selected core, and it hears everything else that moves.',
      question: 'In the first 60 ns of the read, which is the largest part of the voltage?',
      choices: {
        selected: {
          text: 'The selected core’s bell',
          whyNot: 'It has hardly begun to turn. Drag the reading line to 20 ns and look at the causes.',
        },
        others: {
          text: 'Coupling from the drive wires, and the half-selected cores',
          whyNot: 'Compare the two numbers below.',
        },
        inhibit: {
          text: 'Inhibit',
          whyNot:
            'Nothing inhibits during a read. Show the whole cycle on the stage and look for the inhibit among the currents: it flows with the write.',
        },
      },
      meaning:
        'All of that lives on the slopes of the currents: it comes with the edges and goes with them. The bell does not.',
      answers: {
        selected: 'Selected core, first 60 ns',
        others: 'Coupling and half-selected cores',
        bell: 'Selected core’s bell later',
      },
      traces: { half: 'half-selected cores', direct: 'direct coupling', selected: 'selected core' },
    },
    late: {
      title: 'Why the bell comes late',
      text: 'The current stands at its full value after 40 ns, and the core’s bell has its peak long after that.',
      question: 'With a tenth more current in both lines, the peak of the bell comes…',
      choices: {
        earlier: { text: 'earlier, and higher', whyNot: 'Compare the three runs below.' },
        same: {
          text: 'at the same time, and higher',
          whyNot:
            'The delay is not that of the current: the core turns at a speed that goes with the drive beyond its threshold. Set each line to 330 mA and watch the peak.',
        },
        later: {
          text: 'later, since there is more to turn',
          whyNot:
            'There is just as much flux to turn, and it is turned faster. Set each line to 330 mA and see how much later its peak comes.',
        },
      },
      meaning:
        'How fast a core turns follows the drive beyond its threshold. Area is flux, and the flux is the same: a bell that is twice as high is half as wide, and sooner over. This is why the strobe comes late, and why it must follow the drive.',
      answers: { bell: 'Bell at {}' },
      traces: {},
    },
    zero: {
      title: 'And if it held a ZERO?',
      text: 'The same read, the same currents; the selected core stands already where the read would take it.',
      question: 'What does the wire show of a ZERO?',
      choices: {
        nothing: {
          text: 'Nothing at all',
          whyNot:
            'Only what turns for good is missing. Move the instant to 20 ns and look at the causes: all that lives on the slopes of the currents is still there.',
        },
        spike: { text: 'The spike, without the bell', whyNot: 'Compare the two numbers below.' },
        reverse: {
          text: 'The same bell upside down',
          whyNot:
            'That is the write of a ONE. A core cannot go further than the end of its loop: move the instant through the read and look at the dot.',
        },
      },
      meaning:
        'ONE and ZERO differ only where the bell is. Before it they are alike, and after it too: there is one stretch in which a latch can tell them apart.',
      answers: { spike: 'Spike of a ZERO', left: 'Left where the bell of a ONE has its peak' },
      traces: { one: 'ONE', zero: 'ZERO' },
    },
  },
} as const satisfies LessonWords;
