import { atTemperature, peakEmf, saturationFlux, staticFlux } from '../core-model.ts';
import type { Design } from '../design.ts';
import { normalDeviates, randomStream } from '../numerics/random.ts';
import type { CoreSpread } from '../result.ts';
import { quantityJson } from './study-inputs.ts';
import type { Json, Patch } from './study-shape.ts';

/** What one build of many looks like: draw i of a seed, from (design, seed, i) alone. */

/** Streams of one draw: 0 for what the whole build shares, 1 + m for the cores of mat m. */
const STREAMS = 128;

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
  /** A uniform number, for the address that is read. */
  readonly address: number;
}

/** Factors are 1 + sigma z and never below a tenth; temperature is uniform over its range. */
export function drawShared(design: Design, seed: number, index: number): SharedDraw {
  const source = randomStream(seed, index * STREAMS);
  const address = source();
  const temperature = design.tolerances.temperature * (2 * source() - 1);
  const z = normalDeviates(source);
  const { tolerances } = design;
  const factor = (sigma: number): number => Math.max(0.1, 1 + sigma * z());
  return {
    driveX: factor(tolerances.drive),
    driveY: factor(tolerances.drive),
    inhibit: factor(tolerances.drive),
    edgeX: factor(tolerances.edge),
    edgeY: factor(tolerances.edge),
    terminationA: factor(tolerances.termination),
    terminationB: factor(tolerances.termination),
    threshold: factor(tolerances.threshold),
    strobe: tolerances.strobe * z(),
    temperature,
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
    ...line('x', draw.driveX, draw.edgeX),
    ...line('y', draw.driveY, draw.edgeY),
    { path: '/drive/inhibit/amplitude', value: quantityJson(drive.inhibit.amplitude * draw.inhibit, 'A') },
    ...resistor('a', draw.terminationA),
    ...resistor('b', draw.terminationB),
    { path: '/detector/threshold', value: quantityJson(detector.threshold * draw.threshold, 'V') },
    { path: '/strobe/time', value: quantityJson(strobe + draw.strobe, 's') },
    { path: '/temperature', value: quantityJson(design.temperature + draw.temperature, '°C') },
  ];
}

/** Address patches; a programme of single addresses would contradict them, so it goes. */
export function addressPatches(design: Design, core: number): Patch[] {
  const { columns } = design.mat;
  const value: Json = { row: Math.floor(core / columns), column: core % columns };
  return [{ path: '/selected', value }, { path: '/programme' }];
}

/**
 * EMF of each core alone at an instant after full drive is on, V, by the closed form for a step: the core with the
 * least is the one whose ONE is most likely to fail.
 */
export function screenOnes(design: Design, spread: CoreSpread, since: number): Float64Array {
  const p = atTemperature(design.core.parameters, design.temperature);
  const drive = design.drive.x.readAmplitude + design.drive.y.readAmplitude;
  const phiSat = saturationFlux(p);
  return spread.threshold.map((threshold, i) => {
    const phiR = p.remanentFlux * spread.flux[i]!;
    const phiS = phiSat * spread.flux[i]!;
    const phiD = staticFlux(phiR, p.coerciveDrive * threshold, p.staticKneeWidth, drive);
    const rho = p.switchingResistance * spread.flux[i]!;
    const vP = peakEmf(rho, p.dynamicThreshold * threshold, p.dynamicKneeWidth, drive);
    const swing = phiS + phiD;
    const u0 = (-2 * phiR + phiS - phiD) / swing;
    const t = Math.max(0, since);
    return vP / Math.cosh(Math.atanh(Math.max(-0.999999, u0)) + (2 * vP * t) / swing) ** 2;
  });
}

/** Index of the least value. */
export function leastIndex(values: ArrayLike<number>): number {
  let least = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! < values[least]!) least = i;
  return least;
}
