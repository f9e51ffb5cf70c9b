import * as z from 'zod';
import { CORE_PROPERTIES } from '../../design/schema/core.ts';
import {
  choice,
  count,
  list,
  optionalQuantity,
  ratio,
  record,
  required,
  words,
} from '../../design/schema/fields.ts';

/** Fields of the file that says how captures of one core were taken; where the captures themselves are, each door says. */

const time = { unit: 's', from: '-1 s', to: '1 s', example: '1.2 us' } as const;
const width = { unit: 's', from: '1 ns', to: '1 s', example: '1.2 us' } as const;
const drive = { unit: 'A', from: '-100 A', to: '100 A', example: '-360 mA' } as const;

const pulse = record('One pulse of the current, straight edges.', {
  amplitude: required({ ...drive, is: 'Ampere-turns on its top; a write is positive, a read negative.' }),
  start: required({ ...time, is: 'Where its rise starts on the time of the capture.' }),
  width: required({ ...width, is: 'Between half-amplitude points.' }),
  rise: required({ ...width, from: '0 ns', example: '50 ns', is: '0 to 100 %.' }),
  fall: required({ ...width, from: '0 ns', example: '50 ns', is: '100 to 0 %.' }),
});

const train = record('Half-select pulses that went over the core between its setting and the capture.', {
  drive: required({ ...drive, is: 'Ampere-turns of each; a half-write is positive, a half-read negative.' }),
  width: required({ ...width, is: 'Width of each.' }),
  pulses: count({ from: 1, to: 1e9, is: 'How many of them.' }),
});

const span = record('A part of the capture that is compared with the model: a top, without its edges.', {
  from: required({ ...time, is: 'From this time of the capture.' }),
  to: required({ ...time, is: 'To this time of the capture.' }),
});

/** What is said of one capture beside its samples. */
export const captureFields = {
  name: words(80, 'What you call this capture.').optional(),
  bit: z
    .union([z.literal(0), z.literal(1)], {
      error: () => 'must be 0 or 1, the bit that was stored before the train',
    })
    .meta({ description: 'The bit that was stored before the train and the capture.', 'x-kind': 'count' }),
  train: train.optional(),
  spans: list(span, 1, 40, 'Parts that are compared.').optional(),
  pulses: list(pulse, 1, 20, 'The current, where it was not captured.').optional(),
  sag: ratio({
    from: 0,
    to: 10,
    is: 'A/V by which the source of pulses gives way to the EMF of the core: 1 over its resistance.',
  }).optional(),
  scaleDoubt: ratio({
    from: 0,
    to: 0.5,
    is: 'How far the scale of the current may be off, one standard deviation; 0.02, of pulses 0.05.',
  }).optional(),
  startDoubt: optionalQuantity({
    unit: 's',
    from: '0 ns',
    to: '10 us',
    example: '5 ns',
    is: 'How far the current may be late against the sense voltage, one standard deviation; 2 ns, of pulses 15 ns.',
  }),
  instrument: words(
    80,
    'The instrument and trigger of this capture: captures of one share clock, gain and polarity; one for all where it is left out.',
  ).optional(),
};

/** The same of all of them: `captures` stands in the schema of each door. */
export const sessionFields = {
  name: words(80, 'What you call this core.').optional(),
  source: words(300, 'Where the captures come from.').optional(),
  core: z
    .record(z.string(), z.unknown(), {
      error: () => 'must be an object in braces, as "core" of a design file',
    })
    .optional()
    .meta({ description: 'The core to start from, as in a design file: preset, handbook or parameters.' }),
  unknowns: list(
    choice(CORE_PROPERTIES as readonly [string, ...string[]], 'A parameter of the core.'),
    1,
    CORE_PROPERTIES.length,
    'Parameters to find; those that captures at one temperature can show, where it is left out.',
  ).optional(),
  gain: z
    .number({
      error: () =>
        'must be a plain number that is not 0: volts in the captures over volts per turn at the core',
    })
    .refine((value) => Math.abs(value) >= 1e-9 && Math.abs(value) <= 1e9, {
      error: () =>
        'must be a plain number that is not 0: volts in the captures over volts per turn at the core',
    })
    .optional()
    .meta({ description: 'Volts in the captures over volts per turn at the core; 1.', 'x-kind': 'ratio' }),
};

const fields = z.strictObject(captureFields);
const whole = z.strictObject(sessionFields);
/** What is said of one capture, and of the session, checked: SI. */
export type CaptureFields = z.output<typeof fields>;
export type SessionFields = z.output<typeof whole>;
