import { advise } from '../../engine/advice/advice.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { windowCsv, windowJson } from '../../engine/export/serialise.ts';
import { wholeWindow } from '../../engine/studies/whole-window.ts';
import { windowText } from '../print/window-text.ts';
import { RequestError } from '../request-error.ts';
import { readRawDesign } from './read-raw-design.ts';
import type { Terminal } from './terminal.ts';
import { writeOutput } from './write-output.ts';
import { readRequirement, shortfalls } from './requirement.ts';
import { runTask } from './run-task.ts';

type OutputFormat = 'text' | 'json' | 'csv';

export interface OutputOptions {
  readonly format: OutputFormat;
  readonly output?: string;
}

export const readDesign = async (path: string, terminal: Pick<Terminal, 'input'>): Promise<Design> =>
  checkDesign(await readRawDesign(path, terminal));

/** `simulate`: traces of a design; 130 when it was stopped with Ctrl-C. */
export async function simulateCommand(
  path: string,
  options: OutputOptions & { readonly spectrum?: boolean },
  terminal: Terminal,
): Promise<number> {
  if (options.spectrum === true) onlyWith('--spectrum', ['json'], options.format);
  const design = await readDesign(path, terminal);
  const { format, spectrum } = options;
  const task = {
    kind: 'simulate',
    design,
    format,
    spectrum,
    contributions: true,
    estimateError: true,
  } as const;
  const answer = await runTask(task, design, terminal);
  if (typeof answer === 'number') return answer;
  await writeOutput(new TextDecoder().decode(answer), options.output, terminal);
  return 0;
}

/** `window`: strobe window; 3 when what --require asks for is not met. */
export async function windowCommand(
  path: string,
  options: OutputOptions & { readonly require?: readonly string[]; readonly advice?: boolean },
  terminal: Terminal,
): Promise<number> {
  if (options.advice === true) onlyWith('--advice', ['text', 'json'], options.format);
  const design = await readDesign(path, terminal);
  const wanted = readRequirement(options.require ?? [], design.requirement);
  const asked = [...design.requirement.sets, ...(wanted?.sets ?? [])];
  const found = wholeWindow(design, { parts: asked.includes('parts') });
  const advice = options.advice === true ? advise(design) : undefined;
  const write = { text: windowText, json: windowJson, csv: windowCsv }[options.format];
  await writeOutput(write(design, found, advice), options.output, terminal);
  const short = wanted ? shortfalls(design, found, wanted) : [];
  for (const sentence of short) terminal.errors.write(`${sentence}\n`);
  return short.length === 0 ? 0 : 3;
}

/** Refuses an option that the form asked for would drop in silence. */
function onlyWith(option: string, forms: readonly OutputFormat[], format: OutputFormat): void {
  if (forms.includes(format)) return;
  throw new RequestError(400, {
    code: 'bad-option',
    field: option,
    message: `${option} goes with --format ${forms.join(' or ')}; received ${format}: change one of the two.`,
  });
}
