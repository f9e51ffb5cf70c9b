import { z } from 'zod';
import { readQuantity } from '../engine/base/units.ts';
import { checkJig, type HandbookSource } from '../engine/core/handbook/check-handbook.ts';
import { fitCore, type FittedCore } from '../engine/fitting/jig/fit-core.ts';
import { readTrace, traceSchema } from './capture-input.ts';
import type { CaptureSource } from './capture-source.ts';
import { RequestError } from './request-error.ts';

const jigTrace = traceSchema.extend({
  start: z
    .string()
    .max(40)
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
  const { settings, from } = checkJig(input.values);
  if (frame.gain !== undefined && !(Math.abs(frame.gain) > 0 && Number.isFinite(frame.gain))) {
    throw new RequestError(422, {
      code: 'value',
      field: '/captures/gain',
      message: `The gain of the probe must not be 0; received ${frame.gain}: give volts in the capture over volts per turn at the core.`,
    });
  }
  const { rise, ...rest } = settings;
  const traceOf = (content: CaptureSource, part: JigTraceFrame, name: string) => ({
    trace: readTrace(content, part, `/captures/${name}`),
    edge: { start: startOf(part, `/captures/${name}/start`), rise },
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

function startOf({ start }: JigTraceFrame, field: string): number {
  const reading = readQuantity(start, 's');
  if (reading.ok) return reading.value;
  throw new RequestError(422, {
    code: 'value',
    field,
    message: `The start of the drive's rise must be a time with its unit, but ${reading.why}: write it like "0 ns".`,
  });
}
