import type { Json } from '../../engine/base/json-patch.ts';
import { NAMED_INPUTS } from '../../engine/studies/shared/inputs.ts';
import type { StudyKind } from '../../engine/studies/shared/shape.ts';
import { listStudyOptions, type StudyOptionInfo } from '../../engine/studies/study-options.ts';

/** One option of a study as a field: what the reader sees, and how its text becomes the option's value. */
export interface StudyField {
  readonly name: string;
  readonly label: string;
  /** Meaning, range and unit, and what holds while it is empty, from the option's schema. */
  readonly help: string;
  readonly start: string;
  readonly choices: readonly (readonly [value: string, text: string])[];
  readonly read: (text: string) => Json;
}

export interface StudyForm {
  readonly kind: StudyKind;
  readonly title: string;
  readonly about: string;
  readonly fields: readonly StudyField[];
}

/** What a form adds to an option's schema: its label, where the page starts, its choices in words. */
interface Shown {
  readonly name: string;
  readonly label: string;
  /** Where the page starts with another value than the schema's. */
  readonly start?: string;
  readonly choices?: readonly (readonly [value: string, text: string])[];
}

const asNumber = (text: string): Json =>
  /^[-−]?[\d.]+$/u.test(text) ? Number(text.replace('−', '-')) : text;
/** `4, 8, 16x32` -> [4, 8, [16, 32]] */
const asSizes = (text: string): Json =>
  text
    .split(/[,;]\s*|\s+/u)
    .filter((part) => part !== '')
    .map((part) => {
      const sides = part.split(/[x×]/u).map(asNumber);
      return sides.length === 1 ? sides[0]! : sides;
    });

const READ: Readonly<Record<StudyOptionInfo['kind'], (text: string) => Json>> = {
  quantity: asNumber,
  count: asNumber,
  ratio: asNumber,
  flag: (text) => text === 'true',
  choice: (text) => text,
  text: (text) => text,
  list: asSizes,
};

/** A field out of the option's schema and what the form adds; an option that is none is a fault of ours. */
function fieldOf(kind: StudyKind, { name, label, start, choices }: Shown): StudyField {
  const info = listStudyOptions(kind).find((option) => option.name === name);
  if (!info) throw new Error(`Study ${kind} has no option ${name}.`);
  const byNature = info.kind === 'quantity' && !/^[-\d]/u.test(info.default);
  const flags = info.kind === 'flag' ? FLAGS : [];
  return {
    name,
    label,
    help: [
      info.meaning,
      ...(choices || flags.length > 0 ? [] : [`Takes ${info.range}.`]),
      ...(byNature ? [`Left empty: ${info.default}.`] : []),
    ].join(' '),
    start: start ?? (byNature ? '' : info.default),
    choices: choices ?? flags,
    read: READ[info.kind],
  };
}

const FLAGS = [
  ['true', 'yes'],
  ['false', 'no'],
] as const;
const strobe: Shown = {
  name: 'strobe',
  label: 'Strobe',
  choices: [
    ['fixed', 'as the nominal design'],
    ['best', 'the best of each'],
  ],
};
const seed: Shown = { name: 'seed', label: 'Seed' };
const inputs = NAMED_INPUTS.map((key) => [key, key.replace('.', ' ')] as const);

function form(kind: StudyKind, title: string, about: string, shown: readonly Shown[]): StudyForm {
  return { kind, title, about, fields: shown.map((each) => fieldOf(kind, each)) };
}

export const STUDY_FORMS: readonly StudyForm[] = [
  form(
    'scale',
    'How it scales',
    'Mat size against winding, strobe and threshold chosen anew for each, corners counted: which winding from which size on, and the largest mat that still does.',
    [{ name: 'sizes', label: 'Sizes', start: '4, 8, 16, 32, 64' }, strobe],
  ),
  form(
    'shmoo',
    'Where it works',
    'Pass and margin over two inputs, the edge traced by halving, and operating margins about the nominal.',
    [
      { name: 'x', label: 'Across', choices: inputs },
      { name: 'xFrom', label: 'from' },
      { name: 'xTo', label: 'to' },
      { name: 'y', label: 'Upward', choices: inputs },
      { name: 'yFrom', label: 'from' },
      { name: 'yTo', label: 'to' },
      { name: 'rows', label: 'Rows', start: '13' },
      { name: 'columns', label: 'Columns', start: '13' },
    ],
  ),
  form(
    'tolerance',
    'Parts as they come',
    'Every core and every driver its own: yield with its interval, the distribution of margin, and where the variance comes from. The spreads are those of the design.',
    [
      { name: 'draws', label: 'Builds drawn', start: '300' },
      seed,
      { name: 'stack', label: 'Yield of the stack too' },
    ],
  ),
  form(
    'temperature',
    'Warm and cold',
    'Margin with steady and with tracking drives, and the region of drive that works.',
    [
      { name: 'from', label: 'From' },
      { name: 'to', label: 'To' },
      { name: 'steps', label: 'Temperatures', start: '9' },
      { name: 'coefficient', label: 'Tracking drive' },
    ],
  ),
  form(
    'rate',
    'How fast',
    'Recovery, window, supply current and dissipation against cycle rate; the highest rate and what limits it.',
    [
      { name: 'from', label: 'Shortest period' },
      { name: 'to', label: 'Longest period' },
      { name: 'steps', label: 'Periods' },
      strobe,
    ],
  ),
  form(
    'pattern',
    'Which data hurt',
    'Checkerboard and its kin, the worst pattern of this winding and of others, fresh and disturbed, and march programmes.',
    [
      { name: 'random', label: 'Random patterns' },
      seed,
      { name: 'marches', label: 'Marches' },
      { name: 'wholeMat', label: 'Over the whole mat' },
    ],
  ),
  form(
    'sensitivity',
    'What matters most',
    'Each input moved a little either way, ranked by what it does to the margin.',
    [{ name: 'step', label: 'Moved by, in per cent' }, strobe],
  ),
];
