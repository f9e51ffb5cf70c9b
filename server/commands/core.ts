import { checkHandbook, coreCsv, coreJson, coreReport } from '../../engine/index.ts';
import { coreText } from '../print/core-text.ts';
import { readJsonInput, writeOutput } from './files.ts';
import type { OutputOptions } from './simulate.ts';

/** `core`: model parameters from the handbook or bench values of one core. */
export async function coreCommand(path: string, options: OutputOptions): Promise<number> {
  const { handbook, from } = checkHandbook(await readJsonInput(path, 'Handbook'));
  const report = coreReport(handbook);
  const write = {
    text: () => coreText(report, from),
    json: () => coreJson(report, from),
    csv: () => coreCsv(report),
  }[options.format];
  await writeOutput(write(), options.output);
  return 0;
}
