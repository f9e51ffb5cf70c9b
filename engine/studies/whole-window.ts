import type { Design } from '../design/design.ts';
import { checkDesign } from '../check/check-design.ts';
import { simulate } from '../simulate/simulate.ts';
import type { EnsembleOptions } from '../strobe/ensemble-result.ts';
import { strobeWindow } from '../strobe/strobe-window.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import { drawParts } from './tolerance/parts-yield.ts';

/**
 * Where strobe and threshold belong (s and V at the sense wire), what margin there is and what takes it: the strobe window with every set that the design asks for: where `parts` is among them, stacks of parts as they come
 * are drawn and read as the tolerance study reads them, which takes longer than all the rest.
 *
 * A design of which no ONE or no ZERO can be computed has an answer too: its `reason` says why. Checked against the full
 * product of cases (test/soak/corners) and the tolerance study.
 *
 * @param options.parts true: they are drawn whether asked for or not
 */
export function wholeWindow(
  design: Design,
  options: Omit<Partial<EnsembleOptions>, 'partsYield'> & { readonly parts?: boolean } = {},
): StrobeWindow {
  const run = options.simulate ?? simulate;
  const { cancelled, parts = design.requirement.sets.includes('parts') } = options;
  const tools = { checkDesign, simulate: run, ...(cancelled ? { cancelled } : {}) };
  return strobeWindow(design, {
    ...options,
    ...(parts ? { partsYield: (held: Design) => drawParts(held, tools) } : {}),
  });
}
