import { disturbedState } from '../core/disturb.ts';
import { fluxOf, scaleState, stateAt } from '../core/flux-of-cores.ts';
import { atTemperature, decaySwing, ringFactors, saturationFlux } from '../core/model.ts';
import { restState, settleUnder, type CoreState } from '../core/state.ts';
import type { CoreException, CoreParameters } from '../design/core.ts';
import type { Design } from '../design/design.ts';
import { halfReads } from '../drive/at-temperature.ts';
import { filled } from '../numerics/filled.ts';
import { OTHER_ONE, THIS_MAT, type MatCores, type Member } from './class-members.ts';

/** Parameters of each class and its state before the programme. */
export function parametersOfClasses(mat: MatCores, members: readonly Member[]) {
  const p = atTemperature(mat.design.core.parameters, mat.design.temperature);
  const factors = factorsOfClasses(mat, members);
  const { threshold, flux, elastic } = factors;
  const phiS = saturationFlux(p);
  const a = (p.elasticKnee + p.elasticSaturated) / 2;
  const b = (p.elasticKnee - p.elasticSaturated) / 2;
  const each = (f: (k: number) => number): Float64Array => filled(members.length, f);
  const rings = ringFactors(p);
  return {
    bias: each((k) => oddOf(mat, members[k]!)?.bias ?? 0),
    phiR: each((k) => p.remanentFlux * flux[k]!),
    phiS: each((k) => phiS * flux[k]!),
    coercive: each((k) => p.coerciveDrive * threshold[k]!),
    kneeWidth: each(() => p.staticKneeWidth),
    threshold: each((k) => p.dynamicThreshold * threshold[k]!),
    softWidth: each(() => p.dynamicKneeWidth),
    rho: each((k) => p.switchingResistance * flux[k]!),
    elasticA: each((k) => a * elastic[k]!),
    elasticB: each((k) => (b * elastic[k]!) / (p.remanentFlux * flux[k]!)),
    bend: each(() => p.elasticBend),
    psiM: each((k) => decaySwing(p) * flux[k]!),
    decayCharge: each(() => p.decayCharge),
    decayThreshold: each((k) => p.decayThreshold * threshold[k]!),
    nearness: Float64Array.from(rings, (f) => 1 / f),
    initial: fluxOf(statesBefore(mat, members, p, factors), rings.length),
  };
}

/** By what the parameters of each class are multiplied. */
interface ClassFactors {
  readonly threshold: Float64Array;
  readonly flux: Float64Array;
  readonly elastic: Float64Array;
}

/** Spread and odd cores are those of this mat; the other mats in series are as the design's core is. */
function factorsOfClasses(mat: MatCores, members: readonly Member[]): ClassFactors {
  const factors = (of: 'threshold' | 'flux' | 'elastic'): Float64Array =>
    filled(members.length, (k) => {
      const member = members[k]!;
      const strayed = member.mat === THIS_MAT ? (mat.spread?.[of][member.index] ?? 1) : 1;
      return strayed * (oddOf(mat, member)?.[`${of}Factor`] ?? 1);
    });
  return { threshold: factors('threshold'), flux: factors('flux'), elastic: factors('elastic') };
}

const oddOf = ({ exceptions }: MatCores, { index, mat }: Member): CoreException | undefined =>
  mat === THIS_MAT ? exceptions.get(index) : undefined;

/** As given, or at rest as its bit says. */
function statesBefore(
  mat: MatCores,
  members: readonly Member[],
  p: CoreParameters,
  { threshold, flux }: ClassFactors,
): CoreState[] {
  const { design, bits, initial, addressed } = mat;
  const restOf = restsByThreshold(design, p);
  const holdsOne = ({ index, mat: of }: Member): boolean =>
    of === THIS_MAT || index !== addressed ? bits[index] !== 0 : of === OTHER_ONE;
  return members.map((member, k) => {
    if (initial !== undefined && member.mat === THIS_MAT) return stateAt(initial, member.index);
    const rest = restOf(threshold[k]!);
    const bias = (oddOf(mat, member)?.bias ?? 0) / threshold[k]!;
    return scaleState(settleUnder(p, holdsOne(member) ? rest.one : rest.zero, bias), flux[k]!);
  });
}

interface Rest {
  readonly one: CoreState;
  readonly zero: CoreState;
}

/** How a core of each threshold rests, as a multiple of the design's: a soft one has been disturbed further. */
function restsByThreshold(design: Design, p: CoreParameters): (thresholdFactor: number) => Rest {
  const known = new Map<number, Rest>();
  return (factor) => {
    const found =
      known.get(factor) ??
      restingStates(design, {
        ...p,
        coerciveDrive: p.coerciveDrive * factor,
        dynamicThreshold: p.dynamicThreshold * factor,
        decayThreshold: p.decayThreshold * factor,
      });
    known.set(factor, found);
    return found;
  };
}

function restingStates(design: Design, p: CoreParameters): Rest {
  if (design.initialState === 'disturbed') return disturbedState(p, halfReads(design));
  return { one: restState(p, 1), zero: restState(p, 0) };
}
