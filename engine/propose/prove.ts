import type { Design } from '../design/design.ts';
import { buildNumbers } from '../estimates/build-numbers.ts';
import { followedUntil } from '../strobe/envelope.ts';
import type { Verdict } from '../strobe/verdict-of-sets.ts';
import { wholeWindow } from '../studies/whole-window.ts';
import { designWarnings } from '../warnings/design-warnings.ts';
import { bindings } from './bindings.ts';
import { build, orRefused } from './build.ts';
import type { Needs } from './needs.ts';
import { refine, type Found, type Refined } from './refine.ts';
import type { Run } from './run.ts';

/** From a full strobe window of exactly the proposed file, and closed forms of it. */
export interface Proof {
  readonly verdict: Verdict;
  /** V and s at the corners. */
  readonly margin: number;
  readonly width: number;
  readonly setBy: { readonly one: string; readonly zero: string };
  /** Wires through a core, kinds of them; drivers; sense amplifiers, of the whole memory. */
  readonly wires: number;
  readonly drivers: number;
  readonly amplifiers: number;
  /** A on average, all bits ZERO, at the period asked for; A at the peak. */
  readonly supplyAverage: number;
  readonly supplyPeak: number;
  /** V that X, Y and the inhibit driver need. */
  readonly driverVolts: number;
  readonly inhibitVolts: number;
  /** s. */
  readonly shortestCycle: number;
  /** Sentences of `check` about the file. */
  readonly warnings: readonly string[];
}

/** A build with its proof; none where the window of the file was not run, because it does not do all that is asked for. */
export interface Proved extends Found {
  readonly proof?: Proof;
}

/**
 * The same; where all that stacks of parts lack is yield, the search goes on from there for that, at the cost of a reserve
 * beyond what is asked for, and what it comes to takes the place where more stacks are good.
 */
export function proveWithYield(
  needs: Needs,
  refined: Refined,
  how: { readonly run: Run; readonly cancelled?: () => boolean },
): Proved {
  const wide = prove(needs, refined, how);
  const lacking = stacksLacking(wide);
  if (lacking === undefined || how.cancelled?.() === true) return wide;
  const { combination, variables, setBy } = refined.found;
  const found = refine(needs, combination, variables, { ...how, aim: 'yield', cases: setBy });
  if (found === undefined || found.found.value < 1) return wide;
  const better = prove(needs, found, how);
  const { stack } = better.proof?.verdict.sets.parts ?? {};
  return stack && stack.yield > lacking ? better : wide;
}

/** The share of good stacks, where that is all that a build's own window finds amiss. */
function stacksLacking({ proof }: Proved): number | undefined {
  const { sets, decides, design } = proof?.verdict ?? {};
  const { stack, softest } = sets?.parts ?? {};
  if (!stack || !softest?.holds || design === 'reads' || decides !== 'parts') return undefined;
  return sets?.corners?.verdict === 'reads' ? stack.yield : undefined;
}

/** Nothing but strobe and threshold differs, and no run of the one is followed further than of the other. */
function runsAlike(one: Design, other: Design): boolean {
  const apart = ({ strobe, detector, ...rest }: Design): string =>
    JSON.stringify([rest, { ...strobe, time: 0 }, { ...detector, threshold: 0 }]);
  return apart(one) === apart(other) && followedUntil(one) === followedUntil(other);
}

/**
 * The build with its strobe and threshold, rounded, and what the strobe window says of that file. The window does not run again
 * what the search ran of the same build to judge it by the worst of all cases.
 */
export function prove(
  needs: Needs,
  { found, design: searched, runs }: Refined,
  { run, cancelled }: { readonly run: Run; readonly cancelled?: () => boolean },
): Proved {
  const built = orRefused(() => build(needs, found.combination, found.variables, found));
  if (built === undefined) return found;
  const { file, design } = built;
  const told = { ...found, design: file };
  if (found.value < 1 || cancelled?.() === true) return told;
  const window = wholeWindow(design, {
    simulate: run,
    parts: true,
    assumptions: false,
    ...(cancelled ? { cancelled } : {}),
    ...(runsAlike(design, searched) ? { atHand: runs } : {}),
  });
  const { verdict, corners } = window;
  if (corners === undefined || verdict.sets.corners === null) return told;
  const numbers = buildNumbers(design);
  const lines = numbers.needs.filter(({ line }) => line !== 'inhibit').map(({ needed }) => needed);
  const { winding, amplifiers } = found.combination;
  return {
    ...told,
    binding: bindings(needs, design),
    proof: {
      verdict,
      margin: verdict.sets.corners.margin,
      width: verdict.sets.corners.width,
      setBy: { one: corners.one, zero: corners.zero },
      wires: winding.startsWith('shared') ? 3 : 4,
      drivers: numbers.drivers.withInhibit,
      amplifiers: amplifiers * needs.bits,
      supplyAverage: numbers.supplyCurrent.atRate,
      supplyPeak: numbers.peak.current,
      driverVolts: Math.max(...lines),
      inhibitVolts: numbers.needs.find(({ line }) => line === 'inhibit')!.needed,
      shortestCycle: numbers.limits.shortest,
      warnings: designWarnings(design).map(({ message }) => message),
    },
  };
}
