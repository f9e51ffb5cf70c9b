import * as z from 'zod';
import { coreSchema } from '../design/schema/core.ts';
import {
  choice,
  count,
  flag,
  group,
  list,
  optionalQuantity,
  quantity as q,
  ratio,
  record,
  required,
  words,
} from '../design/schema/fields.ts';
import { CONDUCTORS, LARGEST_SIDE } from '../design/schema/mat.ts';
import {
  detectorSchema,
  requirementSchema,
  strobeSchema,
  supplySchema,
  tolerancesSchema,
} from '../design/schema/sense.ts';

const celsius = { unit: '°C', from: '-60 degC', to: '125 degC' } as const;
const metres = { unit: 'm', from: '5 um', to: '5 mm' } as const;

/** In which order answers stand that all do what is asked for. */
export const PREFERENCES = ['margin', 'current', 'drivers', 'cycle'] as const;

/** Fields of a design that follow from needs, and what they are called there. */
export const NOT_TO_KEEP: Readonly<Record<string, string>> = {
  core: 'cores',
  temperature: 'temperature',
  'mat.rows': 'mat.rows',
  'mat.columns': 'mat.columns',
  'mat.mats': 'bits',
  'cycle.period': 'cycle',
  'wire.diameter': 'wire.diameter',
  'wire.bareDiameter': 'wire.bareDiameter',
  supply: 'supply',
  tolerances: 'tolerances',
  requirement: 'want',
  'detector.threshold': 'nothing: it is what is sought',
  'strobe.time': 'nothing: it is what is sought',
};

/**
 * What a memory must do, and what there is to make it from. What a design states too (cores, supply, detector, strobe,
 * tolerances, requirement) is stated as there, and goes into the proposed file word for word.
 */
export const needsSchema = record('What a memory must do and what there is to make it from.', {
  $schema: words(300, 'Where the JSON Schema of this file is.').optional(),
  name: words(100, 'Name of the memory.').prefault('memory'),
  note: words(2000, 'Anything worth remembering about it.').prefault(''),
  words: count({ from: 4, to: LARGEST_SIDE ** 2, is: 'Words of the memory: cores of a mat.' }),
  bits: count({ from: 1, to: 64, is: 'Bits of a word: mats.' }),
  mat: record('Sides of a mat, where they are not free.', {
    rows: count({ from: 2, to: LARGEST_SIDE, is: 'X lines.' }),
    columns: count({ from: 2, to: LARGEST_SIDE, is: 'Y lines.' }),
  }).optional(),
  cores: list(coreSchema, 1, 8, 'Cores that there are, each as a design states its core.'),
  cycle: required({
    unit: 's',
    from: '100 ns',
    to: '100 ms',
    example: '4 us',
    orRate: true,
    is: 'From one read to the next.',
  }),
  temperature: record('Of cores and drivers.', {
    from: required({ ...celsius, example: '10 degC', is: 'Coldest.' }),
    to: required({ ...celsius, example: '40 degC', is: 'Warmest.' }),
  }),
  supply: record('Drive supply.', {
    ...supplySchema.unwrap().shape,
    voltage: required({ unit: 'V', from: '1 V', to: '500 V', example: '24 V', is: 'Its voltage.' }),
    budget: required({
      unit: 'A',
      from: '1 mA',
      to: '1 kA',
      example: '1.5 A',
      is: 'Current that it can give on average.',
    }),
  }),
  drivers: group('What the drivers can do.', {
    fastest: q('15 ns', { unit: 's', from: '1 ns', to: '10 us', is: 'Their fastest edge, 0 to 100 %.' }),
    most: count({ from: 3, to: 1000, is: 'How many there are: lines and inhibit together.' }).optional(),
    track: flag('Can they follow the temperature of the cores?').prefault(false),
  }),
  wire: group('Every wire through a core.', {
    diameter: optionalQuantity({ ...metres, example: '0.08 mm', is: 'Outside, insulation included.' }),
    bareDiameter: optionalQuantity({ ...metres, example: '0.071 mm', is: 'The bare conductor.' }),
    material: choice(CONDUCTORS, 'What it is made of.').prefault('copper'),
  }),
  fourthWire: flag('May the sense wire be one of its own, a fourth through every core?').prefault(false),
  amplifier: group('What the sense amplifiers can do.', {
    bandwidth: q('20 MHz', {
      unit: 'Hz',
      from: '10 kHz',
      to: '10 GHz',
      is: 'Greatest upper -3 dB frequency.',
    }),
    gain: ratio({ from: 1, to: 10_000, is: 'Greatest gain.' }).prefault(100),
    outputLimit: q('5 V', { unit: 'V', from: '1 mV', to: '1 kV', is: 'Greatest output, either way.' }),
    most: count({ from: 1, to: 4, is: 'Amplifiers a bit, at most.' }).prefault(4),
  }),
  detector: detectorSchema.unwrap().omit({ threshold: true, slope: true }).prefault({}),
  strobe: strobeSchema.unwrap().omit({ time: true }).prefault({}),
  want: requirementSchema.unwrap().omit({ sets: true, halfSelectNoise: true }).prefault({}),
  tolerances: tolerancesSchema.unwrap().omit({ temperature: true }).prefault({}),
  keep: z
    .record(z.string(), z.unknown(), {
      error: () => 'must be an object of fields of a design; leave it out to keep none',
    })
    .meta({ description: 'Fields of a design that are held as given.', 'x-kind': 'list' })
    .prefault({}),
  prefer: choice(PREFERENCES, 'Which of the builds that do it all comes first.').prefault('margin'),
  seed: count({
    from: 0,
    to: 4_294_967_295,
    is: 'Seed of stored pattern and of the draws for the yield.',
  }).prefault(1),
});
