import { predictionRequestSchema, nextJson, nextOf } from '../prediction-input.ts';
import { nextSheet } from '../../engine/predict/next/next-words.ts';
import { nextText } from '../print/next-text.ts';
import { readFrame } from '../study-request.ts';
import { withProgress } from './with-progress.ts';
import { readOutlook, subject, type OutlookFlags } from './predict.ts';
import type { Terminal } from './terminal.ts';
import { writeOutput } from './write-output.ts';

type NextFlags = Omit<OutlookFlags, 'format'> & { readonly format: 'text' | 'json' | 'html' };

/** `next`: what to measure next, ranked by how far each narrows the margin's interval; as HTML a sheet to print. */
export async function nextCommand(path: string, flags: NextFlags, terminal: Terminal): Promise<number> {
  const { set, output } = flags;
  const request = await readOutlook(path, set ? { set } : {}, terminal);
  const frame = readFrame(predictionRequestSchema, request, subject);
  const found = withProgress(terminal, 'steps', (control) => nextOf(frame, control));
  const write = {
    text: () => nextText(found),
    json: () => nextJson(found),
    html: () => nextSheet(found.name, found),
  }[flags.format];
  await writeOutput(write(), output, terminal);
  return 0;
}
