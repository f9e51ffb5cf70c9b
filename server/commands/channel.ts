import { channelReport } from '../../engine/channel/channel-report.ts';
import { channelJson } from '../../engine/export/serialise.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { channelCsv } from '../print/channel-csv.ts';
import { channelText } from '../print/channel-text.ts';
import { writeOutput } from './write-output.ts';
import type { OutputOptions } from './simulate.ts';
import { readDesign } from './simulate.ts';
import type { Terminal } from './terminal.ts';

/** `channel`: undisturbed and disturbed readings, inhibit recovery, words of the stack, drivers and supply. */
export async function channelCommand(
  path: string,
  options: OutputOptions,
  terminal: Terminal,
): Promise<number> {
  const report = channelReport(await readDesign(path, terminal), { simulate });
  const write = { text: channelText, json: channelJson, csv: channelCsv }[options.format];
  await writeOutput(write(report), options.output, terminal);
  return 0;
}
