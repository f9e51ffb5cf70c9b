import type { Patch } from '../../base/json-patch.ts';
import { disturb } from '../../core/disturb.ts';
import {
  atTemperature,
  meanOfRings,
  peakEmf,
  ringFactors,
  saturationFlux,
  staticFlux,
} from '../../core/model.ts';
import { restState, type CoreState } from '../../core/state.ts';
import type { Design } from '../../design/design.ts';
import { halfReads, warmCurrents } from '../../drive/at-temperature.ts';
import { pulseInstants } from '../../drive/programme.ts';
import { parametersOf } from '../../history/core-kicks.ts';
import type { CoreSpread } from '../../network/class-members.ts';
import { normalDeviates, randomStream } from '../../numerics/random.ts';
import { quantityJson } from '../shared/inputs.ts';

/** What one build of many looks like: draw i of a seed, from (design, seed, i) alone. */

/** Streams of one draw: 0 for what the whole build shares, 1 + m for the cores of mat m. */
export const STREAMS = 128;
/** Draws of one study at most. */
export const MOST_DRAWS = 1_000_000;

/** Parts of a build that all its bits share: deviations from nominal, by name. */
export interface SharedDraw {
  readonly driveX: number;
  readonly driveY: number;
  readonly inhibit: number;
  readonly edgeX: number;
  readonly edgeY: number;
  readonly terminationA: number;
  readonly terminationB: number;
  readonly threshold: number;
  /** s. */
  readonly strobe: number;
  /** K. */
  readonly temperature: number;
  /** Moves all drives, and the threshold with them. */
  readonly supply: number;
  /** A uniform number, for the address that is read. */
  readonly address: number;
}

/** A build whose shared parts are all as designed. */
export const nominalShare: SharedDraw = {
  driveX: 1,
  driveY: 1,
  inhibit: 1,
  edgeX: 1,
  edgeY: 1,
  terminationA: 1,
  terminationB: 1,
  threshold: 1,
  strobe: 0,
  temperature: 0,
  supply: 1,
  address: 0,
};

/** Factors are 1 + sigma z and never below a tenth; temperature and supply are uniform over their ranges. */
export function drawShared(design: Design, seed: number, index: number): SharedDraw {
  const source = randomStream(seed, index * STREAMS);
  const address = source();
  const temperature = design.tolerances.temperature * (2 * source() - 1);
  const supply = 1 + design.tolerances.supply * (2 * source() - 1);
  const z = normalDeviates(source);
  const { tolerances } = design;
  const factor = (sigma: number): number => Math.max(0.1, 1 + sigma * z());
  return {
    driveX: factor(tolerances.drive),
    driveY: factor(tolerances.drive),
    inhibit: factor(tolerances.inhibit),
    edgeX: factor(tolerances.edge),
    edgeY: factor(tolerances.edge),
    terminationA: factor(tolerances.termination),
    terminationB: factor(tolerances.termination),
    threshold: factor(tolerances.threshold),
    strobe: tolerances.strobe * z(),
    temperature,
    supply,
    address,
  };
}

/** Every core of one mat: threshold and flux correlated as the design says, elastic part on its own. */
export function drawCores(design: Design, seed: number, index: number, mat: number): CoreSpread {
  const z = normalDeviates(randomStream(seed, index * STREAMS + 1 + mat));
  const { coreThreshold, coreFlux, coreElastic, coreCorrelation } = design.tolerances;
  const count = design.mat.rows * design.mat.columns;
  const spread: CoreSpread = {
    threshold: new Float64Array(count),
    flux: new Float64Array(count),
    elastic: new Float64Array(count),
  };
  const other = Math.sqrt(1 - coreCorrelation ** 2);
  for (let i = 0; i < count; i++) {
    const a = z();
    const b = z();
    spread.threshold[i] = Math.max(0.1, 1 + coreThreshold * a);
    spread.flux[i] = Math.max(0.1, 1 + coreFlux * (coreCorrelation * a + other * b));
    spread.elastic[i] = Math.max(0.1, 1 + coreElastic * z());
  }
  return spread;
}

/** The shared part as patches on the raw design; `strobe` is where the nominal design is read. */
export function sharedPatches(design: Design, draw: SharedDraw, strobe: number): Patch[] {
  const { drive, terminations, detector } = design;
  const line = (name: 'x' | 'y', current: number, edge: number): Patch[] => {
    const { source, readAmplitude, writeAmplitude, rise, fall } = drive[name];
    const at = `/drive/${name}`;
    return [
      ...(source.kind === 'voltage'
        ? [{ path: `${at}/source/voltage`, value: quantityJson(source.voltage * current, 'V') }]
        : []),
      { path: `${at}/readAmplitude`, value: quantityJson(readAmplitude * current, 'A') },
      { path: `${at}/writeAmplitude`, value: quantityJson(writeAmplitude * current, 'A') },
      { path: `${at}/rise`, value: quantityJson(rise * edge, 's') },
      { path: `${at}/fall`, value: quantityJson(fall * edge, 's') },
    ];
  };
  const resistor = (name: 'a' | 'b', factor: number): Patch[] => {
    const value = terminations[name];
    return Number.isFinite(value) && value > 0
      ? [{ path: `/terminations/${name}`, value: quantityJson(value * factor, 'ohm') }]
      : [];
  };
  return [
    ...line('x', draw.driveX * draw.supply, draw.edgeX),
    ...line('y', draw.driveY * draw.supply, draw.edgeY),
    {
      path: '/drive/inhibit/amplitude',
      value: quantityJson(drive.inhibit.amplitude * draw.inhibit * draw.supply, 'A'),
    },
    ...resistor('a', draw.terminationA),
    ...resistor('b', draw.terminationB),
    {
      path: '/detector/threshold',
      value: quantityJson(detector.threshold * draw.threshold * draw.supply, 'V'),
    },
    { path: '/strobe/time', value: quantityJson(strobe + draw.strobe, 's') },
    { path: '/temperature', value: quantityJson(design.temperature + draw.temperature, '°C') },
  ];
}

/** EMF at the strobe of one core alone that holds a ONE, V, by threshold factor; it is in proportion to its flux. */
export interface Bells {
  /** Under both drives. */
  readonly full: (threshold: number) => number;
  /** Under the greater of them. */
  readonly half: (threshold: number) => number;
}

/** By the closed form for a step of drive, from where a core's threshold lets a fresh or disturbed ONE stand. */
export function bellsAtStrobe(design: Design, state: Design['initialState']): Bells {
  const p = atTemperature(design.core.parameters, design.temperature);
  const { fullRead, halfRead } = warmCurrents(design);
  const on = pulseInstants(design);
  const at = (design.strobe.time ?? 0) - design.detector.delay;
  const since = Math.max(0, at - Math.max(on.x.readOn, on.y.readOn));
  const phiS = saturationFlux(p);
  const starts = startsOfOnes(design, state);
  const bell = (drive: number) => (threshold: number) =>
    meanOfRings(p, drive, (local, ring) => {
      const phiD = staticFlux(p.remanentFlux, p.coerciveDrive * threshold, p.staticKneeWidth, local);
      const vP = peakEmf(p.switchingResistance, p.dynamicThreshold * threshold, p.dynamicKneeWidth, local);
      const swing = phiS + phiD;
      const u0 = (-2 * p.remanentFlux * starts[ring]!(threshold) + phiS - phiD) / swing;
      if (!(swing > 0) || u0 >= 1) return 0;
      return vP / Math.cosh(Math.atanh(Math.max(-0.999999, u0)) + (2 * vP * since) / swing) ** 2;
    });
  return {
    full: tabulate(65, bell(fullRead)),
    half: tabulate(65, bell(halfRead)),
  };
}

/** Flux of each ring of a ONE before the read over its remanent flux, by threshold factor; whatever its flux, for all fluxes scale. */
function startsOfOnes(
  design: Design,
  state: Design['initialState'],
): readonly ((threshold: number) => number)[] {
  const rings = ringFactors(design.core.parameters);
  if (state === 'undisturbed') return rings.map(() => () => 1);
  const train = halfReads(design);
  const own = { row: 0, column: 0, missing: false, reversed: false, fluxFactor: 1, bias: 0 };
  const known = new Map<number, CoreState>();
  const disturbed = (thresholdFactor: number): CoreState => {
    const p = parametersOf(design, { ...own, thresholdFactor });
    const one = known.get(thresholdFactor) ?? disturb(p, restState(p, 1), train);
    known.set(thresholdFactor, one);
    return one;
  };
  const { remanentFlux } = parametersOf(design);
  return rings.map((_, ring) =>
    tabulate(9, (threshold) => {
      const { phi, rings: each } = disturbed(threshold);
      return (each?.[ring] ?? phi) / remanentFlux;
    }),
  );
}

/** Threshold factors that are tabulated; beyond them the ends hold. */
const [LEAST, GREATEST] = [0.8, 1.2];

/** A function of the threshold factor by straight lines between nodes. */
function tabulate(nodes: number, of: (threshold: number) => number): (threshold: number) => number {
  const at = Float64Array.from({ length: nodes }, (_, k) =>
    of(LEAST + ((GREATEST - LEAST) * k) / (nodes - 1)),
  );
  return (threshold) => {
    const place = Math.min(1, Math.max(0, (threshold - LEAST) / (GREATEST - LEAST))) * (nodes - 1);
    const k = Math.min(nodes - 2, Math.floor(place));
    return at[k]! + (at[k + 1]! - at[k]!) * (place - k);
  };
}
