import type { Json } from '../../engine/base/json-patch.ts';
import { readQuantity } from '../../engine/base/units.ts';
import { toJsonDocument } from '../../engine/export/serialise.ts';
import type { CaptureFrame, CaptureInput } from '../capture-input.ts';
import {
  captureOptionsSchema,
  diagnosisRequestSchema,
  fitJson,
  fitRequestSchema,
  runDiagnosis,
  runFit,
} from '../capture-input.ts';
import { LIMITS } from '../limits.ts';
import { diagnosisCsv, diagnosisText } from '../print/diagnosis-text.ts';
import { fitCsv, fitText } from '../print/fit-text.ts';
import { shorten } from '../query.ts';
import { RequestError } from '../request-error.ts';
import { readFrame } from '../study-request.ts';
import { readBytes } from './files.ts';
import { readRawDesign } from './read-raw-design.ts';
import { readPairs } from './pairs.ts';
import { onePerCapture, perCapture } from './per-capture.ts';
import type { OutputOptions } from './simulate.ts';
import type { Terminal } from './terminal.ts';
import { wholeNumber } from './whole-number.ts';
import { withProgress } from './with-progress.ts';
import { writeOutput } from './write-output.ts';

export interface BenchFlags extends OutputOptions {
  readonly unknown?: readonly string[];
  readonly start?: readonly string[];
  readonly bounds?: readonly string[];
  readonly iterations?: string;
  readonly read?: readonly string[];
  readonly set?: readonly string[];
  readonly trace?: readonly string[];
  readonly observed?: readonly string[];
  readonly part?: readonly string[];
  readonly polarity?: readonly string[];
  readonly probeGain?: readonly string[];
  readonly probe?: readonly string[];
  readonly bandwidth?: readonly string[];
  readonly driveTrace?: readonly string[];
  readonly healthy?: readonly string[];
  readonly save?: string;
  readonly saveAnyway?: boolean;
  readonly strobeAt?: string;
}

/** Exit status of a fit that has not converged. */
const NOT_CONVERGED = 5;

/** `fit`: line-up and chosen unknowns with uncertainties; --save writes the new design file of one that has converged. */
export async function fitCommand(
  design: string,
  paths: readonly string[],
  flags: BenchFlags,
  terminal: Terminal,
): Promise<number> {
  const request = {
    design: await readRawDesign(design, terminal),
    captures: readFrames(paths, flags),
    unknowns: flags.unknown ?? [],
    ranges: readRangeFlags(flags),
    maxIterations:
      flags.iterations === undefined ? undefined : wholeNumber('--iterations', flags.iterations, 1, 500),
  };
  const frame = readFrame(fitRequestSchema, request, subject);
  const captures = await withContents(paths, frame.captures, terminal);
  const fit = withProgress(terminal, 'iterations at most', (control) => runFit({ frame, captures }, control));
  const write = { text: fitText, json: fitJson, csv: fitCsv }[flags.format];
  await writeOutput(write(fit), flags.output, terminal);
  const converged = fit.outcome === 'converged';
  if (flags.save !== undefined && (converged || flags.saveAnyway === true))
    await writeOutput(`${JSON.stringify(fit.design, null, 2)}\n`, flags.save, terminal);
  else if (flags.save !== undefined)
    terminal.errors.write(
      `The fit has not converged (${fit.outcome}), so nothing is saved: give it more iterations, other starts or fewer unknowns, or add --save-anyway.\n`,
    );
  return converged ? 0 : NOT_CONVERGED;
}

/** `diagnose`: faults ranked by how well each explains the captures, and what they support. */
export async function diagnoseCommand(
  design: string,
  paths: readonly string[],
  flags: BenchFlags,
  terminal: Terminal,
): Promise<number> {
  const strobeAt = flags.strobeAt === undefined ? undefined : readTime('--strobe-at', flags.strobeAt);
  const request = {
    design: await readRawDesign(design, terminal),
    captures: readFrames(paths, flags),
    strobeAt,
  };
  const frame = readFrame(diagnosisRequestSchema, request, subject);
  const captures = await withContents(paths, frame.captures, terminal);
  const found = withProgress(terminal, 'faults', (control) => runDiagnosis({ frame, captures }, control));
  const write = { text: diagnosisText, json: toJsonDocument, csv: diagnosisCsv }[flags.format];
  await writeOutput(write(found), flags.output, terminal);
  return 0;
}

const FLAGS: Readonly<Record<string, string>> = {
  trace: '--trace',
  observed: '--observed',
  part: '--part',
  polarity: '--polarity',
  probeGain: '--probe-gain',
  probe: '--probe',
  bandwidth: '--bandwidth',
  driveTrace: '--drive-trace',
  healthy: '--healthy',
  changes: '--set',
};

/** A place of a request in the words of the command line. */
function subject(pointer: string): string {
  if (pointer.startsWith('/unknowns')) return '--unknown';
  const [, first, second, third = ''] = pointer.split('/');
  if (first === 'ranges') return second === undefined ? '--start or --bounds' : `The range of ${second}`;
  if (first === 'captures' && third === 'options') return `--read ${pointer.split('/')[4] ?? ''}`.trim();
  if (first === 'captures') return `${FLAGS[third] ?? 'Capture'} of capture ${Number(second) + 1}`;
  return pointer === '/design' ? 'Design' : pointer;
}

/** `--start NAME=VALUE` and `--bounds NAME=LOW..HIGH`, either end left out, as the request states them. */
function readRangeFlags({ start, bounds }: BenchFlags): Record<string, Record<string, string>> {
  const ranges: Record<string, Record<string, string>> = {};
  const add = (name: string, part: string, text: string): void => {
    if (text.trim() !== '') ranges[name] = { ...ranges[name], [part]: text.trim() };
  };
  for (const [name, text] of nameAndText('--start', start)) add(name, 'start', text);
  for (const [name, text] of nameAndText('--bounds', bounds)) {
    const ends = text.split('..');
    if (ends.length !== 2) throw badRange(text);
    add(name, 'low', ends[0]);
    add(name, 'high', ends[1]);
  }
  return ranges;
}

function nameAndText(option: string, words: readonly string[] = []): [name: string, text: string][] {
  return words.map((word) => {
    const at = word.indexOf('=');
    if (at > 0) return [word.slice(0, at).trim(), word.slice(at + 1)];
    throw new RequestError(400, {
      code: 'bad-option',
      field: option,
      message: `${option} must be name=value; received ${shorten(word)}: write for example ${option === '--start' ? '--start "coreFlux=3 nWb"' : '--bounds "coreFlux=2 nWb..4 nWb"'}.`,
    });
  });
}

const badRange = (text: string): RequestError =>
  new RequestError(400, {
    code: 'bad-option',
    field: '--bounds',
    message: `--bounds must give two ends with two points between them; received ${shorten(text)}: write for example --bounds "coreFlux=2 nWb..4 nWb", or leave one end out.`,
  });

/** Hz, or free: to be found. */
function readBandwidth(text: string): number | 'free' {
  if (text === 'free') return text;
  const reading = readQuantity(text, 'Hz');
  if (reading.ok) return reading.value;
  throw new RequestError(400, {
    code: 'bad-option',
    field: '--bandwidth',
    message: `--bandwidth must be free or a frequency with its unit, but ${reading.why}: write for example "60 MHz".`,
  });
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
  const count = paths.length;
  const one = (option: string, words: readonly string[] | undefined) => onePerCapture(option, words, count);
  const read = perCapture('--read', flags.read, count);
  const set = perCapture('--set', flags.set, count);
  const trace = one('--trace', flags.trace);
  const observed = one('--observed', flags.observed);
  const part = one('--part', flags.part);
  const polarity = one('--polarity', flags.polarity);
  const probeGain = one('--probe-gain', flags.probeGain);
  const probe = one('--probe', flags.probe);
  const bandwidth = one('--bandwidth', flags.bandwidth);
  const drive = one('--drive-trace', flags.driveTrace);
  const healthy = healthyAmong(flags.healthy, count);
  return paths.map((path, i) => ({
    label: path.slice(-100),
    options: readFrame(captureOptionsSchema, readPairs('--read', read[i]), (pointer) =>
      `--read ${pointer.slice(1)}`.trim(),
    ),
    trace: trace[i] === undefined ? undefined : wholeNumber('--trace', trace[i], 1, 64),
    observed: observed[i],
    part: part[i],
    polarity: polarity[i],
    probeGain: probeGain[i],
    probe: probe[i] === undefined ? undefined : Number(probe[i]),
    bandwidth: bandwidth[i] === undefined ? undefined : readBandwidth(bandwidth[i]),
    driveTrace: drive[i] === undefined ? undefined : wholeNumber('--drive-trace', drive[i], 1, 64),
    healthy: healthy.has(i + 1) ? true : undefined,
    changes: Object.entries(readPairs('--set', set[i])).map(readChange),
  }));
}

/** Numbers of the captures that were taken of a healthy build. */
const healthyAmong = (words: readonly string[] = [], count: number): ReadonlySet<number> =>
  new Set(words.map((word) => wholeNumber('--healthy', word, 1, count)));

/** A change of the design for one capture: its place as a JSON pointer. */
export function readChange([path, value]: [string, Json]): { path: string; value: Json } {
  if (path.startsWith('/')) return { path, value };
  throw new RequestError(400, {
    code: 'bad-option',
    field: '--set',
    message: `--set must name a field of the design by its pointer; received ${shorten(path)}: write for example --set 2:/selected/bit=0.`,
  });
}

async function withContents(
  paths: readonly string[],
  frames: readonly CaptureFrame[],
  terminal: Terminal,
): Promise<CaptureInput[]> {
  const inputs: CaptureInput[] = [];
  for (const [i, frame] of frames.entries()) {
    inputs.push({ frame, content: await readBytes(paths[i], 'Capture', LIMITS.captureBytes, terminal) });
  }
  return inputs;
}
