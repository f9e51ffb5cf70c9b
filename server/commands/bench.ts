import { toJsonDocument } from '../../engine/index.ts';
import { captureOptionsSchema, fitRequestSchema, runFit } from '../capture-input.ts';
import type { CaptureFrame, FitInput } from '../capture-input.ts';
import { LIMITS } from '../limits.ts';
import { fitCsv, fitText } from '../print/fit-text.ts';
import { RequestError } from '../request-error.ts';
import { readFrame } from '../study-request.ts';
import { readBytes, readJsonInput, writeOutput } from './files.ts';
import type { OutputOptions } from './simulate.ts';
import { readPairs } from './pairs.ts';

export interface BenchFlags extends OutputOptions {
  readonly unknown?: readonly string[];
  readonly read?: readonly string[];
  readonly trace?: string;
  readonly observed?: string;
  readonly probeGain?: string;
  readonly save?: string;
}

/** `fit`: line-up and chosen unknowns with uncertainties; --save writes the new design file. */
export async function fitCommand(
  design: string,
  paths: readonly string[],
  flags: BenchFlags,
): Promise<number> {
  const raw = await readJsonInput(design, 'Design');
  const options = readFrame(captureOptionsSchema, readPairs('--read', flags.read));
  const frames: CaptureFrame[] = paths.map((path) => ({
    label: path.slice(-100),
    options,
    trace: flags.trace === undefined ? undefined : Number(flags.trace),
    observed: flags.observed as CaptureFrame['observed'],
    probeGain: flags.probeGain as CaptureFrame['probeGain'],
  }));
  const frame = readFrame(fitRequestSchema, { design: raw, captures: frames, unknowns: flags.unknown ?? [] });
  const captures: FitInput['captures'] = await Promise.all(
    frame.captures.map(async (item, i) => ({
      frame: item,
      content: await readBytes(paths[i], 'Capture', LIMITS.captureBytes),
    })),
  );
  const fit = runFit({ frame, captures }, () => false);
  const write = { text: fitText, json: toJsonDocument, csv: fitCsv }[flags.format];
  await writeOutput(write(fit), flags.output);
  if (flags.save !== undefined) {
    if (fit.outcome === 'cancelled')
      throw new RequestError(409, { code: 'cancelled', message: 'Nothing was fitted.' });
    await writeOutput(`${JSON.stringify(fit.design, null, 2)}\n`, flags.save);
  }
  return 0;
}
