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
  play: 'Play on the stage',
  plan: 'Open this board in Plan',
  back: 'Back',
  next: (title: string) => `Next: ${title}`,
  locked:
    'Until you answer, parts of the stage are covered and its inputs are locked. The instant is yours to move.',
  strobe: 'Until you answer, parts of the stage are covered. The strobe and the instant are yours to move.',
  threshold:
    'Until you answer, parts of the stage are covered. The threshold and the instant are yours to move.',
  free: 'Nothing is covered any more, and everything may be changed: play with it. The way to the next step brings its own board.',
  strobeAside: 'Drag the strobe on the stage to where the latch should look, or use its arrow keys.',
  missing: (id: string) => `The course has no step named ${id}; here are those that it has.`,
} as const;
