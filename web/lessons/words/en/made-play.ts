/** Around a lesson of one’s own as it is played, and what is said of a file that holds none. */
export const play = {
  about: (steps: number) =>
    `${steps} ${steps === 1 ? 'question' : 'questions'}. Say, place or draw what you expect, then let the engine answer. Your first answer to each counts; no name is asked for and nothing is sent.`,
  number: 'Your number in the class',
  numberHelp: (most: number) =>
    `1 to ${most}, as your teacher gave it out: your values differ from your neighbour’s.`,
  numberFirst: 'Type your number in the class first: it chooses your values.',
  badNumber: (most: number, got: string) =>
    `Your number must be a whole number from 1 to ${most}, but it is “${got}”: ask your teacher for it.`,
  step: (number: number, title: string) => `${number} ${title}`,
  busy: 'Being computed.',
  reveal: 'Reveal',
  open: 'Open this board in Plan',
  right: 'As you said: ',
  wrong: 'Not so: ',
  makerSays: ' (says the maker of this lesson; the engine was not asked)',
  choose: 'Predict first: choose one of the answers.',
  type: (unit: string) => `Predict first: type a plain number of ${unit}.`,
  place: 'Predict first: move the slider to where you would put it.',
  points: (question: string) => `${question} Points to pull, from left to right.`,
  numberSo: (said: string, so: string) => `${said} said, ${so} is so`,
  scanSo: (at: string, got: string, best: string, most: string) =>
    `${at} comes to ${got}; ${best} comes to ${most}`,
  none: 'nothing that can be told',
  drawSo: (off: string) => `off by ${off} on average`,
  because: 'Because, in one line:',
  counted: 'Your first answer is the one in your code.',
  code: 'Your code',
  codeHelp: (done: number, all: number) =>
    `${done} of ${all} answered. It holds your answers and a random mark, no name and no reason; give it to your teacher.`,
  copy: 'Copy the code',
  copied: 'Copied.',
  notCopied: 'The browser did not let it be copied: mark the code and copy it by hand.',
  again: 'Answer anew',
} as const;

export const file = {
  damaged:
    'The link of this lesson is damaged (cut off or mistyped); ask for it again, or open the lesson’s file.',
  tooLarge: (name: string, most: number, size: number) =>
    `${name} must be a file of at most ${most} MB, but it has ${size} MB: choose a lesson or a design.`,
  left: 'What was here was left as it is.',
} as const;
