import type { Design } from '../design/design.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { runEnsemble } from '../strobe/ensemble.ts';
import type { EnsembleOptions } from '../strobe/ensemble-result.ts';
import { unknownHeat } from '../strobe/unknown-heat.ts';
import { casesFor, makeBench, type JudgedSet } from './trials.ts';

type Found = ReturnType<typeof runEnsemble>;

/** A temperature coefficient of which nothing is known, 1/K, at the worse end of what such materials do. */
export interface WorstHeat {
  readonly parameter: string;
  readonly value: number;
}

/**
 * The design that advice is sought for, run: its own, or, where nothing is known of how its core changes with
 * temperature, that with the coefficient at the end of its range that leaves least.
 */
export function atWorstHeat(
  design: Design,
  sets: readonly JudgedSet[],
  run: (design: Design, options?: SimulateOptions) => Simulation,
): { readonly design: Design; readonly heat: WorstHeat | undefined; readonly ensemble: Found } {
  const how: EnsembleOptions = { simulate: run, cases: casesFor(sets) };
  const ensemble = runEnsemble(design, how);
  const open = sets.includes('corners') ? unknownHeat(design) : [];
  if (!('envelope' in ensemble) || open.length === 0) return { design, heat: undefined, ensemble };
  const bench = makeBench(design, ensemble, sets, run);
  const ends = open.flatMap(({ parameter, low, high, cores }) =>
    [
      { value: low, parameters: cores.low },
      { value: high, parameters: cores.high },
    ].map(({ value, parameters }) => {
      const at: Design = { ...design, core: { ...design.core, parameters } };
      const margin = bench.quick(at)?.exact().margin ?? Infinity;
      return { parameter, value, at, margin };
    }),
  );
  const worst = ends.reduce((least, end) => (end.margin < least.margin ? end : least));
  if (worst.margin >= bench.full(design).margin) return { design, heat: undefined, ensemble };
  const { parameter, value, at } = worst;
  return { design: at, heat: { parameter, value }, ensemble: runEnsemble(at, how) };
}
