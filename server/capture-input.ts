import { z } from 'zod';
import type { CaptureOptions, Diagnosis, FitCapture, FitRequest, UnknownName } from '../engine/index.ts';
import {
  DELIMITERS,
  diagnose,
  fitDesign,
  readCapture,
  TIME_UNITS,
  UNKNOWNS,
  VALUE_UNITS,
} from '../engine/index.ts';
import { RequestError } from './request-error.ts';

const words = <Name extends string>(table: Record<Name, unknown>) =>
  z.enum(Object.keys(table) as [Name, ...Name[]]);
const place = z.int().min(0).max(1_000_000);

/** How a capture is to be read where its text leaves it open. */
export const captureOptionsSchema = z
  .strictObject({
    encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'windows-1252']),
    delimiter: z.enum(DELIMITERS),
    decimal: z.enum(['point', 'comma']),
    firstLine: place,
    timeColumn: place,
    timeUnit: words(TIME_UNITS),
    valueColumns: z.array(place).max(64),
    valueUnit: words(VALUE_UNITS),
    sampleInterval: z.number().positive(),
    missingTimes: z.enum(['fill', 'drop']),
    repeatedTimes: z.enum(['spread', 'average']),
    record: place,
  })
  .partial();

/** One capture of a fit: its text, or the name under which it was saved. */
const captureSchema = z.strictObject({
  label: z.string().max(100).optional(),
  text: z.string().optional(),
  saved: z.string().max(100).optional(),
  options: captureOptionsSchema.optional(),
  trace: z.int().min(1).max(64).optional().meta({ description: 'Which trace, from 1.' }),
  observed: z.enum(['sense', 'amplifier']).optional(),
  changes: z
    .array(z.strictObject({ path: z.string().max(200), value: z.unknown() }))
    .max(50)
    .optional(),
  probeGain: z.enum(['fixed', 'free']).optional(),
});

export const fitRequestSchema = z.strictObject({
  design: z.record(z.string(), z.unknown()),
  captures: z.array(captureSchema).min(1).max(8),
  unknowns: z.array(words(UNKNOWNS)).min(1).max(12),
  maxIterations: z.int().min(1).max(500).optional(),
});

export const diagnosisRequestSchema = z.strictObject({
  design: z.record(z.string(), z.unknown()),
  captures: z.array(captureSchema).min(1).max(8),
  strobeAt: z.number().optional().meta({ description: "s on the first capture's axis of time." }),
  modelTolerance: z.number().min(0).max(0.5).optional(),
});

export type CaptureFrame = z.infer<typeof captureSchema>;
export type FitFrame = z.infer<typeof fitRequestSchema>;
export type DiagnosisFrame = z.infer<typeof diagnosisRequestSchema>;

/** A capture with its text at hand. */
export interface CaptureInput {
  readonly content: string | Uint8Array;
  readonly frame: CaptureFrame;
}

/** What travels to a worker. */
export interface FitInput {
  readonly frame: FitFrame;
  readonly captures: readonly CaptureInput[];
}

export interface DiagnosisInput {
  readonly frame: DiagnosisFrame;
  readonly captures: readonly CaptureInput[];
}

/** A fit from texts: reads each capture, then fits. What a text leaves open is refused with the question. */
export function runFit(
  { frame, captures }: FitInput,
  cancelled: () => boolean,
): ReturnType<typeof fitDesign> {
  return fitDesign({
    design: frame.design as FitRequest['design'],
    captures: captures.map(toFitCapture),
    unknowns: frame.unknowns as readonly UnknownName[],
    maxIterations: frame.maxIterations,
    cancelled,
  });
}

/** A diagnosis from texts. */
export function runDiagnosis({ frame, captures }: DiagnosisInput, cancelled: () => boolean): Diagnosis {
  return diagnose({
    design: frame.design as FitRequest['design'],
    captures: captures.map(toFitCapture),
    strobeAt: frame.strobeAt,
    modelTolerance: frame.modelTolerance,
    cancelled,
  });
}

function toFitCapture({ content, frame }: CaptureInput, index: number): FitCapture {
  const { capture, ambiguities } = readCapture(content, frame.options as CaptureOptions);
  const field = `/captures/${index}`;
  if (capture === undefined) {
    const [open] = ambiguities;
    const choices = open.choices
      .map(({ label, options }) => `${label}: ${JSON.stringify(options)}`)
      .join('; ');
    throw new RequestError(422, {
      code: 'ambiguous-capture',
      field: `${field}/options`,
      message: `${open.question} ${choices === '' ? `Give ${open.wanted}.` : `Give one of ${choices}.`}`,
      limit: open.code,
    });
  }
  const trace = capture.traces[(frame.trace ?? 1) - 1];
  if (trace === undefined) {
    throw new RequestError(422, {
      code: 'no-trace',
      field: `${field}/trace`,
      message: `The capture has ${capture.traces.length} traces; received ${frame.trace}: count from 1.`,
      limit: capture.traces.length,
    });
  }
  const { observed, probeGain } = frame;
  const changes = frame.changes as FitCapture['changes'];
  const label = frame.label ?? frame.saved ?? `capture ${index + 1}`;
  return { label, trace: { time: capture.time, value: trace.value }, observed, changes, probeGain };
}
