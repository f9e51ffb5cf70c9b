import { advise } from '../../engine/advice/advice.ts';
import { makeReport } from '../../engine/report/report.ts';
import { writeOutput } from './write-output.ts';
import { readDesign } from './simulate.ts';
import type { Terminal } from './terminal.ts';

/** `report`: one self-contained document to print. */
export async function reportCommand(
  path: string,
  options: { readonly output?: string; readonly advice?: boolean },
  terminal: Terminal,
): Promise<number> {
  const design = await readDesign(path, terminal);
  const advice = options.advice === true ? advise(design) : undefined;
  await writeOutput(makeReport(design, { advice }), options.output, terminal);
  return 0;
}
