import { z } from 'zod';
import {
  DELIMITERS,
  TIME_UNITS,
  VALUE_UNITS,
  type Ambiguity,
  type Capture,
  type CaptureOptions,
} from '../engine/capture/capture.ts';
import { readCapture } from '../engine/capture/read-capture.ts';
import { toJsonDocument } from '../engine/export/serialise.ts';
import type { BenchProgress } from '../engine/fitting/bench-runs.ts';
import { diagnose } from '../engine/fitting/diagnosis/diagnose.ts';
import type { Diagnosis } from '../engine/fitting/diagnosis/diagnosis.ts';
import type { FitCapture } from '../engine/fitting/fit-captures.ts';
import { measuredDrive } from '../engine/fitting/align/measured-drive.ts';
import { fitDesign } from '../engine/fitting/fit-design.ts';
import type { FitRequest, FitResult } from '../engine/fitting/fit-result.ts';
import { judgeCaptures, requireUsable } from '../engine/fitting/judge/judge-captures.ts';
import { readRanges } from '../engine/fitting/unknown-ranges.ts';
import { knowledgeOf, type Knowledge } from '../engine/predict/knowledge.ts';
import { UNKNOWNS, type UnknownName } from '../engine/fitting/unknown-table.ts';
import type { CaptureSource } from './capture-source.ts';
import { readSource } from './capture-source.ts';
import { namedJudgement, type NamedJudgement } from './judged.ts';
import { RequestError } from './request-error.ts';
import { thinComparison } from './thin-comparison.ts';

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

/** Which trace of which text: given, or under the name by which it was saved. */
export const traceSchema = z.strictObject({
  text: z.string().optional(),
  saved: z.string().max(100).optional(),
  options: captureOptionsSchema.optional(),
  trace: z
    .int()
    .min(1)
    .max(64)
    .optional()
    .meta({ description: 'Which trace, from 1; asked for where the text holds several.' }),
});

/** One capture of a fit or a diagnosis. */
const captureSchema = traceSchema.extend({
  label: z.string().max(100).optional(),
  observed: z.enum(['sense', 'amplifier']).optional(),
  changes: z
    .array(z.strictObject({ path: z.string().max(200), value: z.unknown() }))
    .max(50)
    .optional(),
  part: z.enum(['read', 'any']).optional().meta({ description: 'Does it hold the read, or any part?' }),
  polarity: z.enum(['either', 'as-predicted', 'reversed']).optional(),
  probeGain: z.enum(['fixed', 'free']).optional(),
  bandwidth: z
    .union([z.literal('free'), z.number().min(1e4).max(1e12)])
    .optional()
    .meta({ description: 'Hz of the instrument and its probe, or free: a fit finds it.' }),
  probe: z.number().min(1e-6).max(1e6).optional().meta({
    description:
      'Volts in the capture over volts at the tip of the probe, where known: 0.1 where a x10 probe was not told to the instrument. Left out, it is looked for.',
  }),
  driveTrace: z
    .int()
    .min(1)
    .max(64)
    .optional()
    .meta({ description: 'Which trace, from 1, is the current of X and of Y in the read, as measured.' }),
  healthy: z.boolean().optional().meta({
    description: 'For a diagnosis: taken of a healthy build, or at a healthy address, to compare with.',
  }),
});

const bound = z.union([z.string().max(40), z.number()]).optional();
const rangeSchema = z.strictObject({ start: bound, low: bound, high: bound });

export const fitRequestSchema = z.strictObject({
  design: z.record(z.string(), z.unknown()),
  captures: z.array(captureSchema).min(1).max(8),
  unknowns: z
    .array(words(UNKNOWNS))
    .max(12)
    .meta({ description: 'What to find; none: the captures are only lined up and compared.' }),
  ranges: z.partialRecord(words(UNKNOWNS), rangeSchema).optional().meta({
    description:
      'Start and bounds of unknowns as text with a unit, such as { "coreFlux": { "low": "2 nWb" } }.',
  }),
  maxIterations: z.int().min(1).max(500).optional(),
});

export const diagnosisRequestSchema = z.strictObject({
  design: z.record(z.string(), z.unknown()),
  captures: z.array(captureSchema).min(1).max(8),
  strobeAt: z.number().optional().meta({ description: "s on the first capture's axis of time." }),
  modelTolerance: z.number().min(0).max(0.5).optional(),
});

export type TraceFrame = z.infer<typeof traceSchema>;
export type CaptureFrame = z.infer<typeof captureSchema>;
export type FitFrame = z.infer<typeof fitRequestSchema>;
export type DiagnosisFrame = z.infer<typeof diagnosisRequestSchema>;

/** A capture with its text at hand, or where that is kept. */
export interface CaptureInput<Frame extends TraceFrame = CaptureFrame> {
  readonly content: CaptureSource;
  readonly frame: Frame;
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

/** What goes on between whoever asks and the work. */
export interface WorkControl {
  readonly cancelled?: () => boolean;
  readonly onProgress?: (progress: BenchProgress) => void;
}

/** What was found of the captures stands beside what was made of them. */
interface Judged {
  readonly judgements: readonly NamedJudgement[];
}

/**
 * A fit from texts, with what a prediction takes from it: reads and judges each capture, then fits. What a text leaves open is
 * refused with the question.
 */
export function runFit(
  { frame, captures }: FitInput,
  control: WorkControl,
): FitResult & Judged & { readonly known: Knowledge } {
  const design = frame.design as FitRequest['design'];
  const { usable, judgements } = judged(design, captures, control);
  const fit = fitDesign({
    design,
    captures: usable,
    unknowns: frame.unknowns as readonly UnknownName[],
    ranges: readRanges(frame.ranges ?? {}),
    maxIterations: frame.maxIterations,
    ...control,
  });
  return { judgements, ...fit, known: knowledgeOf(fit, usable) };
}

/** A diagnosis from texts. */
export function runDiagnosis({ frame, captures }: DiagnosisInput, control: WorkControl): Diagnosis & Judged {
  const design = frame.design as FitRequest['design'];
  const { usable, judgements } = judged(design, captures, control);
  const diagnosis = diagnose({
    design,
    captures: usable,
    strobeAt: frame.strobeAt,
    modelTolerance: frame.modelTolerance,
    ...control,
  });
  return { judgements, ...diagnosis };
}

/** Throws FitError for a capture that is not usable. */
function judged(design: FitRequest['design'], inputs: readonly CaptureInput[], control: WorkControl) {
  const read = readCaptures(inputs);
  const found = judgeCaptures(design, read, control);
  return {
    usable: requireUsable(found),
    judgements: found.judgements.map((judgement, i) => namedJudgement(read[i].label, judgement)),
  };
}

/** A fit as JSON: long comparisons are thinned, or eight captures of a million samples would not fit into one text. */
export function fitJson(fit: FitResult & Partial<Judged>): string {
  const captures = fit.captures.map((capture) => ({
    ...capture,
    comparison: thinComparison(capture.comparison),
  }));
  return toJsonDocument({ ...fit, captures });
}

/** One text after the other, so that only traces are kept; one that is asked for again is read once. */
function readCaptures(captures: readonly CaptureInput[]): FitCapture[] {
  const traces = new Map<string, ReadTrace>();
  return captures.map((capture, index) => {
    const { content, frame } = capture;
    const key =
      typeof content === 'object' && 'path' in content
        ? JSON.stringify([content.path, frame.options, frame.trace, frame.driveTrace])
        : undefined;
    const known = key === undefined ? undefined : traces.get(key);
    const trace = known ?? readOne(content, frame, `/captures/${index}`, frame.driveTrace);
    if (key !== undefined) traces.set(key, trace);
    const { driveTrace } = frame;
    const drive =
      driveTrace === undefined
        ? []
        : measuredDrive(
            readTrace(content, { ...frame, trace: driveTrace }, `/captures/${index}`),
            `/captures/${index}/driveTrace`,
          );
    return toFitCapture(frame, trace, drive, index);
  });
}

/** One trace of a text. */
type ReadTrace = Pick<FitCapture, 'trace' | 'unit'>;

function toFitCapture(
  frame: CaptureFrame,
  read: ReadTrace,
  drive: ReturnType<typeof measuredDrive>,
  index: number,
): FitCapture {
  const { observed, part, polarity, probeGain, probe, bandwidth, healthy } = frame;
  const changes = (frame.changes ?? []) as NonNullable<FitCapture['changes']>;
  return {
    label: frame.label ?? frame.saved ?? `capture ${index + 1}`,
    ...read,
    observed,
    changes: [...changes, ...drive],
    part,
    polarity,
    probeGain,
    probe,
    ...(bandwidth === 'free' ? { freeBandwidth: true } : { bandwidth }),
    healthy,
  };
}

/** The trace that was asked for; what its text leaves open is refused with the question. */
export const readTrace = (
  content: CaptureSource,
  frame: TraceFrame,
  field: string,
  taken?: number,
): FitCapture['trace'] => readOne(content, frame, field, taken).trace;

/** @param taken a trace of the same text that is known to be something else, from 1 */
function readOne(content: CaptureSource, frame: TraceFrame, field: string, taken?: number): ReadTrace {
  return chooseTrace(readWhole(content, frame.options as CaptureOptions, field), frame, field, taken);
}

/** The trace of a capture that is the sense voltage. Throws RequestError where it must be said which, or is none. */
export function chooseTrace(
  { time, traces }: Capture,
  frame: Pick<TraceFrame, 'trace'>,
  field: string,
  taken?: number,
): ReadTrace {
  const open = traces.map((_, i) => i + 1).filter((number) => number !== taken);
  if (frame.trace === undefined && open.length > 1) throw whichTrace(traces, open, field);
  const number = frame.trace ?? open[0] ?? 1;
  const trace = traces[number - 1];
  if (trace === undefined) {
    throw new RequestError(422, {
      code: 'no-trace',
      field: `${field}/trace`,
      message: `The capture has ${traces.length} traces; received ${number}: count from 1.`,
      limit: traces.length,
    });
  }
  return { trace: { time, value: trace.value }, unit: trace.unit };
}

function whichTrace(traces: Capture['traces'], open: readonly number[], field: string): RequestError {
  const names = open.map((n) => `${n} "${traces[n - 1].name}" in ${traces[n - 1].unit}`).join(', ');
  return new RequestError(422, {
    code: 'several-traces',
    field: `${field}/trace`,
    message: `The capture holds ${traces.length} traces, and which one is the sense voltage must be said: give trace as one of ${names} (on the command line --trace).`,
    limit: traces.length,
  });
}

/** All of a capture; what its text leaves open is refused with the question. */
export function readWhole(
  content: CaptureSource,
  options: CaptureOptions | undefined,
  field: string,
): Capture {
  const { capture, ambiguities } = readCapture(readSource(content), options);
  if (capture !== undefined) return capture;
  throw openQuestion(ambiguities[0], field);
}

/** What a text leaves open, as a refusal that says how to answer. */
export function openQuestion(open: Ambiguity, field: string): RequestError {
  const choices = open.choices.map(({ label, options: as }) => `${label}: ${JSON.stringify(as)}`).join('; ');
  return new RequestError(422, {
    code: 'ambiguous-capture',
    field: `${field}/options`,
    message: `${open.question} ${choices === '' ? `Give ${open.wanted}.` : `Give one of ${choices}.`}`,
    limit: open.code,
  });
}
