import type { Json } from '../../engine/base/json-patch.ts';
import { NAMED_INPUTS } from '../../engine/studies/shared/inputs.ts';
import type { StudyKind } from '../../engine/studies/shared/shape.ts';

/** One option of a study as a field: what the reader sees, and how its text becomes the option's value. */
export interface StudyField {
  readonly name: string;
  readonly label: string;
  /** Shown while empty: what the study then does. */
  readonly hint?: string;
  readonly start?: string;
  readonly choices?: readonly (readonly [value: string, text: string])[];
  readonly read: (text: string) => Json;
}

export interface StudyForm {
  readonly kind: StudyKind;
  readonly title: string;
  readonly about: string;
  readonly fields: readonly StudyField[];
}

const asText = (text: string): Json => text;
const asNumber = (text: string): Json => (/^-?[\d.]+$/u.test(text) ? Number(text) : text);
const asFlag = (text: string): Json => text === 'yes';
/** `4, 8, 16x32` -> [4, 8, [16, 32]] */
const asSizes = (text: string): Json =>
  text
    .split(/[,;]\s*|\s+/u)
    .filter((part) => part !== '')
    .map((part) => {
      const sides = part.split(/[x×]/u).map(asNumber);
      return sides.length === 1 ? sides[0]! : sides;
    });

const strobe: StudyField = {
  name: 'strobe',
  label: 'Strobe',
  choices: [
    ['fixed', 'as the nominal design'],
    ['best', 'the best of each'],
  ],
  read: asText,
};
const seed: StudyField = { name: 'seed', label: 'Seed', start: '1', read: asNumber };
const yes = [
  ['yes', 'yes'],
  ['no', 'no'],
] as const;
const inputs = NAMED_INPUTS.map((key) => [key, key.replace('.', ' ')] as const);

export const STUDY_FORMS: readonly StudyForm[] = [
  {
    kind: 'scale',
    title: 'How it scales',
    about:
      'Mat size against winding, strobe and threshold chosen anew for each, corners counted: which winding from which size on, and the largest mat that still does.',
    fields: [
      { name: 'sizes', label: 'Sizes', start: '4, 8, 16, 32, 64', read: asSizes },
      { ...strobe, choices: [...strobe.choices!].reverse() },
    ],
  },
  {
    kind: 'shmoo',
    title: 'Where it works',
    about:
      'Pass and margin over two inputs, the edge traced by halving, and operating margins about the nominal.',
    fields: [
      { name: 'x', label: 'Across', choices: inputs, start: 'strobe', read: asText },
      { name: 'xFrom', label: 'from', hint: 'about nominal', read: asText },
      { name: 'xTo', label: 'to', hint: 'about nominal', read: asText },
      { name: 'y', label: 'Upward', choices: inputs, start: 'drive', read: asText },
      { name: 'yFrom', label: 'from', hint: 'about nominal', read: asText },
      { name: 'yTo', label: 'to', hint: 'about nominal', read: asText },
      { name: 'rows', label: 'Rows', start: '13', read: asNumber },
      { name: 'columns', label: 'Columns', start: '13', read: asNumber },
    ],
  },
  {
    kind: 'tolerance',
    title: 'Parts as they come',
    about:
      'Every core and every driver its own: yield with its interval, the distribution of margin, and where the variance comes from. The spreads are those of the design.',
    fields: [
      { name: 'draws', label: 'Builds drawn', start: '300', read: asNumber },
      seed,
      { name: 'stack', label: 'Yield of the stack too', choices: yes, read: asFlag },
    ],
  },
  {
    kind: 'temperature',
    title: 'Warm and cold',
    about: 'Margin with steady and with tracking drives, and the region of drive that works.',
    fields: [
      { name: 'from', label: 'From', start: '0 degC', read: asText },
      { name: 'to', label: 'To', start: '60 degC', read: asText },
      { name: 'steps', label: 'Temperatures', start: '9', read: asNumber },
      { name: 'coefficient', label: 'Tracking drive', hint: 'as the core', read: asText },
    ],
  },
  {
    kind: 'rate',
    title: 'How fast',
    about:
      'Recovery, window, supply current and dissipation against cycle rate; the highest rate and what limits it.',
    fields: [
      { name: 'from', label: 'Shortest period', hint: 'what the pulses allow', read: asText },
      { name: 'to', label: 'Longest period', hint: 'twice the nominal', read: asText },
      { name: 'steps', label: 'Periods', start: '9', read: asNumber },
      strobe,
    ],
  },
  {
    kind: 'pattern',
    title: 'Which data hurt',
    about:
      'Checkerboard and its kin, the worst pattern of this winding and of others, fresh and disturbed, and march programmes.',
    fields: [
      { name: 'random', label: 'Random patterns', start: '4', read: asNumber },
      seed,
      { name: 'marches', label: 'Marches', choices: yes, read: asFlag },
      { name: 'wholeMat', label: 'Over the whole mat', choices: [...yes].reverse(), read: asFlag },
    ],
  },
  {
    kind: 'sensitivity',
    title: 'What matters most',
    about: 'Each input moved a little either way, ranked by what it does to the margin.',
    fields: [{ name: 'step', label: 'Moved by, in per cent', start: '1', read: asNumber }, strobe],
  },
];
