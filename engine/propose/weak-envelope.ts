import { ordinaryCore } from '../mat/ordinary-core.ts';
import type { Design } from '../design/design.ts';
import { softestCore } from '../estimates/softest-core.ts';
import { normalQuantile } from '../numerics/statistics.ts';
import { applyOverrides, nameCase, overridesOf, type CaseSpec } from '../strobe/case-overrides.ts';
import { SEARCHED, type CaseRuns } from '../strobe/case-runs.ts';
import { seenUntil } from './box.ts';
import type { Run } from './run.ts';
import type { WeakEnvelope } from './reserve.ts';

/** V: what no wire hears, where a bit was not run yet. Finite, as it is taken as straight between samples. */
const BEYOND = 1e6;

/** What the weakest core gives, run by run. */
export interface WeakRuns {
  /** Each adds one run to the envelope. */
  readonly steps: readonly (() => void)[];
  /** By the runs so far; undefined before the first. */
  readonly envelope: () => WeakEnvelope | undefined;
}

/** A core whose flux and thresholds are off, in parts of their own, and how it is read. */
interface OffCore {
  readonly bit: 0 | 1;
  readonly flux?: number;
  readonly threshold?: number;
  readonly read: Omit<CaseSpec, 'bit'>;
}

const ONE = { pattern: 'worst-one', state: 'undisturbed' } as const;
const ZERO = { pattern: 'worst-zero', state: 'disturbed', previous: 'own' } as const;

/**
 * What the weakest core of a stack gives as far as a strobe may see it, drives as stated, at both ends of the
 * temperature: a ONE of little flux or high thresholds, a ZERO of low ones, so many standard deviations out as the wanted
 * share of stacks allows. Beyond that it stays as it is there.
 */
export function weakRuns(design: Design, runs: CaseRuns, run: Run): WeakRuns {
  const { tolerances, temperature: middle } = design;
  const { sigmas } = softestCore(design);
  const ends = tolerances.temperature > 0 ? [-1, 1] : [0];
  const [flux, threshold] = [sigmas * tolerances.coreFlux, sigmas * tolerances.coreThreshold];
  const hot = ends.map((end) => ({ temperature: middle + end * tolerances.temperature }));
  const cores: OffCore[] = [
    ...hot.map((at) => ({ bit: 1, flux: -flux, read: { ...ONE, ...at } }) as const),
    ...hot.map((at) => ({ bit: 1, threshold, read: { ...ONE, ...at } }) as const),
    ...hot.map((at) => ({ bit: 0, threshold: -threshold, read: { ...ZERO, ...at } }) as const),
  ];
  return runsOfCores(design, runs, run, cores);
}

/**
 * What takes a stack where its yield ends: the drives off together by what the wanted share of stacks keeps within, and
 * the softest or hardest core of an ordinary stack. A soft ONE answers early and has lost to an inhibited write elsewhere;
 * a hard one answers late.
 */
export function farRuns(design: Design, runs: CaseRuns, run: Run): WeakRuns {
  const { mat, requirement, tolerances } = design;
  const bits = mat.rows * mat.columns * mat.mats;
  // The median of the softest of so many cores, and what two drives of their own and a supply that is uniform come to.
  const threshold = normalQuantile(1 - Math.LN2 / Math.max(2, bits)) * tolerances.coreThreshold;
  const together = Math.hypot(tolerances.drive / Math.SQRT2, tolerances.supply / Math.sqrt(3));
  const off = normalQuantile((1 + Math.min(requirement.yield, 0.9999)) / 2) * together;
  const cores: OffCore[] = [
    { bit: 1, threshold: -threshold, read: { ...ONE, previous: 'inhibited', drive: 1 + off } },
    { bit: 1, threshold, read: { ...ONE, drive: 1 - off } },
    { bit: 0, threshold: -threshold, read: { ...ZERO, drive: 1 + off } },
  ];
  return runsOfCores(design, runs, run, cores);
}

function runsOfCores(design: Design, runs: CaseRuns, run: Run, cores: readonly OffCore[]): WeakRuns {
  const { selected } = design;
  const heard: { readonly bit: 0 | 1; readonly trace: Float64Array }[] = [];
  const steps = cores.map(({ bit, flux = 0, threshold = 0, read }) => () => {
    const core = ordinaryCore(selected.row, selected.column);
    const exception = { ...core, fluxFactor: 1 + flux, thresholdFactor: Math.max(0.1, 1 + threshold) };
    const held: Design = { ...design, exceptions: [...design.exceptions, exception] };
    const spec: CaseSpec = { bit, ...read };
    const trace = runs.refer(
      nameCase(spec),
      run(applyOverrides(held, overridesOf(held, spec)), {
        contributions: false,
        estimateError: false,
        balance: false,
        finer: SEARCHED,
        until: seenUntil(design),
      }),
    );
    if (trace) heard.push({ bit, trace });
  });
  const over = (bit: 0 | 1, pick: (a: number, b: number) => number, none: number): Float64Array => {
    const worst = new Float64Array(runs.time!.length).fill(none);
    for (const { trace } of heard.filter((each) => each.bit === bit))
      for (let i = 0; i < worst.length; i++)
        worst[i] = pick(worst[i]!, trace[Math.min(i, trace.length - 1)]!);
    return worst;
  };
  return {
    steps,
    envelope: () =>
      heard.length === 0 ? undefined : { one: over(1, Math.min, BEYOND), zero: over(0, Math.max, -BEYOND) },
  };
}

/** All of them at once. */
export function envelopeOfAll({ steps, envelope }: WeakRuns): WeakEnvelope | undefined {
  for (const step of steps) step();
  return envelope();
}
