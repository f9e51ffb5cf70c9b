import { z } from 'zod';
import type { CaptureOptions } from '../engine/capture/capture.ts';
import { severalFitJson } from '../engine/export/serialise.ts';
import { fitSeveral, type CoreSession, type SeveralFit } from '../engine/fitting/jig/fit-several.ts';
import { captureFields, sessionFields } from '../engine/fitting/jig/session-schema.ts';
import type { Trace } from '../engine/fitting/align/trace-tools.ts';
import { captureOptionsSchema, readWhole } from './capture-input.ts';
import type { CaptureSource } from './capture-source.ts';
import { frameSentence } from './frame-sentence.ts';
import { RequestError } from './request-error.ts';

const place = z.int().min(1).max(64);

const sessionCapture = z.strictObject({
  ...captureFields,
  text: z.string().optional(),
  saved: z.string().max(100).optional(),
  file: z
    .string()
    .max(1000)
    .optional()
    .meta({ description: 'At the command line alone: the CSV, from the folder of this file.' }),
  options: captureOptionsSchema.optional(),
  sense: place
    .optional()
    .meta({ description: 'Which trace is the sense voltage, from 1; the first in volts.' }),
  currents: z.array(place).min(1).max(4).optional().meta({
    description: 'Which traces are drive currents, added up; all that are in amperes.',
  }),
});

/** Captures of one core at several drives and after half-select pulses, fitted together. */
export const sessionSchema = z.strictObject({
  ...sessionFields,
  captures: z.array(sessionCapture).min(1).max(8),
});
export type SessionFrame = z.output<typeof sessionSchema>;

/** What travels to a worker: what is said of the captures, and the text of each or where it is kept. */
export interface SessionInput {
  readonly frame: SessionFrame;
  readonly contents: readonly CaptureSource[];
}

/** Reads what is said of a session; refuses with one sentence about its first fault. */
export function readSession(body: unknown): SessionFrame {
  const read = sessionSchema.safeParse(body);
  if (read.success) return read.data;
  const [issue] = read.error.issues;
  const field = `/${issue.path.map(String).join('/')}`;
  const value = issue.path.reduce<unknown>((at, key) => (at as Record<PropertyKey, unknown>)?.[key], body);
  const subject = field === '/' ? 'The file' : field;
  throw new RequestError(422, {
    code: 'core-captures',
    field: field === '/' ? '' : field,
    message: issue.message.startsWith('must')
      ? `${subject} ${issue.message}.`
      : frameSentence(subject, issue, value),
  });
}

/** Reads each capture, then fits the core to all of them. */
export function runSession({ frame, contents }: SessionInput, cancelled?: () => boolean): SeveralFit {
  const captures = frame.captures.map((capture, i): CoreSession['captures'][number] => {
    const { text: _, saved: __, file: ___, options, sense, currents, ...fields } = capture;
    const name = fields.name ?? capture.saved ?? capture.file;
    return {
      ...fields,
      ...(name === undefined ? {} : { name }),
      ...tracesOf(contents[i], options, { sense, currents }, `/captures/${i}`),
    };
  });
  return fitSeveral({ ...frame, captures }, cancelled);
}

export const sessionJson = (input: SessionInput, cancelled?: () => boolean): string =>
  severalFitJson(runSession(input, cancelled));

function tracesOf(
  content: CaptureSource,
  options: CaptureOptions | undefined,
  { sense, currents }: { readonly sense?: number; readonly currents?: readonly number[] },
  field: string,
): { readonly sense: Trace; readonly current?: Trace } {
  const { time, traces } = readWhole(content, options, field);
  const pick = (number: number, what: string): (typeof traces)[number] => {
    const trace = traces[number - 1];
    if (trace) return trace;
    throw new RequestError(422, {
      code: 'no-trace',
      field: `${field}/${what}`,
      message: `The capture has ${traces.length} traces; received ${number}: count from 1.`,
      limit: traces.length,
    });
  };
  const volts = sense === undefined ? traces.find(({ unit }) => unit === 'V') : pick(sense, 'sense');
  if (volts === undefined)
    throw new RequestError(422, {
      code: 'no-trace',
      field: `${field}/sense`,
      message:
        'The capture must hold a trace in volts, and holds none: say which one is the sense voltage with "sense".',
    });
  const flowing = currents?.map((n) => pick(n, 'currents')) ?? traces.filter(({ unit }) => unit === 'A');
  if (flowing.length === 0) return { sense: { time, value: volts.value } };
  const sum = volts.value.map((_, k) => flowing.reduce((total, { value }) => total + value[k], 0));
  return { sense: { time, value: volts.value }, current: { time, value: sum } };
}
