import { designToJson } from '../../engine/design/design-to-json.ts';
import { refused } from '../../engine/design/design-error.ts';
import { carriedSentence, carryOver } from '../../engine/stages/carry.ts';
import { stagesOf } from '../../engine/stages/stage.ts';
import { readDesign } from './simulate.ts';
import type { Terminal } from './terminal.ts';
import { writeOutput } from './write-output.ts';

/** Stages that captures are fitted with; the whole is the design itself. */
export const FITTED_STAGES = ['rig', 'mat', 'word'] as const;

/** `carry`: what captures of a stage have found, taken over into the design that the stage was derived from. */
export async function carryCommand(
  path: string,
  fittedPath: string,
  flags: { readonly stage: (typeof FITTED_STAGES)[number]; readonly output?: string },
  terminal: Terminal,
): Promise<number> {
  const design = await readDesign(path, terminal);
  const fitted = await readDesign(fittedPath, terminal);
  if (!stagesOf(design).some(({ name }) => name === flags.stage))
    throw refused([
      {
        code: 'rule',
        field: '',
        message: `--stage must be a stage of this design, but a single mat has none called ${flags.stage}; give rig or mat.`,
      },
    ]);
  const { design: next, carried } = carryOver(design, flags.stage, fitted);
  const told =
    carried.length === 0
      ? 'Nothing that a fit finds differs from the stage as it is derived: nothing was taken over.\n'
      : carried.map((item) => `${carriedSentence(item)}.\n`).join('');
  terminal.errors.write(told);
  await writeOutput(`${JSON.stringify(designToJson(next), null, 2)}\n`, flags.output, terminal);
  return 0;
}
