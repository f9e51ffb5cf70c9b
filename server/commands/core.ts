import { readFile } from 'node:fs/promises';
import type { Json } from '../../engine/base/json-patch.ts';
import { checkHandbook, type HandbookSource } from '../../engine/core/handbook/check-handbook.ts';
import { readCores, withCore, writeCores, type OwnCore } from '../../engine/core/handbook/core-list.ts';
import { coreReport } from '../../engine/core/handbook/core-report.ts';
import { coreCsv, coreJson, fittedCoreJson } from '../../engine/export/serialise.ts';
import { captureOptionsSchema } from '../capture-input.ts';
import { jigCapturesSchema, runJig } from '../jig-input.ts';
import { LIMITS } from '../limits.ts';
import { coreText, fittedCoreText } from '../print/core-text.ts';
import { shorten } from '../query.ts';
import { RequestError } from '../request-error.ts';
import { readFrame } from '../study-request.ts';
import { coreFromSession, isSession } from './core-captures.ts';
import { readBytes, readJsonInput } from './files.ts';
import { writeOutput } from './write-output.ts';
import { readPairs } from './pairs.ts';
import { onePerCapture, perCapture } from './per-capture.ts';
import type { Terminal } from './terminal.ts';
import { wholeNumber } from './whole-number.ts';
import type { CoreFlags } from './core-flags.ts';

/** `core`: model parameters from the handbook or bench values of one core, or from captures of it. */
export async function coreCommand(path: string, flags: CoreFlags, terminal: Terminal): Promise<number> {
  const file = await readJsonInput(path, 'Handbook', terminal);
  if (isSession(file)) return coreFromSession(path, file, flags, terminal);
  return flags.one === undefined
    ? fromValues(file, flags, terminal)
    : fromCaptures(file, flags.one, flags, terminal);
}

async function fromValues(file: unknown, flags: CoreFlags, terminal: Terminal): Promise<number> {
  const idle = (['zero', 'edge', 'gain', 'read', 'trace', 'current'] as const).find(
    (name) => flags[name] !== undefined,
  );
  if (idle !== undefined) {
    throw new RequestError(400, {
      code: 'bad-option',
      field: `--${idle}`,
      message: `--${idle} is about captures of the core, and --one names none: give --one CAPTURE.csv too, or leave it out.`,
    });
  }
  const { handbook, from } = checkHandbook(file);
  const report = coreReport(handbook);
  const write = {
    text: () => coreText(report, from),
    json: () => coreJson(report, from),
    csv: () => coreCsv(report),
  }[flags.format];
  await writeOutput(write(), flags.output, terminal);
  await keepEntry(file as Json, from, flags, terminal);
  return 0;
}

async function fromCaptures(
  values: unknown,
  one: string,
  flags: CoreFlags,
  terminal: Terminal,
): Promise<number> {
  const captures = flags.zero === undefined ? 1 : 2;
  const read = perCapture('--read', flags.read, captures);
  const trace = onePerCapture('--trace', flags.trace, captures);
  const edge = onePerCapture('--edge', flags.edge, captures);
  const current = onePerCapture('--current', flags.current, captures);
  const part = (i: number): object => {
    if (edge[i] === undefined && current[i] === undefined) throw noEdge(i);
    return {
      start: edge[i],
      current: current[i] === undefined ? undefined : wholeNumber('--current', current[i], 1, 64),
      trace: trace[i] === undefined ? undefined : wholeNumber('--trace', trace[i], 1, 64),
      options: readFrame(captureOptionsSchema, readPairs('--read', read[i]), (pointer) =>
        `--read ${pointer.slice(1)}`.trim(),
      ),
    };
  };
  const frame = readFrame(
    jigCapturesSchema,
    {
      one: part(0),
      ...(captures === 2 ? { disturbedZero: part(1) } : {}),
      gain: flags.gain === undefined ? undefined : plainNumber(flags.gain),
    },
    (pointer) => (pointer === '/gain' ? '--gain' : pointer),
  );
  const contents = await Promise.all(
    [one, ...(flags.zero === undefined ? [] : [flags.zero])].map((name) =>
      readBytes(name, 'Capture', LIMITS.captureBytes, terminal),
    ),
  );
  const { fitted, from } = runJig({ values, frame, one: contents[0], disturbedZero: contents[1] });
  const write = {
    text: () => fittedCoreText(fitted, from),
    json: () => fittedCoreJson(fitted, from),
    csv: () => coreCsv(fitted.report),
  }[flags.format];
  await writeOutput(write(), flags.output, terminal);
  await keepEntry(fitted.entry, from, flags, terminal);
  return 0;
}

function plainNumber(text: string): number {
  const value = text.trim() === '' ? NaN : Number(text);
  if (Number.isFinite(value)) return value;
  throw new RequestError(400, {
    code: 'bad-option',
    field: '--gain',
    message: `--gain must be a plain number; received ${shorten(text)}: write for example --gain 10.`,
  });
}

const noEdge = (capture: number): RequestError =>
  new RequestError(400, {
    code: 'bad-option',
    field: '--edge',
    message: `--edge must say where the drive's rise starts on the own time of capture ${capture + 1}, and is missing: write for example --edge "${capture + 1}:0 ns", or say with --current which trace of it is the drive current.`,
  });

/** --save writes the handbook file alone; --keep puts it into a list, in the place of one of the same name. */
async function keepEntry(
  entry: Json,
  from: HandbookSource,
  { save, keep }: CoreFlags,
  terminal: Terminal,
): Promise<void> {
  if (save !== undefined) await writeOutput(`${JSON.stringify(entry, null, 2)}\n`, save, terminal);
  if (keep === undefined) return;
  const cores = await readList(keep);
  const name = from.name.trim() === '' ? 'core without a name' : from.name;
  await writeOutput(
    writeCores(withCore(cores, { name, handbook: entry as OwnCore['handbook'] })),
    keep,
    terminal,
  );
}

/** The cores of a list; none where there is no such file yet. */
async function readList(path: string): Promise<readonly OwnCore[]> {
  const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw new RequestError(400, {
      code: 'cannot-read',
      message: `List ${path} cannot be read (${error.code}) and is left as it was: give another --keep.`,
    });
  });
  if (text === undefined) return [];
  const cores = readCores(text);
  if (cores !== undefined) return cores;
  throw new RequestError(422, {
    code: 'no-list',
    message: `List ${path} must be a list of cores that was saved here and is not; it is left as it was: give another --keep.`,
  });
}
