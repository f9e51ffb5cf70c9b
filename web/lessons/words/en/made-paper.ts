import type { CoreStanding } from '../../../model/core-source.ts';

/** Answers that are counted, and sheets for printing. */
export const tally = {
  title: 'Answers of the class',
  back: 'Back to the lesson maker',
  about: 'Paste or type the students’ codes, one a line. They are counted in this browser and go nowhere.',
  codes: 'Codes',
  count: 'Count them',
  counted: (counts: number, all: number) => `${counts} of ${all} codes count.`,
  counting: 'What the engine says of each value is being computed.',
  standings: {
    counts: 'counts',
    again: 'given in twice: counted once',
    replaced: 'replaced by a later code of the same student',
    damaged: 'damaged: mistyped or cut off; ask for it again',
    otherLesson: 'of another lesson, or of this one before it was changed',
  },
  line: (number: number, text: string, standing: string) => `Line ${number}, ${text}: ${standing}.`,
  all: 'Every code counts.',
  answered: (right: number, answered: number, all: number) =>
    `${right} right of ${answered} answered, ${all} ${all === 1 ? 'student' : 'students'}.`,
  distribution: (title: string) => `Answers to “${title}”`,
  drawings: (title: string, count: number) => `${count} drawings of “${title}”, over what is so`,
  asked: (target: string) => `asked for: ${target}`,
  range: (low: string, high: string) => `${low} to ${high}`,
  so: (value: string) => `${value} is so`,
  right: 'right',
  csv: 'Save as CSV',
  csvHeads: { student: 'student', number: 'number in the class', answer: 'answer', right: 'right' },
  answerHead: 'Answer',
  studentsHead: 'Students',
  rightHead: 'Right',
} as const;

export const sheets = {
  title: 'Sheets',
  back: 'Back to the lesson maker',
  about:
    'What is below goes on paper: the questions first, with empty axes to sketch on and a line for the reason, then a key with pictures and inputs on pages of its own. Choose A4 or Letter here and in the print window.',
  which: 'Steps',
  all: 'all steps',
  one: (number: number, title: string) => `only ${number} ${title}`,
  paper: 'Paper',
  papers: { a4: 'A4', letter: 'Letter' },
  numbers: 'Numbers in the class',
  numbersHelp: (most: number) =>
    `one sheet for each, such as 1 to 6; at most ${most} at once. One sheet for all where nothing varies.`,
  badNumbers: (most: number, got: string) =>
    `The numbers must be one, or two of them from low to high with at most ${most} between, such as 1 to 6, but they are “${got}”.`,
  parts: 'Print',
  part: { both: 'questions and key', questions: 'questions', key: 'key' },
  print: 'Print',
  student: (number: number) => `Number in the class: ${number}`,
  sketch: 'Sketch here',
  mark: 'Mark here where you would put it',
  answer: 'Answer:',
  writeBits: 'Write 0 or 1 into each framed place; the hatched core is the one that is read.',
  reason: 'Because:',
  key: (title: string) => `Key: ${title}`,
  variant: (value: string, answer: string) => `${value}: ${answer}`,
  numbersOf: (numbers: readonly number[]) =>
    `${numbers.length === 1 ? 'number' : 'numbers'} ${numbers.join(', ')}`,
  target: (measure: string, sense: string, target: string) =>
    `right where “${measure}” is ${sense} ${target}`,
  inputs: 'Inputs of this board; all else is a default',
  cores: {
    measured: 'measured',
    measuredInPart: 'measured in part',
    handbook: 'from a handbook',
    preset: 'preset, not measured',
    assumed: 'assumed, not measured',
    given: 'as given',
  } satisfies Record<CoreStanding, string>,
  certainty: (core: string, version: string) =>
    `Computed by Strobewright ${version} on the board above, as designed, over the cases that are tried first. Its core is ${core}; an estimate: measure before trusting data to it.`,
  uncertain: (threshold: string, strobe: string) =>
    `Threshold known to ±${threshold}, strobe to ±${strobe}, as the board states.`,
  tolerance: (within: string) => `right within ${within}`,
} as const;
