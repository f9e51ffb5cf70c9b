import { z } from 'zod';
import { CONTRIBUTIONS } from '../../engine/network/causes.ts';
import { jigCapturesSchema } from '../jig-input.ts';
import { sessionSchema } from '../session-input.ts';

const numbers = z.array(z.number());
const byContribution = <Item extends z.ZodType>(item: Item) =>
  z.object(Object.fromEntries(CONTRIBUTIONS.map((name) => [name, item])));

export const errorSchema = z
  .strictObject({
    code: z.string().meta({ description: 'A stable word that a program can test.' }),
    field: z.string().nullable().meta({ description: 'JSON pointer to the field at fault.' }),
    message: z
      .string()
      .meta({ description: 'One sentence: what, requirement with unit, value received, remedy.' }),
    limit: z.union([z.number(), z.string()]).nullable().meta({ description: 'The limit that was passed.' }),
  })
  .meta({ id: 'Error' });

export const simulationSchema = z
  .object({
    version: z.string(),
    design: z.looseObject({}).meta({ description: 'The checked design, complete, SI.' }),
    outcome: z.looseObject({ kind: z.string() }),
    time: numbers.meta({ description: 's from the start of the observed read.' }),
    senseVoltage: numbers.meta({ description: 'V' }),
    commonMode: numbers.meta({ description: 'V' }),
    contributions: byContribution(numbers).nullable().meta({ description: 'V; they sum to senseVoltage.' }),
    amplifierOutput: numbers.meta({ description: 'V' }),
    detectorOutput: z.array(z.union([z.literal(0), z.literal(1)])),
    currents: z
      .object({ x: numbers, y: numbers, inhibit: numbers, sense: numbers })
      .meta({ description: 'A' }),
    selectedFlux: numbers.meta({ description: 'Wb' }),
    selectedState: numbers.meta({ description: 'Wb' }),
    selectedDrive: numbers.meta({ description: 'A' }),
    strobe: z.looseObject({
      time: z.number(),
      threshold: z.number(),
      bit: z.union([z.literal(0), z.literal(1)]),
    }),
    energy: z.object({
      source: z.number(),
      resistive: z.number(),
      stored: z.number(),
      cores: z.number(),
      residual: z.number(),
      delivered: z.number(),
    }),
    fluxClosure: z.number(),
    error: z.looseObject({ senseVoltage: z.number() }).nullable().meta({ description: 'V, estimated.' }),
    method: z.looseObject({}),
  })
  .meta({ id: 'Simulation' });

export const windowSchema = z
  .looseObject({
    version: z.string(),
    verdict: z
      .looseObject({
        design: z.enum(['reads', 'short', 'fails']),
        decides: z.string(),
        sets: z.looseObject({}),
        limits: z.array(z.looseObject({ code: z.string(), field: z.string() })),
      })
      .meta({
        description:
          'The worst over the sets that the design asks for, and each set by itself; `limits`: what all of them take for granted and the design does not keep to. Where there are any, `design` is not `reads`; where they alone stand in the way, `decides` is `limits`.',
      }),
    chain: z.array(z.looseObject({ step: z.string(), volts: z.number() })).meta({
      description: 'From the signal of the selected core to the margin that is left, V; it sums up.',
    }),
    ledger: z
      .array(z.looseObject({ field: z.string(), from: z.string() }))
      .meta({ description: 'What decides the answer and was not measured.' }),
    reason: z.string().nullable().meta({ description: 'Why there is no window; null when there is one.' }),
    strobe: z
      .looseObject({ start: z.number(), end: z.number(), width: z.number(), best: z.number() })
      .nullable(),
    threshold: z.looseObject({ low: z.number(), high: z.number(), best: z.number() }).nullable(),
    margin: z
      .looseObject({})
      .meta({ description: 'V, and the ratio in dB (the text "infinite" to nothing).' }),
    taps: z.array(z.looseObject({ time: z.number(), pass: z.boolean() })),
    errorChance: z.number(),
    atStrobe: z.looseObject({ one: byContribution(z.number()), zero: byContribution(z.number()) }),
    cases: z.array(z.looseObject({})),
  })
  .meta({ id: 'StrobeWindow' });

export const channelSchema = z
  .object({
    version: z.string(),
    design: z.looseObject({}).meta({ description: 'The checked design, complete, SI.' }),
    disturb: z.looseObject({}).meta({ description: 'uV1, dV1, uVz, dVz, the worst histories: V, s, Wb.' }),
    recovery: z
      .looseObject({})
      .meta({ description: 'Tail of the inhibit, and what the next strobe hears: s, V.' }),
    words: z.looseObject({}).meta({ description: 'ONE and ZERO against the ONEs in the word.' }),
    supply: z.array(z.looseObject({ rate: z.number(), allZeros: z.number(), inTime: z.boolean() })),
    build: z.looseObject({}).meta({ description: 'Drivers, cores, charge a cycle, rates.' }),
  })
  .meta({ id: 'Channel' });

export const jobSchema = z
  .strictObject({
    id: z.string(),
    kind: z.string(),
    state: z.enum(['queued', 'running', 'done', 'cancelled', 'failed']),
    done: z.number().meta({ description: 'Points, iterations of a fit or faults of a diagnosis done.' }),
    planned: z
      .number()
      .meta({ description: 'As many are planned (of a fit: at most); 0 until that is known.' }),
    share: z
      .number()
      .meta({ description: 'Share of the points that is done, with parts of those under way.' }),
    elapsed: z.number().meta({ description: 's' }),
    remaining: z.number().nullable().meta({ description: 's still needed at the pace so far.' }),
    hasResult: z.boolean(),
    error: errorSchema.nullable(),
  })
  .meta({ id: 'Job' });

const quantity = z.string().max(40);
export const handbookSchema = z.looseObject({
  fullDrive: quantity.meta({ example: '740 mA' }),
  rise: quantity.meta({ example: '50 ns' }),
  peakOne: quantity.meta({ example: '50 mV' }),
  peakTime: quantity.meta({ example: '125 ns' }),
  switchTime: quantity.meta({ example: '235 ns' }),
  outsideDiameter: quantity.meta({ example: '20 mil' }),
  insideDiameter: quantity.meta({ example: '12 mil' }),
  height: quantity.meta({ example: '5 mil' }),
});
export const jigSchema = handbookSchema
  .omit({ peakOne: true, peakTime: true, switchTime: true })
  .extend({ captures: jigCapturesSchema })
  .meta({ description: 'A core on a jig: the rest is read off its captures.' });

/** Captures of one core, each with what was stored and with its current. */
export const capturesSchema = sessionSchema.meta({
  description:
    'A list of captures of one core, each with what was stored and with its current, fitted together.',
});
