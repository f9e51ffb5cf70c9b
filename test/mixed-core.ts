import { pulseDrive } from '../engine/core/drive.ts';
import { runCore } from '../engine/core/single.ts';
import { disturb } from '../engine/core/disturb.ts';
import { restState, type CoreState } from '../engine/core/state.ts';
import { worksAsMemory } from '../engine/core/unknowns/tested-core.ts';
import type { CoreParameters, CoreTest } from '../engine/design/core.ts';
import { normalDeviates, randomStream } from '../engine/numerics/random.ts';

/**
 * A real core is not of one material: this one is two cores of the model in parallel, one within the other, with
 * thresholds, speeds, knees and squareness of their own. Its bell leans, its knees have two steps, and no core of the
 * model (rings evenly spread, the same law in each) answers as it does. Currents being given, its EMF is the sum of
 * theirs, each as its share of the flux: on a sense wire too, whose answer to its cores is linear.
 */
export interface MixedCore {
  readonly parts: readonly [CoreParameters, CoreParameters];
  /** Share of the first. */
  readonly share: number;
}

/** The sum over the parts of what each gives. */
export const mixed = (core: MixedCore, of: (p: CoreParameters) => Float64Array): Float64Array => {
  const [a, b] = core.parts.map(of) as [Float64Array, Float64Array];
  return a.map((value, k) => core.share * value + (1 - core.share) * (b[k] ?? 0));
};

/** A: the drive at which such a core is used; s: its rise. */
export const FULL_DRIVE = 0.74;
export const RISE = 50e-9;
const DISTURBS = { disturbRatio: 0.5, disturbs: 1024, disturbWidth: 0.5e-6 } as const;
const TEST: CoreTest = { fullDrive: FULL_DRIVE, rise: RISE, tolerance: 0, ...DISTURBS };

/**
 * A core at random: every parameter evenly over what cores of one measured make and their variants have (the ranges of
 * engine/design/core-ranges.ts, from which nothing is drawn here), then apart by some per cent in its two parts. It sets
 * at full drive and keeps its state under half of it.
 */
export function mixedCore(seed: number, size: Pick<CoreParameters, 'outsideDiameter'>): MixedCore {
  const random = randomStream(seed, 41);
  const normal = normalDeviates(random);
  const between = (low: number, high: number): number => low + (high - low) * random();
  for (;;) {
    const p = oneCore(between, size.outsideDiameter);
    const apart = (deviation: number): number => Math.exp(deviation * normal());
    const soft = apart(0.04);
    const part: CoreParameters = {
      ...p,
      coerciveDrive: p.coerciveDrive * soft,
      dynamicThreshold: p.dynamicThreshold * soft * apart(0.03),
      staticKneeWidth: p.staticKneeWidth * apart(0.3),
      dynamicKneeWidth: p.dynamicKneeWidth * apart(0.3),
      switchingResistance: p.switchingResistance * apart(0.08),
      squareness: Math.min(0.996, p.squareness * apart(0.02)),
      elasticKnee: p.elasticKnee * apart(0.1),
    };
    const core: MixedCore = { parts: [p, part], share: between(0.35, 0.65) };
    if (!core.parts.every((each) => each.elasticKnee > each.elasticSaturated && worksAsMemory(each, TEST)))
      continue;
    const { peak, at, tenth } = readTrue(readTrace(core, 1));
    if (at > RISE * 1.1 && tenth < 900e-9 && peak > 15e-3) return core;
  }
}

function oneCore(between: (low: number, high: number) => number, outsideDiameter: number): CoreParameters {
  const coerciveDrive = between(0.52, 0.86) * FULL_DRIVE;
  const dynamicThreshold = between(0.25, 0.85) * FULL_DRIVE;
  const speed = between(25e-3, 80e-3);
  const remanentFlux = between(1.6e-9, 4.5e-9);
  const swing = (2 * remanentFlux) / FULL_DRIVE;
  const elasticSaturated = between(0.02, 0.1) * swing;
  const decaying = between(0, 0.05) * speed;
  const decayThreshold = between(0.5, 0.7) * FULL_DRIVE;
  return {
    remanentFlux,
    squareness: between(0.83, 0.996),
    coerciveDrive,
    staticKneeWidth: between(0.01, 0.12) * coerciveDrive,
    dynamicThreshold,
    dynamicKneeWidth: between(0.01, 0.1) * dynamicThreshold,
    switchingResistance: speed / (FULL_DRIVE - dynamicThreshold),
    ringSpread: between(0, 0.21),
    elasticSaturated,
    elasticKnee: between(1, 1.5) * elasticSaturated,
    elasticBend: between(0.07, 0.3),
    decayResistance: decaying / (FULL_DRIVE - decayThreshold),
    decayCharge: between(0.5, 2) * 1e-8,
    decayThreshold,
    driveTemperatureCoefficient: between(-0.007, -0.001),
    fluxTemperatureCoefficient: between(-0.003, 0),
    outsideDiameter,
    insideDiameter: 0.6 * outsideDiameter,
    height: 0.25 * outsideDiameter,
  };
}

export interface Trace {
  readonly time: Float64Array;
  readonly value: Float64Array;
}

/**
 * V of one turn: a read of a stored bit on a jig; s from the start of the rise.
 * @param disturbed after half-reads and half-writes in turn
 * @param halfWrites s: after as many half-writes of this width
 */
export function readTrace(
  core: MixedCore,
  bit: 0 | 1,
  {
    drive = FULL_DRIVE,
    disturbed = false,
    halfWrites,
  }: { readonly drive?: number; readonly disturbed?: boolean; readonly halfWrites?: number } = {},
): Trace {
  const end = 1.5e-6;
  const pulse = { amplitude: -drive, start: 60e-9, width: end, rise: RISE, fall: RISE };
  const pulses = pulseDrive([pulse], end + 120e-9);
  const before = (p: CoreParameters): CoreState => {
    const rest = restState(p, bit);
    const halfDrive = DISTURBS.disturbRatio * FULL_DRIVE;
    const pulses = DISTURBS.disturbs;
    if (halfWrites !== undefined)
      return disturb(p, rest, { halfDrive, width: halfWrites, pulses, cycle: [1] });
    return disturbed ? disturb(p, rest, { halfDrive, width: DISTURBS.disturbWidth, pulses }) : rest;
  };
  const step = 1e-9;
  let time = new Float64Array();
  const value = mixed(core, (p) => {
    const run = runCore(p, pulses, { step, initial: before(p) });
    time = run.time.map((t) => t - 60e-9);
    return run.emf.map((v) => -v);
  });
  return { time, value };
}

/** Peak, its time, and the fall to a tenth of it, of a trace without noise. */
export function readTrue({ time, value }: Trace): { peak: number; at: number; tenth: number } {
  let top = 0;
  value.forEach((v, k) => {
    if (time[k]! > RISE && time[k]! < 1.3e-6 && (top === 0 || v > value[top]!)) top = k;
  });
  let k = top;
  while (k < value.length - 1 && value[k]! > value[top]! / 10) k++;
  return { peak: value[top]!, at: time[top]!, tenth: time[k]! };
}
