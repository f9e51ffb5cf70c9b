import type { Json } from '../../engine/base/json-patch.ts';
import { readQuantity } from '../../engine/base/units.ts';
import type { CaptureOptions } from '../../engine/capture/capture.ts';
import { readRecords } from '../../engine/capture/read-records.ts';
import type { Trace } from '../../engine/fitting/align/trace-tools.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { analyseReads } from '../../engine/fitting/reads/analyse-reads.ts';
import { captureOptionsSchema, chooseTrace, openQuestion } from '../capture-input.ts';
import { LIMITS } from '../limits.ts';
import { readsCsv, readsJson, readsText } from '../print/reads-text.ts';
import { shorten } from '../query.ts';
import { RequestError } from '../request-error.ts';
import { readFrame } from '../study-request.ts';
import { readBytes } from './files.ts';
import { readPairs } from './pairs.ts';
import { readRawDesign } from './read-raw-design.ts';
import type { OutputOptions } from './simulate.ts';
import type { Terminal } from './terminal.ts';
import { wholeNumber } from './whole-number.ts';
import { withProgress } from './with-progress.ts';
import { writeOutput } from './write-output.ts';

export interface ReadsFlags extends OutputOptions {
  readonly one: readonly string[];
  readonly zero: readonly string[];
  readonly read?: readonly string[];
  readonly trace?: string;
  readonly observed: string;
  readonly start?: string;
  readonly content?: string;
}

/** `reads`: many reads at once, beside what the design predicts. */
export async function readsCommand(design: string, flags: ReadsFlags, terminal: Terminal): Promise<number> {
  const { observed } = flags;
  if (observed !== 'sense' && observed !== 'amplifier')
    throw badOption('--observed', `must be sense or amplifier; received ${shorten(observed)}`);
  const content = flags.content === undefined ? undefined : Number(flags.content);
  if (content !== undefined && !(content > 0.5 && content < 1))
    throw badOption('--content', `must be a share between 0.5 and 1; received ${shorten(flags.content!)}`);
  const file = (await readRawDesign(design, terminal)) as Json;
  const start = flags.start === undefined ? undefined : readStart(flags.start);
  // One step a file, and one for what the design predicts.
  const planned = flags.one.length + flags.zero.length + 1;
  const answer = await withProgress(terminal, 'steps', async ({ onProgress }) => {
    let [done, runs] = [0, 0];
    const tell = (): void => onProgress?.({ done, planned, runs });
    const step = (): void => {
      done++;
      tell();
    };
    const ones = await tracesOf('--one', flags.one, flags, terminal, step);
    const zeros = await tracesOf('--zero', flags.zero, flags, terminal, step);
    const found = analyseReads({ design: file, ones, zeros, observed, start, content }, (each, options) => {
      runs++;
      tell();
      return simulate(each, options);
    });
    step();
    return found;
  });
  const write = { text: readsText, json: readsJson, csv: readsCsv }[flags.format];
  await writeOutput(write(answer), flags.output, terminal);
  return 0;
}

/** Every record of every file; `onFile` is called after each. */
async function tracesOf(
  option: string,
  paths: readonly string[],
  { read, trace }: ReadsFlags,
  terminal: Terminal,
  onFile: () => void,
): Promise<Trace[]> {
  const options = readFrame(captureOptionsSchema, readPairs('--read', read), (pointer) =>
    `--read ${pointer.slice(1)}`.trim(),
  ) as CaptureOptions;
  const number = trace === undefined ? undefined : wholeNumber('--trace', trace, 1, 64);
  const traces: Trace[] = [];
  for (const path of paths) {
    const bytes = await readBytes(path, 'Capture', LIMITS.captureBytes, terminal);
    for (const { capture, ambiguities } of readRecords(bytes, options)) {
      if (capture === undefined) throw openQuestion(ambiguities[0], option);
      const { trace: chosen, unit } = chooseTrace(capture, { trace: number }, option);
      if (unit === 'A')
        throw badOption('--trace', `must name a voltage; trace ${number ?? 1} of ${path} is a current`);
      traces.push(chosen);
    }
    onFile();
  }
  return traces;
}

function readStart(text: string): number {
  const reading = readQuantity(text, 's');
  if (reading.ok) return reading.value;
  throw badOption('--start', `must be a time with its unit, but ${reading.why}: write for example "0 ns"`);
}

const badOption = (field: string, why: string): RequestError =>
  new RequestError(400, { code: 'bad-option', field, message: `${field} ${why}.` });
