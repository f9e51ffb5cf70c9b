import * as z from 'zod';
import type { Capture, CaptureOptions } from '../../capture/capture.ts';
import { readCapture } from '../../capture/read-capture.ts';
import { received } from '../../design/schema/fields.ts';
import type { Trace } from '../align/trace-tools.ts';
import { FitError } from '../bench-runs.ts';
import type { CoreSession } from './fit-several.ts';
import { captureFields, sessionFields } from './session-schema.ts';

/** Which traces of a capture are the sense voltage and the currents that are added up, from 1; left out: by their units. */
export interface WhichTraces {
  readonly sense?: number | undefined;
  readonly currents?: readonly number[] | undefined;
}

/** Sense voltage and current of one capture. Throws FitError, with `at` before its field. */
export function captureTraces(
  { time, traces }: Capture,
  { sense, currents }: WhichTraces,
  at: string,
): { readonly sense: Trace; readonly current?: Trace } {
  const pick = (number: number, what: string): (typeof traces)[number] => {
    const trace = traces[number - 1];
    if (trace) return trace;
    throw new FitError(
      `${at}/${what}`,
      `The capture has ${traces.length} traces; received ${number}: count from 1.`,
    );
  };
  const volts = sense === undefined ? traces.find(({ unit }) => unit === 'V') : pick(sense, 'sense');
  if (volts === undefined)
    throw new FitError(
      `${at}/sense`,
      'The capture must hold a trace in volts, and holds none: say which one is the sense voltage with "sense".',
    );
  const flowing = currents?.map((n) => pick(n, 'currents')) ?? traces.filter(({ unit }) => unit === 'A');
  if (flowing.length === 0) return { sense: { time, value: volts.value } };
  const sum = volts.value.map((_, k) => flowing.reduce((total, { value }) => total + value[k]!, 0));
  return { sense: { time, value: volts.value }, current: { time, value: sum } };
}

const place = z
  .int({ error: () => 'must be a whole number from 1 to 64' })
  .min(1)
  .max(64);
const fileSchema = z.strictObject({
  ...sessionFields,
  captures: z
    .array(
      z.strictObject({
        ...captureFields,
        file: z.string({ error: () => 'must be the name of a CSV' }),
        options: z.record(z.string(), z.unknown()).optional(),
        sense: place.optional(),
        currents: z.array(place).min(1).max(4).optional(),
      }),
      { error: () => 'must be a list of captures' },
    )
    .min(1)
    .max(8),
});

/**
 * A session from its file (as the command line takes it) and the texts of the files that it names, by their names without
 * folders. Throws FitError for the first thing that is wrong, CaptureError for a text that is no capture.
 */
export function readSessionFile(body: unknown, texts: ReadonlyMap<string, string | Uint8Array>): CoreSession {
  const read = fileSchema.safeParse(body);
  if (!read.success) {
    const [issue] = read.error.issues;
    const field = `/${issue!.path.map(String).join('/')}`;
    const value = issue!.path.reduce<unknown>((at, key) => (at as Record<PropertyKey, unknown>)?.[key], body);
    const why = issue!.message.startsWith('must')
      ? issue!.message
      : `must be as the command line takes it, but ${received(value)}: mend or leave it out`;
    throw new FitError(field, `${field} ${why}.`);
  }
  const captures = read.data.captures.map((capture, i): CoreSession['captures'][number] => {
    const { file, options, sense, currents, ...fields } = capture;
    const name = file.split('/').at(-1)!;
    const text = texts.get(name);
    if (text === undefined)
      throw new FitError(
        `/captures/${i}/file`,
        `Capture ${i + 1} is ${name}, which is not among the files that were chosen: choose it together with the list.`,
      );
    const { capture: whole, ambiguities } = readCapture(text, options as CaptureOptions);
    if (whole === undefined)
      throw new FitError(
        `/captures/${i}/options`,
        `${name}: ${ambiguities[0]!.question} Say so under "options".`,
      );
    return {
      ...fields,
      name: fields.name ?? name,
      ...captureTraces(whole, { sense, currents }, `/captures/${i}`),
    };
  });
  return { ...read.data, captures };
}
