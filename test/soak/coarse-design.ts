import { checkDesign } from '../../engine/check/check-design.ts';
import { cycleEnd } from '../../engine/check/rules-drive.ts';
import type { Design } from '../../engine/design/design.ts';
import { randomStream } from '../../engine/numerics/random.ts';
import type { SimulateOptions, Simulation } from '../../engine/solver/result.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { randomDesignFile } from '../random-design.ts';

/**
 * A random design of 2 x 2 to 4 x 4 cores of which thousands of runs can be afforded: one section of wire, steps of
 * some ns, a cycle that ends with its pulses, and any of drive, supply and temperature that stray. It is coarse: what
 * is found about it holds for it as it is computed, whoever computes it in the same steps.
 */
export function coarseDesign(seed: number): Design {
  const random = randomStream(seed, 79);
  const some = <T>(value: T, none: T): T => (random() < 0.6 ? value : none);
  const file = ownMat(seed);
  const tolerances = {
    drive: some(0.005 + 0.03 * random(), 0),
    supply: some(0.01 + 0.04 * random(), 0),
    temperature: some('15 K', '0 K'),
    tracking: some(0.1, 0),
  };
  const amplifier = {
    ...(file['amplifier'] as object),
    highPass: some('0 Hz', `${Math.round(5 + 200 * random())} kHz`),
  };
  const numerics = { sections: 1, step: '4 ns', output: '2 ns' };
  const design = checkDesign({ ...file, tolerances, amplifier, numerics });
  const period = `${Math.ceil(cycleEnd(design) * 1.05e9)} ns`;
  return checkDesign({
    ...file,
    tolerances,
    amplifier,
    numerics,
    cycle: { ...(file['cycle'] as object), period },
  });
}

/** As the product and the search both compute it. */
export const simulateCoarsely = (design: Design, options?: SimulateOptions): Simulation =>
  simulate(design, { ...options, finer: 0.5 });

/** The first of a run of random designs whose mat has both sides. */
function ownMat(seed: number): Readonly<Record<string, unknown>> {
  for (let next = seed; ; next += 1_000_000) {
    const file = randomDesignFile(next, { largest: 4, history: false });
    const { rows, columns } = file['mat'] as { readonly rows: number; readonly columns: number };
    if (rows > 1 && columns > 1) return file;
  }
}
