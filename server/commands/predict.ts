import type { Json } from '../../engine/base/json-patch.ts';
import { LIMITS } from '../limits.ts';
import { predictionRequestSchema, predictionJson, runPrediction } from '../prediction-input.ts';
import { predictionCsv, predictionText } from '../print/prediction-text.ts';
import { readFrame } from '../study-request.ts';
import { readChange } from './bench.ts';
import { readJsonInput } from './files.ts';
import { readPairs } from './pairs.ts';
import type { OutputOptions } from './simulate.ts';
import type { Terminal } from './terminal.ts';
import { withProgress } from './with-progress.ts';
import { writeOutput } from './write-output.ts';

export interface OutlookFlags extends OutputOptions {
  readonly set?: readonly string[];
  readonly observed?: string;
}

/** `predict`: another size, current, temperature or winding from a fit, or from a design alone, with intervals. */
export async function predictCommand(path: string, flags: OutlookFlags, terminal: Terminal): Promise<number> {
  const request = await readOutlook(path, flags, terminal);
  const frame = readFrame(predictionRequestSchema, request, subject);
  const found = withProgress(terminal, 'steps', (control) => runPrediction(frame, control));
  const write = { text: predictionText, json: predictionJson, csv: predictionCsv }[flags.format];
  await writeOutput(write(found), flags.output, terminal);
  return 0;
}

/** A file is a fit's answer in JSON where it has what is known, else a design. */
export async function readOutlook(
  path: string,
  { set, observed }: Pick<OutlookFlags, 'set' | 'observed'>,
  terminal: Terminal,
): Promise<Record<string, unknown>> {
  const file = await readJsonInput(path, 'Design or fit', terminal, LIMITS.captureBytes);
  const known = file !== null && typeof file === 'object' && 'known' in file ? file.known : undefined;
  return {
    ...(known === undefined ? { design: file } : { known }),
    changes: Object.entries(readPairs('--set', set)).map((pair) => readChange(pair as [string, Json])),
    observed,
  };
}

/** A place of a request in the words of the command line. */
export function subject(pointer: string): string {
  if (pointer.startsWith('/changes')) return '--set';
  if (pointer === '/observed') return '--observed';
  return pointer.startsWith('/known') ? `The fit's ${pointer}` : 'Design';
}
