import { channelJson, channelReport, simulate } from '../../engine/index.ts';
import { channelText } from '../print/channel-text.ts';
import { writeOutput } from './files.ts';
import { readDesign } from './simulate.ts';

/** `channel`: undisturbed and disturbed readings, inhibit recovery, words of the stack, drivers and supply. */
export async function channelCommand(
  path: string,
  options: { readonly format: 'text' | 'json'; readonly output?: string },
): Promise<number> {
  const report = channelReport(await readDesign(path), { simulate });
  await writeOutput(options.format === 'json' ? channelJson(report) : channelText(report), options.output);
  return 0;
}
