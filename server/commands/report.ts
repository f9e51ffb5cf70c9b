import { makeReport } from '../../engine/index.ts';
import { writeOutput } from './files.ts';
import { readDesign } from './simulate.ts';

/** `report`: one self-contained document to print. */
export async function reportCommand(path: string, options: { readonly output?: string }): Promise<number> {
  await writeOutput(makeReport(await readDesign(path)), options.output);
  return 0;
}
