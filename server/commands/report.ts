import { advise } from '../../engine/advice/advice.ts';
import { makeReport } from '../../engine/report/report.ts';
import { writeOutput } from './write-output.ts';
import { readDesign } from './simulate.ts';

/** `report`: one self-contained document to print. */
export async function reportCommand(
  path: string,
  options: { readonly output?: string; readonly advice?: boolean },
): Promise<number> {
  const design = await readDesign(path);
  const advice = options.advice === true ? advise(design) : undefined;
  await writeOutput(makeReport(design, { advice }), options.output);
  return 0;
}
