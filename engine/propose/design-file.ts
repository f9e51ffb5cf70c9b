import { writeQuantity } from '../base/format-quantity.ts';
import type { Json } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import { TIMING_SIGMAS } from '../pack/timing.ts';
import type { Combination } from './combinations.ts';
import type { Needs } from './needs.ts';
import { clean, nearestResistor, onGrid, upToGrid } from './rounding.ts';
import type { Variables } from './variables.ts';

/** Strobe (s) and threshold (V), once they are known. */
export interface Slice {
  readonly strobe: number;
  readonly threshold: number;
}

/** What rules set once the variables are chosen. All s but the last. */
export interface Ruled {
  readonly readWidth: number;
  readonly writeWidth: number;
  readonly inhibitEdge: number;
  readonly gap: number;
  readonly period: number;
  /** F. */
  readonly reservoir: number;
  readonly gain: number;
}

/** s: pulses, edges and delays are set in steps of this. */
export const TIME_STEP = 5e-9;
/** V: steps of the threshold. s: those of the strobe. */
const THRESHOLD_STEP = 0.1e-3;
const STROBE_STEP = 1e-9;

/** The design file that these values mean, in values that can be bought and set. What is kept goes over all of it. */
export function fileOf(
  needs: Needs,
  { rows, columns, winding, core, amplifiers }: Combination,
  v: Variables,
  ruled: Ruled,
  at: Slice | undefined,
): Json {
  const raw = needs.raw as Record<string, Json>;
  const given = (name: string): Record<string, Json> => (raw[name] ?? {}) as Record<string, Json>;
  const { supply, temperature } = needs;
  const s = (value: number): string => writeQuantity(clean(value), 's');
  const coreFile = (raw['cores'] as readonly Json[])[core]!;
  const coefficient = perKelvin(coefficientOf(coreFile, given('wire')) * v.tracking);
  const middle = clean((temperature.from + temperature.to) / 2);
  const compliance = writeQuantity(complianceOf(needs), 'V');
  const half = writeQuantity(onGrid(v.half, 1e-3), 'A');
  const rise = upToGrid(v.rise, TIME_STEP);
  const stagger = onGrid(v.stagger, TIME_STEP);
  const lead = leadOf(needs, ruled.inhibitEdge, rise);
  const line = {
    readAmplitude: half,
    writeAmplitude: half,
    rise: s(rise),
    fall: s(rise),
    compliance,
    clamp: writeQuantity(Math.ceil(Math.max(30, 2 * supply.voltage)), 'V'),
    temperatureCoefficient: coefficient,
  };
  const resistor = writeQuantity(nearestResistor(v.termination), 'ohm');
  const { most: _, ...amplifier } = given('amplifier');
  const file = {
    name: needs.name,
    note: `Proposed from stated needs: ${needs.words} words of ${needs.bits} bits.`,
    temperature: `${middle} degC`,
    core: coreFile,
    mat: { rows, columns, mats: needs.bits },
    winding: { kind: winding, segments: amplifiers },
    wire: given('wire'),
    terminations: { a: resistor, b: resistor },
    drive: {
      x: line,
      y: line,
      inhibit: {
        amplitude: writeQuantity(onGrid(v.half * v.inhibit, 1e-3), 'A'),
        rise: s(ruled.inhibitEdge),
        fall: s(ruled.inhibitEdge),
        lead: s(lead),
        lag: s(lead),
        compliance,
        temperatureCoefficient: coefficient,
      },
    },
    cycle: {
      period: s(ruled.period),
      readWidth: s(ruled.readWidth),
      gap: s(ruled.gap),
      writeWidth: s(ruled.writeWidth),
      stagger: s(stagger),
    },
    stored: { kind: 'random', seed: needs.seed },
    amplifier: {
      ...amplifier,
      gain: ruled.gain,
      bandwidth: writeQuantity(Number(v.bandwidth.toPrecision(2)), 'Hz'),
    },
    detector: {
      ...given('detector'),
      ...(at ? { threshold: writeQuantity(onGrid(at.threshold, THRESHOLD_STEP), 'V') } : {}),
    },
    strobe: { ...given('strobe'), ...(at ? { time: s(onGrid(at.strobe, STROBE_STEP)) } : {}) },
    requirement: { ...given('want'), sets: ['nominal', 'corners', 'parts'] },
    tolerances: {
      ...given('tolerances'),
      temperature: `${clean((temperature.to - temperature.from) / 2)} K`,
    },
    supply: { ...given('supply'), reservoir: writeQuantity(ruled.reservoir, 'F') },
  };
  return merge(file as unknown as Json, needs.keep as Json);
}

/** s before and after the write that the inhibit is on, so that its edges lie outside even where both come as slowly as the timing sheet allows. */
export const leadOf = ({ tolerances }: Needs, edge: number, rise: number): number =>
  upToGrid(((1 + TIMING_SIGMAS * tolerances.edge) * (edge + rise)) / 2, TIME_STEP);

/** What every driver has left of the supply at its low end. */
export const complianceOf = ({ supply, tolerances }: Needs): number =>
  Math.max(0.1, Math.floor(100 * (supply.voltage * (1 - tolerances.supply) - supply.headroom)) / 100);

/** 1/K of a core as a file states it. */
function coefficientOf(core: Json, wire: Json): number {
  const key = JSON.stringify([core, wire]);
  let known = coefficients.get(key);
  if (known === undefined) {
    known = checkDesign({ core, wire }).core.parameters.driveTemperatureCoefficient;
    if (coefficients.size > 32) coefficients.clear();
    coefficients.set(key, known);
  }
  return known;
}
const coefficients = new Map<string, number>();

/** In steps of 0.01 %/K. */
const perKelvin = (coefficient: number): string => writeQuantity(onGrid(coefficient, 1e-4), '1/K');

function merge(base: Json, over: Json): Json {
  const isObject = (value: Json): value is { readonly [key: string]: Json } =>
    typeof value === 'object' && value !== null && !Array.isArray(value);
  if (!isObject(base) || !isObject(over)) return over;
  const merged: Record<string, Json> = { ...base };
  for (const [key, value] of Object.entries(over))
    merged[key] = base[key] === undefined ? value : merge(base[key], value);
  return merged;
}
