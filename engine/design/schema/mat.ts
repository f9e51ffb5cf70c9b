import * as z from 'zod';
import {
  choice,
  count,
  flag,
  group,
  list,
  optionalQuantity,
  quantity as q,
  ratio,
  received,
  record,
} from './fields.ts';

/** Largest side of a mat, in cores. */
export const LARGEST_SIDE = 256;

const at = (what: string): z.ZodNumber =>
  count({ from: 0, to: LARGEST_SIDE - 1, is: `${what}, counted from 0.` });

export const matSchema = group('The mat: one plane of cores, one bit of the word.', {
  rows: count({ from: 1, to: LARGEST_SIDE, is: 'X lines: cores along a column.' }).prefault(8),
  columns: count({ from: 1, to: LARGEST_SIDE, is: 'Y lines: cores along a row.' }).prefault(8),
  mats: count({ from: 1, to: 64, is: 'Mats in series on the X and Y lines: bits of the word.' }).prefault(1),
  otherOnes: count({
    from: 0,
    to: 63,
    is: 'How many of the other mats hold a ONE at the selected address; their cores load voltage-driven lines.',
  }).prefault(0),
  pitch: optionalQuantity({
    unit: 'm',
    from: '0.1 mm',
    to: '50 mm',
    example: '0.8 mm',
    is: 'Distance between neighbouring cores; 1.6 outside diameters if left out.',
  }),
  spacing: optionalQuantity({
    unit: 'm',
    from: '0.5 mm',
    to: '200 mm',
    example: '6 mm',
    is: 'Distance from one mat of the stack to the next; 6 mm if left out.',
  }),
  leads: group('Wires between the drivers and the mats, of each drive line.', {
    length: optionalQuantity({
      unit: 'm',
      from: '1 mm',
      to: '5 m',
      example: '100 mm',
      is: 'Length of wire there and back, both together; 100 mm if left out.',
    }),
    distance: optionalQuantity({
      unit: 'm',
      from: '0.1 mm',
      to: '500 mm',
      example: '2 mm',
      is: 'Distance between the lead there and the lead back, middle to middle; 2 mm if left out.',
    }),
    mutual: q('0 H', {
      unit: 'H',
      from: '-10 uH',
      to: '10 uH',
      is: 'Air mutual inductance of these leads and those of the sense wire, which wire.cable describes; 0: kept apart or twisted.',
    }),
  }),
  populated: record('Cores that are there where not all are: those of any row, column or place named here.', {
    rows: list(at('A row'), 1, LARGEST_SIDE, 'Rows with all their cores.').optional(),
    columns: list(at('A column'), 1, LARGEST_SIDE, 'Columns with all their cores.').optional(),
    cores: list(
      record('One core.', { row: at('Its row'), column: at('Its column') }),
      1,
      1024,
      'Single cores.',
    ).optional(),
  }).optional(),
});

const sign = z
  .union([z.literal(1), z.literal(-1)], {
    error: (issue) =>
      `must be 1 or -1, but ${received(issue.input)}; give the direction in which the wire threads the core`,
  })
  .meta({ description: '+1 or -1: how the sense wire threads this core.' });

const letters = (allowed: string, shown: string, is: string): z.ZodArray<z.ZodString> =>
  list(
    z.string().regex(new RegExp(`^[${allowed}]{1,${LARGEST_SIDE}}$`, 'u'), {
      error: (issue) =>
        `must be text of 1 to ${LARGEST_SIDE} letters ${shown}, but ${received(issue.input)}; give one letter for each column`,
    }),
    1,
    LARGEST_SIDE,
    `${is}: one text for each row, one letter for each column.`,
  );

export const windingSchema = group('How the sense wire is threaded, and who carries the inhibit current.', {
  kind: choice(
    ['shared-one-run', 'shared-two-halves', 'separate-diagonal', 'separate-rectangular', 'custom'],
    'Winding: one shared wire in one run or in two halves, a separate sense wire diagonal or rectangular, or your own.',
  ).prefault('shared-one-run'),
  polarity: list(
    list(sign, 1, LARGEST_SIDE, 'One row.'),
    1,
    LARGEST_SIDE,
    'Custom only: +1 or -1 for each core, row by row.',
  ).optional(),
  threading: record(
    'Custom only, instead of polarity: the mat as it lies on the table, from which polarity follows. Rows go down, columns to the right.',
    {
      lean: letters('/\\\\', '/ or \\', 'How each core leans, seen from above'),
      x: list(
        sign,
        1,
        LARGEST_SIDE,
        'For each row 1 where its write current flows to the right, -1 to the left.',
      ),
      y: list(sign, 1, LARGEST_SIDE, 'For each column 1 where its write current flows down, -1 up.'),
      wire: letters(
        '<>v^',
        '>, <, v or ^',
        'Which way the sense wire passes each core on its way from end A to end B',
      ),
    },
  ).optional(),
  order: list(
    count({ from: 0, to: LARGEST_SIDE ** 2 - 1, is: 'row * columns + column' }),
    1,
    LARGEST_SIDE ** 2,
    'Custom only: cores in the order in which the wire visits them, each as row * columns + column.',
  ).optional(),
  shared: flag('Custom only: does the sense wire carry the inhibit current too?').optional(),
  segments: count({
    from: 1,
    to: 16,
    is: 'Equal pieces into which the sense wire is cut, each with an amplifier of its own.',
  }).prefault(1),
});

const ohm = { unit: 'ohm', from: '0 ohm', to: '10 ohm' } as const;
const mutual = { unit: 'H', from: '-20 nH', to: '20 nH' } as const;
const WORKED_OUT = 'worked out from the geometry if left out.';

/** What wires are made of. */
export const CONDUCTORS = ['copper', 'aluminium', 'silver'] as const;

export const wireSchema = group('The sense (or shared) wire; values per core pitch.', {
  resistancePerCore: optionalQuantity({
    ...ohm,
    example: '20 mohm',
    is: `Series resistance of the wire per core pitch at 25 °C; ${WORKED_OUT}`,
  }),
  inductancePerCore: optionalQuantity({
    unit: 'H',
    from: '1 pH',
    to: '200 nH',
    example: '1 nH',
    is: `Inductance of the wire per core pitch, ferrite not counted; ${WORKED_OUT}`,
  }),
  capacitancePerCore: optionalQuantity({
    unit: 'F',
    from: '0.1 fF',
    to: '20 pF',
    example: '0.08 pF',
    is: `Capacitance to the surroundings per core pitch; ${WORKED_OUT}`,
  }),
  leakagePerCore: q('0 S', {
    unit: 'S',
    from: '0 S',
    to: '1 mS',
    is: 'Leakage to the surroundings per core pitch.',
  }),
  lossTime: q('1 ns', {
    unit: 's',
    from: '0 ns',
    to: '100 ns',
    is: 'Ferrite loss at high frequency, as inductance over its parallel resistance; 0 ns means none.',
  }),
  mutualX: optionalQuantity({
    ...mutual,
    example: '0.2 nH',
    is: `Air mutual inductance of sense wire and an X line at each crossing; ${WORKED_OUT}`,
  }),
  mutualY: optionalQuantity({
    ...mutual,
    example: '0.05 nH',
    is: `Air mutual inductance of sense wire and a Y line at each crossing; ${WORKED_OUT}`,
  }),
  couplingCapacitance: optionalQuantity({
    unit: 'F',
    from: '0 pF',
    to: '10 pF',
    example: '0.02 pF',
    is: `Capacitance between sense wire and a drive line at each crossing; ${WORKED_OUT}`,
  }),
  material: choice(
    CONDUCTORS,
    'What every wire is made of; it sets resistance and how that follows the temperature.',
  ).prefault('copper'),
  diameter: optionalQuantity({
    unit: 'm',
    from: '0.01 mm',
    to: '5 mm',
    example: '0.08 mm',
    is: 'Outside diameter of every wire, insulation included; all of them share the hole; 0.08 mm if left out.',
  }),
  bareDiameter: optionalQuantity({
    unit: 'm',
    from: '5 um',
    to: '5 mm',
    example: '0.071 mm',
    is: 'Diameter of the bare conductor of every wire; 0.89 of the outside diameter if left out.',
  }),
  distance: optionalQuantity({
    unit: 'm',
    from: '0.01 mm',
    to: '50 mm',
    example: '0.15 mm',
    is: 'Between the sense wire and the drive wire that it meets in a hole, middle to middle, on average; half the hole if left out.',
  }),
  cable: group('Leads from the mat to the board, at each end of the wire.', {
    delay: q('0 ns', {
      unit: 's',
      from: '0 ns',
      to: '50 ns',
      is: 'One-way delay of the leads; 0 ns means none.',
    }),
    impedance: q('60 ohm', {
      unit: 'ohm',
      from: '5 ohm',
      to: '1 kohm',
      is: 'Impedance of one conductor against the surroundings.',
    }),
    resistance: q('0 ohm', {
      unit: 'ohm',
      from: '0 ohm',
      to: '100 ohm',
      is: 'Series resistance of one conductor.',
    }),
  }),
});

const termination = {
  unit: 'ohm',
  from: '0.1 ohm',
  to: '10 Mohm',
  words: { open: Number.POSITIVE_INFINITY, short: 0 },
} as const;

export const terminationsSchema = group('Resistors from the wire to the surroundings.', {
  a: q('100 ohm', { ...termination, is: 'At end A, where the wire starts.' }),
  b: q('100 ohm', { ...termination, is: 'At end B, where it ends.' }),
  joint: q('open', {
    ...termination,
    example: '100 ohm',
    is: 'Where two halves meet at the inhibit driver.',
  }),
});

const factor = (is: string): z.ZodPrefault<z.ZodNumber> => ratio({ from: 0.01, to: 10, is }).prefault(1);

export const exceptionSchema = record('One core that is not like the others.', {
  row: at('Its row'),
  column: at('Its column'),
  missing: flag('No core there.').prefault(false),
  reversed: flag('Threaded backwards by the sense wire.').prefault(false),
  fluxFactor: factor('Its flux over that of the others.'),
  thresholdFactor: factor('Its thresholds over those of the others.'),
  elasticFactor: factor('Its elastic inductance over that of the others.'),
  bias: q('0 A', {
    unit: 'A',
    from: '-50 A',
    to: '50 A',
    example: '2 A',
    is: 'Ampere-turns of a magnet held to it since long before the programme: the core starts where the magnet has brought it. Positive in the write direction.',
  }),
});

export const storedSchema = group('What the mat holds before the programme starts.', {
  kind: choice(
    ['zeros', 'ones', 'checkerboard', 'row-stripes', 'column-stripes', 'random', 'custom'],
    'Stored pattern.',
  ).prefault('random'),
  seed: count({ from: 0, to: 4_294_967_295, is: 'Seed of the random pattern.' }).prefault(1),
  rows: list(
    z.string().regex(new RegExp(`^[01]{1,${LARGEST_SIDE}}$`, 'u'), {
      error: (issue) =>
        `must be text of 1 to ${LARGEST_SIDE} letters 0 or 1, but ${received(issue.input)}; give one letter for each column`,
    }),
    1,
    LARGEST_SIDE,
    'Custom only: one text of 0 and 1 for each row.',
  ).optional(),
  complement: flag('Turn every bit over.').prefault(false),
});

export const selectedSchema = group('The core that is read in the observed cycle, and what it holds.', {
  row: at('Its row (X line)').optional(),
  column: at('Its column (Y line)').optional(),
  bit: z
    .union([z.literal(0), z.literal(1)], {
      error: (issue) => `must be 0 or 1, but ${received(issue.input)}; write the bit without quotes`,
    })
    .meta({ description: 'Bit stored in it before the programme starts.', 'x-kind': 'bit' })
    .prefault(1),
});
