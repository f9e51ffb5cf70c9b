import { z } from 'zod';
import { severalFitJson } from '../engine/export/serialise.ts';
import { fitSeveral, type CoreSession, type SeveralFit } from '../engine/fitting/jig/fit-several.ts';
import { captureTraces } from '../engine/fitting/jig/session-file.ts';
import { captureFields, sessionFields } from '../engine/fitting/jig/session-schema.ts';
import { captureOptionsSchema, readWhole, type WorkControl } from './capture-input.ts';
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
export function runSession({ frame, contents }: SessionInput, control: WorkControl = {}): SeveralFit {
  const captures = frame.captures.map((capture, i): CoreSession['captures'][number] => {
    const { text: _, saved: __, file: ___, options, sense, currents, ...fields } = capture;
    const name = fields.name ?? capture.saved ?? capture.file;
    return {
      ...fields,
      ...(name === undefined ? {} : { name }),
      ...captureTraces(
        readWhole(contents[i], options, `/captures/${i}`),
        { sense, currents },
        `/captures/${i}`,
      ),
    };
  });
  return fitSeveral({ ...frame, captures }, control);
}

export const sessionJson = (input: SessionInput, control: WorkControl): string =>
  severalFitJson(runSession(input, control));
