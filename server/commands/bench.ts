import { readQuantity, toJsonDocument } from '../../engine/index.ts';
import type { CaptureFrame, CaptureInput } from '../capture-input.ts';
import {
  captureOptionsSchema,
  diagnosisRequestSchema,
  fitRequestSchema,
  runDiagnosis,
  runFit,
} from '../capture-input.ts';
import { LIMITS } from '../limits.ts';
import { diagnosisCsv, diagnosisText } from '../print/diagnosis-text.ts';
import { fitCsv, fitText } from '../print/fit-text.ts';
import { RequestError } from '../request-error.ts';
import { readFrame } from '../study-request.ts';
import { readBytes, readJsonInput, writeOutput } from './files.ts';
import { readPairs } from './pairs.ts';
import type { OutputOptions } from './simulate.ts';
import { wholeNumber } from './whole-number.ts';

export interface BenchFlags extends OutputOptions {
  readonly unknown?: readonly string[];
  readonly read?: readonly string[];
  readonly trace?: string;
  readonly observed?: string;
  readonly probeGain?: string;
  readonly save?: string;
  readonly strobeAt?: string;
}

/** `fit`: line-up and chosen unknowns with uncertainties; --save writes the new design file. */
export async function fitCommand(
  design: string,
  paths: readonly string[],
  flags: BenchFlags,
): Promise<number> {
  const request = { design: await readJsonInput(design, 'Design'), captures: readFrames(paths, flags) };
  const frame = readFrame(fitRequestSchema, { ...request, unknowns: flags.unknown ?? [] }, subject);
  const fit = runFit({ frame, captures: await withContents(paths, frame.captures) }, () => false);
  const write = { text: fitText, json: toJsonDocument, csv: fitCsv }[flags.format];
  await writeOutput(write(fit), flags.output);
  if (flags.save !== undefined) await writeOutput(`${JSON.stringify(fit.design, null, 2)}\n`, flags.save);
  return 0;
}

/** `diagnose`: single faults ranked by how well each explains the captures. */
export async function diagnoseCommand(
  design: string,
  paths: readonly string[],
  flags: BenchFlags,
): Promise<number> {
  const strobeAt = flags.strobeAt === undefined ? undefined : readTime('--strobe-at', flags.strobeAt);
  const request = {
    design: await readJsonInput(design, 'Design'),
    captures: readFrames(paths, flags),
    strobeAt,
  };
  const frame = readFrame(diagnosisRequestSchema, request, subject);
  const found = runDiagnosis({ frame, captures: await withContents(paths, frame.captures) }, () => false);
  const write = { text: diagnosisText, json: toJsonDocument, csv: diagnosisCsv }[flags.format];
  await writeOutput(write(found), flags.output);
  return 0;
}

/** A place of a request in the words of the command line. */
function subject(pointer: string): string {
  if (pointer.startsWith('/unknowns')) return '--unknown';
  return pointer === '/design' ? 'Design' : pointer;
}

function readTime(option: string, text: string): number {
  const reading = readQuantity(text, 's');
  if (reading.ok) return reading.value;
  throw new RequestError(400, {
    code: 'bad-option',
    field: option,
    message: `${option} must be a time with its unit, but ${reading.why}: write for example "480 ns".`,
  });
}

function readFrames(paths: readonly string[], flags: BenchFlags): unknown[] {
  const { observed, probeGain } = flags;
  const options = readFrame(captureOptionsSchema, readPairs('--read', flags.read), (pointer) =>
    `--read ${pointer.slice(1)}`.trim(),
  );
  const trace = flags.trace === undefined ? undefined : wholeNumber('--trace', flags.trace, 1, 64);
  return paths.map((path) => ({ label: path.slice(-100), options, trace, observed, probeGain }));
}

async function withContents(
  paths: readonly string[],
  frames: readonly CaptureFrame[],
): Promise<CaptureInput[]> {
  const inputs: CaptureInput[] = [];
  for (const [i, frame] of frames.entries()) {
    inputs.push({ frame, content: await readBytes(paths[i], 'Capture', LIMITS.captureBytes) });
  }
  return inputs;
}
