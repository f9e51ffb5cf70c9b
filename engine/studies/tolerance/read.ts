import { anotherAddress } from '../../mat/another-address.ts';
import { applyPatches, type Json, type Patch } from '../../base/json-patch.ts';
import { putState, scaleState, stateAt, type CoreFlux } from '../../core/flux-of-cores.ts';
import type { CoreException } from '../../design/core.ts';
import type { Design } from '../../design/design.ts';
import type { Cycle } from '../../design/drive.ts';
import { settledCycle } from '../../estimates/cycle-limits.ts';
import type { KickedCore } from '../../core/kicks.ts';
import { makeMatHistory } from '../../history/mat-history.ts';
import { storedBits } from '../../mat/stored-pattern.ts';
import type { CoreSpread } from '../../network/class-members.ts';
import type { Simulation } from '../../solver/result.ts';
import { applyOverrides, overridesOf, type CaseSpec } from '../../strobe/case-overrides.ts';
import { strobeUncertainties } from '../../strobe/envelope.ts';
import { leastOver } from '../../strobe/intervals.ts';
import { endOfRead, referred } from '../shared/reading.ts';
import type { StudyTools } from '../shared/shape.ts';
import { drawCores, sharedPatches, type SharedDraw } from './draw.ts';
import { finished } from '../../solver/finished.ts';

/** One bit of one drawn build, read in full. */

/**
 * What the inhibited cycle before a read leaves behind, so that the spread of the inhibit current is felt: a ZERO is
 * kept by its own inhibited write, a ONE hears an inhibited write at an address that shares no line with it.
 *
 * - 'core': what its currents leave in the selected core; the others are as fresh or as disturbed as the worst case
 *   has them.
 * - 'cycle': the whole cycle by the coupled run: what it leaves on the wire is felt too, and every core of the mat has
 *   been disturbed by it. Five to ten times the time of a read.
 * - 'nothing': the selected core too is as the worst case has it.
 */
export type Before = 'core' | 'cycle' | 'nothing';
export const BEFORE: readonly Before[] = ['core', 'cycle', 'nothing'];

/** The currents are known beforehand unless a line's voltage makes them; the wire is quiet unless the cycle is too short. */
export function defaultBefore(design: Design): Before {
  return drivenByVoltage(design) || design.cycle.period < settledCycle(design) ? 'cycle' : 'core';
}

export const drivenByVoltage = ({ drive }: Design): boolean =>
  [drive.x, drive.y].some(({ source }) => source.kind === 'voltage');

/** How each bit is read in every draw: the pattern and disturb state that are worst in the nominal design. */
export interface Reads {
  readonly one: Pick<CaseSpec, 'pattern' | 'state'>;
  readonly zero: Pick<CaseSpec, 'pattern' | 'state'>;
}

/** One build of many. */
export interface Build {
  /** With what all its bits share, and no programme of single addresses. */
  readonly design: Design;
  /** The patches that made it of the raw design. */
  readonly patches: readonly Patch[];
  /** The cores of a mat, drawn once. */
  readonly cores: (mat: number) => CoreSpread;
}

/** @param strobe s, where the nominal design is read; @param nominal the raw design, checked */
export function makeBuild(
  raw: Json,
  nominal: Design,
  drawn: { readonly shared: SharedDraw; readonly seed: number; readonly index: number },
  strobe: number,
  tools: StudyTools,
): Build {
  const patches = sharedPatches(nominal, drawn.shared, strobe);
  const known = new Map<number, CoreSpread>();
  return {
    design: tools.checkDesign(applyPatches(raw, [...patches, { path: '/programme' }])),
    patches,
    cores(mat) {
      const found = known.get(mat) ?? drawCores(nominal, drawn.seed, drawn.index, mat);
      known.set(mat, found);
      return found;
    },
  };
}

export interface Place {
  readonly mat: number;
  /** Row-major index. */
  readonly core: number;
}

/** Margin of one bit of a build, V: negative fails. @throws Error with the advice of a run that did not end well */
export function readMargin(
  build: Build,
  how: { readonly reads: Reads; readonly before: Before },
  at: Place,
  bit: 0 | 1,
  tools: StudyTools,
): number {
  const { columns } = build.design.mat;
  const selected = { row: Math.floor(at.core / columns), column: at.core % columns, bit };
  const addressed: Design = { ...build.design, selected };
  const [before, read] = programmeOf(addressed);
  const placed: Design = { ...addressed, programme: how.before === 'cycle' ? [before, read] : [read] };
  const spec: CaseSpec = { bit, ...how.reads[bit === 1 ? 'one' : 'zero'] };
  const design = applyOverrides(placed, overridesOf(placed, spec));
  const spread = build.cores(at.mat);
  const run = tools.simulate(design, {
    spread,
    initial: statesOf(design, spread, how.before === 'core' ? before : undefined),
    contributions: false,
    estimateError: false,
    balance: false,
    until: endOfSight(design),
  });
  finished(run);
  return marginOf(run, bit);
}

const WHOLE = { lines: 'both', read: true } as const;

/**
 * The inhibited cycle before the read of the selected bit, and that read. A core that is alone has no other address:
 * before its ONE is read it was written, uninhibited.
 */
export function programmeOf({ mat, selected }: Design): [before: Cycle, read: Cycle] {
  const { row, column, bit } = selected;
  const alone = mat.rows * mat.columns === 1;
  const at = bit === 0 || alone ? { row, column } : anotherAddress(mat, selected);
  return [
    { ...at, ...WHOLE, write: bit === 1 && alone ? 'one' : 'zero' },
    { row, column, ...WHOLE, write: 'restore' },
  ];
}

/** s from the start of read after which nothing reaches the latch any more: the end of its aperture, and a few samples. */
function endOfSight(design: Design): number {
  const { guard, delay } = strobeUncertainties(design);
  const last = (design.strobe.time ?? 0) - delay + guard + 4 * design.numerics.output;
  return Math.min(endOfRead(design), Math.max(last, 8 * design.numerics.output));
}

/** Distance from the threshold on the right side over the aperture and its jitter, less half the hysteresis, V. */
function marginOf(run: Simulation, bit: 0 | 1): number {
  const { design, time } = run;
  const { guard, delay, slope, hysteresis } = strobeUncertainties(design);
  const centre = (design.strobe.time ?? 0) - delay;
  const sign = bit === 1 ? 1 : -1;
  const least = leastOver(time, referred(run), centre - guard, centre + guard, sign, slope);
  return least - sign * design.detector.threshold - hysteresis / 2;
}

/**
 * Every core's state, Wb. The cores that the read drives are fresh or disturbed by their own thresholds; no other
 * answers to the read. The selected one goes through the cycle before, if any.
 */
function statesOf(design: Design, spread: CoreSpread, before: Cycle | undefined): CoreFlux {
  const { columns } = design.mat;
  const { row, column } = design.selected;
  const bits = storedBits(design);
  const driven = (i: number): boolean => Math.floor(i / columns) === row || i % columns === column;
  const exceptions = new Map(design.exceptions.map((e) => [e.row * columns + e.column, e]));
  for (let i = 0; i < bits.length; i++)
    if (driven(i) || exceptions.has(i)) exceptions.set(i, ownCore(design, spread, i, exceptions.get(i)));
  const history = makeMatHistory({ ...design, exceptions: [...exceptions.values()] }, { bits });
  const { flux } = history;
  for (let i = 0; i < bits.length; i++)
    if (!exceptions.has(i)) putState(flux, i, scaleState(stateAt(flux, i), spread.flux[i]!));
  if (before) {
    const own = row * columns + column;
    const core: KickedCore = { ...stateAt(flux, own) };
    history.move(before, own, core);
    putState(flux, own, core);
  }
  return flux;
}

/** A drawn core as an exception of the design, on top of what the design says of it. */
export function ownCore(
  { mat }: Design,
  { threshold, flux, elastic }: CoreSpread,
  core: number,
  own: CoreException | undefined,
): CoreException {
  return {
    missing: false,
    reversed: false,
    bias: 0,
    ...own,
    row: Math.floor(core / mat.columns),
    column: core % mat.columns,
    thresholdFactor: threshold[core]! * (own?.thresholdFactor ?? 1),
    fluxFactor: flux[core]! * (own?.fluxFactor ?? 1),
    elasticFactor: elastic[core]! * (own?.elasticFactor ?? 1),
  };
}
