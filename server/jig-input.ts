import { z } from 'zod';
import { writeQuantity } from '../engine/base/format-quantity.ts';
import { readQuantity } from '../engine/base/units.ts';
import { checkJig, type HandbookSource } from '../engine/core/handbook/check-handbook.ts';
import { fitCore, type FittedCore } from '../engine/fitting/jig/fit-core.ts';
import type { Trace } from '../engine/fitting/align/trace-tools.ts';
import { readCurrent, type MeasuredDrive } from '../engine/fitting/jig/read-current.ts';
import { readTrace, traceSchema } from './capture-input.ts';
import type { CaptureSource } from './capture-source.ts';
import { RequestError } from './request-error.ts';

const jigTrace = traceSchema.extend({
  current: z.int().min(1).max(64).optional().meta({
    description:
      'Which trace of the capture is the drive current, from 1: start, rise and full drive are then read off it.',
  }),
  start: z
    .string()
    .max(40)
    .optional()
    .meta({ description: "Where the drive's rise starts on the capture's own time.", example: '0 ns' }),
});

/** Captures of one core on a jig, beside the handbook fields that no capture gives. */
export const jigCapturesSchema = z.strictObject({
  one: jigTrace.meta({ description: 'A read of an undisturbed ONE at full drive.' }),
  disturbedZero: jigTrace.optional().meta({ description: 'A read of a disturbed ZERO at full drive.' }),
  gain: z
    .number()
    .optional()
    .meta({ description: 'Volts in the captures over volts per turn at the core; 1.' }),
});
export type JigFrame = z.infer<typeof jigCapturesSchema>;
type JigTraceFrame = JigFrame['one'];

/** What travels to a worker: the handbook fields as given, and each capture with its text, or where that is kept. */
export interface JigInput {
  /** Unchecked: the engine checks it. */
  readonly values: unknown;
  readonly frame: JigFrame;
  readonly one: CaptureSource;
  readonly disturbedZero: CaptureSource | undefined;
}

/** A core from captures: what is read off them, its parameters, and an entry for a list. */
export function runJig(input: JigInput): { readonly fitted: FittedCore; readonly from: HandbookSource } {
  const { frame } = input;
  const drive = frame.one.current === undefined ? undefined : driveIn(input.one, frame.one, '/captures/one');
  const { settings, from } = checkJig(drive ? withDrive(input.values, drive) : input.values);
  if (frame.gain !== undefined && !(Math.abs(frame.gain) > 0 && Number.isFinite(frame.gain))) {
    throw new RequestError(422, {
      code: 'value',
      field: '/captures/gain',
      message: `The gain of the probe must not be 0; received ${frame.gain}: give volts in the capture over volts per turn at the core.`,
    });
  }
  const { rise, ...rest } = settings;
  const traceOf = (content: CaptureSource, part: JigTraceFrame, name: string) => ({
    trace: senseIn(content, part, `/captures/${name}`),
    edge: { start: startOf(content, part, `/captures/${name}`), rise },
  });
  const fitted = fitCore(
    {
      one: traceOf(input.one, frame.one, 'one'),
      disturbedZero:
        frame.disturbedZero && input.disturbedZero !== undefined
          ? traceOf(input.disturbedZero, frame.disturbedZero, 'disturbedZero')
          : undefined,
      gain: frame.gain,
    },
    rest,
    from.name === '' ? undefined : from.name,
  );
  return { fitted, from };
}

/** Full drive and rise as the captured current shows them, in the place of what the values would say. */
function withDrive(values: unknown, { fullDrive, rise }: MeasuredDrive): unknown {
  if (typeof values !== 'object' || values === null) return values;
  const twice = (['fullDrive', 'rise'] as const).find((name) => name in values);
  if (twice !== undefined)
    throw new RequestError(422, {
      code: 'core-handbook',
      field: `/${twice}`,
      message: `${twice} is read off the captured current, but is given as well: leave it out, or leave out the current.`,
    });
  return { ...values, fullDrive: writeQuantity(fullDrive, 'A'), rise: writeQuantity(rise, 's') };
}

/** The sense voltage: the trace that is asked for; where the current is one of two, the other. */
const senseIn = (content: CaptureSource, part: JigTraceFrame, field: string): Trace =>
  readTrace(content, part, field, part.current);

const driveIn = (content: CaptureSource, part: JigTraceFrame, field: string): MeasuredDrive =>
  readCurrent(readTrace(content, { ...part, trace: part.current }, field));

function startOf(content: CaptureSource, part: JigTraceFrame, field: string): number {
  if (part.start === undefined) {
    if (part.current !== undefined) return driveIn(content, part, field).start;
    throw new RequestError(422, {
      code: 'value',
      field: `${field}/start`,
      message:
        "Where the drive's rise starts must be given, or which trace of the capture is the drive current, and neither is: give start or current.",
    });
  }
  const reading = readQuantity(part.start, 's');
  if (reading.ok) return reading.value;
  throw new RequestError(422, {
    code: 'value',
    field: `${field}/start`,
    message: `The start of the drive's rise must be a time with its unit, but ${reading.why}: write it like "0 ns".`,
  });
}
