import { DIMENSIONS, readQuantity, type Unit } from '../../../engine/base/units.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import { CURVES, DRAW_FAULTS, MEASURES, MOST, type Measure, type OwnAsk, type OwnChoice } from './lesson.ts';
import { checkBoard, readPointer } from './read-board.ts';
import type { Reader } from './reader.ts';

/** What a question of a lesson's file asks for. */
export function readAsk(from: Reader, board: RawDesign): OwnAsk {
  const kind = from.field('kind').oneOf(['choose', 'number', 'place', 'set', 'draw'] as const);
  switch (kind) {
    case 'choose':
      return readChoose(from);
    case 'number':
      from.only(['kind', 'measure', 'within', 'tooLow', 'tooHigh']);
      return {
        kind,
        measure: measureOf(from),
        within: from.field('within').number(0, 100),
        ...wrongWays(from),
      };
    case 'place':
      from.only(['kind', 'moved', 'least', 'tooLow', 'tooHigh']);
      return {
        kind,
        moved: from.field('moved').oneOf(['strobe', 'threshold'] as const),
        least: quantity(from.field('least'), 'V'),
        ...wrongWays(from),
      };
    case 'set':
      return readSet(from, board);
    case 'draw':
      return readDraw(from);
  }
}

const MEASURE_NAMES = Object.keys(MEASURES) as Measure[];
const measureOf = (from: Reader): Measure => from.field('measure').oneOf(MEASURE_NAMES);
const wrongWays = (from: Reader): { tooLow: string; tooHigh: string } => ({
  tooLow: from.field('tooLow').text(0, MOST.text),
  tooHigh: from.field('tooHigh').text(0, MOST.text),
});

function readChoose(from: Reader): OwnAsk {
  from.only(['kind', 'measure', 'right', 'choices']);
  const measure = from.field('measure').value === undefined ? undefined : measureOf(from);
  const choices = from.field('choices').list(2, MOST.choices, (each): OwnChoice => {
    each.only(['text', 'whyNot', 'from', 'to']);
    const limits = (['from', 'to'] as const).flatMap((end) => {
      const limit = each.field(end);
      if (limit.value === undefined) return [];
      return [[end, quantity(limit, measure === undefined ? 'V' : MEASURES[measure])] as const];
    });
    return {
      text: each.field('text').text(1, MOST.text),
      whyNot: each.field('whyNot').text(0, MOST.text),
      ...Object.fromEntries(limits),
    };
  });
  const base = { kind: 'choose', choices } as const;
  if (measure !== undefined) return { ...base, measure };
  return { ...base, right: from.field('right').whole(0, choices.length - 1) };
}

function readSet(from: Reader, board: RawDesign): OwnAsk {
  from.only([
    'kind',
    'name',
    'pointers',
    'unit',
    'from',
    'to',
    'places',
    'measure',
    'sense',
    'target',
    'tooLow',
    'tooHigh',
  ]);
  const unit = from.field('unit').oneOf(Object.keys(DIMENSIONS) as Unit[]);
  const measure = measureOf(from);
  const ends = { from: quantity(from.field('from'), unit), to: quantity(from.field('to'), unit) };
  if (!(valueOf(ends.from, unit) < valueOf(ends.to, unit)))
    throw from.field('to').refuse(`must be above where the slider starts, ${ends.from}`);
  const pointers = from.field('pointers').list(1, 8, (each) => readPointer(each, board));
  for (const end of ['from', 'to'] as const)
    checkBoard(
      from.field(end),
      pointers.reduce((raw, pointer) => withValueAt(raw, pointer, ends[end]), board),
    );
  return {
    kind: 'set',
    name: from.field('name').text(1, 200),
    pointers,
    unit,
    ...ends,
    places: from.field('places').whole(2, MOST.places),
    measure,
    sense: from.field('sense').oneOf(['atLeast', 'atMost'] as const),
    target: quantity(from.field('target'), MEASURES[measure]),
    ...wrongWays(from),
  };
}

function readDraw(from: Reader): OwnAsk {
  from.only(['kind', 'curve', 'at', 'most', 'within', 'whyNot']);
  const at = from.field('at').list(2, MOST.points, (each) => quantity(each, 's'));
  at.forEach((text, k) => {
    if (k > 0 && !(valueOf(text, 's') > valueOf(at[k - 1]!, 's')))
      throw from
        .field('at')
        .item(k)
        .refuse(`must come after the point before it, ${at[k - 1]!}`);
  });
  const whyNot = from.field('whyNot');
  whyNot.only(DRAW_FAULTS);
  const most = quantity(from.field('most'), 'V');
  if (!(valueOf(most, 'V') > 0))
    throw from.field('most').refuse('must be a voltage above zero, such as 160 mV');
  return {
    kind: 'draw',
    curve: from.field('curve').oneOf(CURVES),
    at,
    most,
    within: quantity(from.field('within'), 'V'),
    whyNot: Object.fromEntries(
      DRAW_FAULTS.flatMap((fault) => {
        const text = whyNot.field(fault);
        return text.value === undefined ? [] : [[fault, text.text(0, MOST.text)] as const];
      }),
    ),
  };
}

const EXAMPLES: Readonly<Partial<Record<Unit, string>>> = { s: '120 ns', V: '8 mV', A: '370 mA' };

function quantity(from: Reader, unit: Unit): string {
  const text = from.text(1, 40);
  const reading = readQuantity(text, unit);
  if (reading.ok) return text;
  const example = EXAMPLES[unit];
  throw from.refuse(
    `must be ${DIMENSIONS[unit]} with its unit${example === undefined ? '' : `, such as ${example}`}`,
  );
}

const valueOf = (text: string, unit: Unit): number => {
  const reading = readQuantity(text, unit);
  return reading.ok ? reading.value : NaN;
};
