/** Around a step that is played beside the stage. */
export const onStage = {
  all: 'All lessons',
  lesson: 'Lesson',
  steps: (lesson: string) => `Steps of “${lesson}”`,
  right: ', answered rightly',
  wrong: ', answered, not rightly',
  seen: ', shown',
  score: (right: number, answered: number) =>
    answered === 0 ? 'Nothing answered yet' : `${right} of ${answered} answered rightly`,
  covered: 'Covered until the question is answered',
  play: 'Play on the stage',
  plan: 'Open this board in Plan',
  back: 'Back',
  next: (title: string) => `Next: ${title}`,
  locked:
    'Until you answer, parts of the stage are covered and its inputs are locked. The instant is yours to move.',
  movable: {
    strobe: 'Until you answer, parts of the stage are covered. The strobe and the instant are yours to move.',
    threshold:
      'Until you answer, parts of the stage are covered. The threshold and the instant are yours to move.',
    bits: 'Until you answer, parts of the stage are covered. The bits, here or in the mat, and the instant are yours to move.',
    drivers:
      'Until you answer, parts of the stage are covered. The current and the instant are yours to move.',
  },
  goal: 'The core, its bits and what detector and latch are good to stay as they are; all else is yours to change, in the parts over the stage and on it.',
  leftNow: (volts: string) => `Now ${volts} are left.`,
  takeOwn: 'Take my own design instead',
  ownAsks:
    'On a design of your own a quarter more than it has is asked for, and 1 mV more at least; whether that can be reached nobody has checked.',
  changeFirst: 'Change something first: parts over the stage, or strobe and threshold on it.',
  free: 'Nothing is covered any more, and everything may be changed: play with it. The way to the next step brings its own board.',
  strobeAside: 'Drag the strobe on the stage to where the latch should look, or use its arrow keys.',
  missing: (id: string) => `The course has no step named ${id}; here are those that it has.`,
} as const;
