import { simulate } from '../../engine/simulate/simulate.ts';

/** The simulation, and how many cycles it was asked to run, those in longer steps in parts of one. */
export function countingRuns(): { readonly simulate: typeof simulate; readonly cycles: () => number } {
  let cycles = 0;
  return {
    simulate: (design, options) => {
      cycles += design.programme.length * (options?.finer ?? 1);
      return simulate(design, options);
    },
    cycles: () => cycles,
  };
}
