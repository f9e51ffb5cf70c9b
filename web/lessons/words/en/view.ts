/** How figures are told. */
export const say = {
  decimal: '.',
  at: 'at',
  to: 'to',
  and: 'and',
  none: 'none',
  under: (figure: string) => `under ${figure}`,
} as const;

/** What is said of an answer. */
export const scores = {
  right: 'As you said: ',
  wrong: 'Not so: ',
  number: (said: string, so: string) => `${said} said, ${so} is so`,
  place: (time: string, there: string, best: string, most: string) =>
    `At ${time} ${there}; the best instant, ${best}, leaves ${most}`,
  left: (volts: string) => `${volts} are left`,
  wrongBy: (volts: string) => `the worst case reads wrong by ${volts}`,
  best: (time: string, volts: string) => `${time}, where ${volts} are left`,
  asDrawn: 'As drawn below',
  enough: 'Enough: ',
  notEnough: 'Not yet: ',
  moved: (got: string, need: string, most: string | undefined) =>
    `it comes to ${got}, and ${need} or more are asked for${most === undefined ? '' : `; the most is ${most}`}`,
  most: (place: string, volts: string) => `${place}, which comes to ${volts}`,
  atLeast: (volts: string) => `${volts} or more`,
  draw: (volts: string) => `Off by ${volts} on average`,
  drawing: {
    upsideDown:
      'Upside down: at this core a ONE is heard upward. Drag the reading line over the bell and read its sign.',
    noSpike:
      'The spike is left out: while the currents rise, everything on the two lines answers. Move the instant through the first 40 ns and watch the mat.',
    noBell:
      'The bell is left out: the core that turns is heard after the edge is over. Move the instant from 100 ns on and watch the ring.',
    bellEarly: (by: string) =>
      `Your bell comes some ${by} early: a core takes its time. Drag the reading line to its peak.`,
    bellLate: (by: string) => `Your bell comes some ${by} late. Drag the reading line to its peak.`,
    heights:
      'Spike and bell are there; their heights are not. Drag the reading line to both peaks and read them off.',
  },
} as const;

/** The frame around the lessons. */
export const learn = {
  language: 'Language',
  notFetched: (language: string) =>
    `The texts in ${language} could not be fetched: look after the connection, then choose it again.`,
  title: 'Learn: from one core to a memory that reads',
  about: (lessons: number, steps: number) =>
    `${lessons} lessons of ${steps} steps in all. Say, place or draw what you expect, then let the engine answer. Nothing is sent; a reason in one line stays in this tab and is printed with its question. Every answer is computed on the step’s own small design; played on the stage, a step covers and locks that design until it is answered, and leaves it free to be played with then. The hand-out has the questions first, and the answers with their pictures on pages of their own.`,
  print: 'Print as a hand-out',
  solutions: 'Answers, each computed on its own small design',
  because: 'Because, in one line:',
  computing: 'Being computed.',
  failed: (why: string) => `This step could not be computed: ${why}`,
  reveal: 'Reveal',
  show: 'Show me',
  open: 'Open in Plan',
  drawn: 'drawn',
  choose: 'Predict first: choose one of the answers.',
  type: (unit: string) => `Predict first: type a plain number${unit === '' ? '' : ` of ${unit}`}.`,
  place: 'Predict first: show the two lines and put the strobe where it should look.',
  showLines: 'Show the two lines',
  moveLine: 'Drag the line, or use the arrow keys.',
  rectified: 'As the latch hears it: made positive, whichever way it points on the wire.',
  cutOff: (top: string) => `What goes over ${top} is cut off.`,
  slide: 'Predict first: move the slider to where you would put it.',
  turnBits: 'Predict first: turn the bits of some cores.',
  bitAt: (row: number, column: number) => `Core in row ${row}, column ${column}`,
  bitRead: 'read',
  onStageOnly: 'This one is answered on the stage: play it there.',
  draw: 'Predict first: draw the curve that you expect.',
  pull: 'Draw across the plot, or set one point after the other with the slider below it. By keys: Tab to a point, then arrow and Page keys.',
  points: (question: string) => `${question} Points to pull, from left to right.`,
  pointAt: (time: string) => `At ${time}`,
  pointBefore: 'The point before',
  pointAfter: 'The next point',
} as const;

export const loopChart = {
  name: (rest: string) => `The way of the core over its loop. ${rest}`,
  read: 'read',
  write: 'write',
} as const;

/** The page of terms. */
export const terms = {
  title: 'Terms of the trade',
  about: 'As this page uses them, each with where it comes from.',
} as const;
