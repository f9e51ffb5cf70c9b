import { writeQuantity } from '../base/format-quantity.ts';
import type { Json } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import { cycleEnd } from '../check/rules-drive.ts';
import type { Design } from '../design/design.ts';
import { DesignError } from '../design/design-error.ts';
import { predictedOne } from '../estimates/bell.ts';
import { constraints } from '../estimates/constraints.ts';
import { driveNeeds } from '../estimates/drive-needs.ts';
import { peakNeeds } from '../estimates/supply-needs.ts';
import type { Combination } from './combinations.ts';
import type { Needs } from './needs.ts';
import { capacitorFor, clean, nearestResistor, onGrid, upToGrid } from './rounding.ts';
import type { Variables } from './variables.ts';

/** A build as a design file that can be made as it stands, and as it is checked. */
export interface Build {
  readonly file: Json;
  readonly design: Design;
}

/** Strobe (s) and threshold (V), once they are known. */
export interface Slice {
  readonly strobe: number;
  readonly threshold: number;
}

/** What rules set once the variables are chosen. All s but the last. */
interface Ruled {
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
const TIME_STEP = 5e-9;
/** V: steps of the threshold. s: those of the strobe. */
const THRESHOLD_STEP = 0.1e-3;
const STROBE_STEP = 1e-9;
/** Pulses are longer than the slowest core needs by this part. */
const SPARE_WIDTH = 1.05;
/** s between the end of the read of the later line and the start of the inhibit, so that drawn edges keep apart too. */
const REST = 30e-9;
/** A ONE takes this part of the amplifier's output, so that a greater one at the corners is not cut off. */
const OUTPUT_SHARE = 0.5;
/** Rounds in which widths, inhibit edge and gap settle on each other. */
const ROUNDS = 4;

/**
 * The build that a combination and its variables mean: widths from the slowest core, inhibit edges from the volts that
 * the supply leaves, lead, lag and gap from the edges, gain from the signal, all rounded to what can be set. A period
 * that the pulses do not fit into is lengthened: that it is too long is for whoever judges it. Throws DesignError where
 * what is kept, or the core, does not make a design.
 */
export function build(needs: Needs, combination: Combination, variables: Variables, at?: Slice): Build {
  let ruled: Ruled = {
    readWidth: 600e-9,
    writeWidth: 600e-9,
    inhibitEdge: 40e-9,
    gap: 200e-9,
    period: Math.max(needs.cycle, 4e-6),
    reservoir: 1e-3,
    gain: needs.amplifier.gain,
  };
  for (let round = 0; round < ROUNDS; round++) {
    const file = fileOf(needs, combination, variables, ruled, at);
    const next = applyRules(needs, checkDesign(file), ruled);
    if (JSON.stringify(next) === JSON.stringify(ruled)) break;
    ruled = next;
  }
  const file = fileOf(needs, combination, variables, ruled, at);
  return { file, design: checkDesign(file) };
}

/** What the rules make of a design built with the values before. */
function applyRules(needs: Needs, design: Design, before: Ruled): Ruled {
  const all = constraints(design);
  const widened = (what: 'read' | 'write'): number => {
    const width = before[`${what}Width`];
    const found = all.find(({ code }) => code === `${what}-incomplete`);
    if (found === undefined) return width;
    return upToGrid(width + SPARE_WIDTH * found.used - found.limit, TIME_STEP);
  };
  const { x } = design.drive;
  const inhibitEdge = inhibitEdgeOf(needs, design, before.inhibitEdge);
  const lead = leadOf(inhibitEdge, x.rise);
  const gap = upToGrid(
    Math.abs(design.cycle.stagger) + x.fall / 2 + REST + lead + inhibitEdge / 2,
    TIME_STEP,
  );
  const limit = (needs.amplifier.outputLimit * OUTPUT_SHARE) / Math.max(predictedOne(design), 1e-4);
  return {
    readWidth: widened('read'),
    writeWidth: widened('write'),
    inhibitEdge,
    gap,
    period: Math.max(needs.cycle, upToGrid(cycleEnd(design), TIME_STEP)),
    reservoir: capacitorFor(peakNeeds(design).reservoir),
    gain: Math.max(1, Math.min(needs.amplifier.gain, Number(limit.toPrecision(2)))),
  };
}

const leadOf = (edge: number, rise: number): number => upToGrid((edge + rise) / 2, TIME_STEP);

/** The fastest inhibit edge that the supply has volts for; the fastest of all where no edge would do. */
function inhibitEdgeOf(needs: Needs, design: Design, now: number): number {
  const { tolerances, drive } = design;
  const high = 1 + 2 * tolerances.inhibit + tolerances.supply;
  const usable = drive.inhibit.compliance;
  const needed = (edge: number): number => {
    const inhibit = { ...drive.inhibit, rise: edge, fall: edge };
    const held = { ...design, drive: { ...drive, inhibit } };
    return high * driveNeeds(held).find(({ line }) => line === 'inhibit')!.needed;
  };
  const fastest = upToGrid(Math.max(needs.drivers.fastest, TIME_STEP), TIME_STEP);
  if (needed(now) <= usable && now === fastest) return now;
  for (let edge = fastest; edge <= 2e-6; edge = upToGrid(edge * 1.1 + TIME_STEP, TIME_STEP))
    if (needed(edge) <= usable) return edge;
  return fastest;
}

function fileOf(
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
        lead: s(leadOf(ruled.inhibitEdge, rise)),
        lag: s(leadOf(ruled.inhibitEdge, rise)),
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

/** Undefined for what makes no design: a point that a search leaves out. */
export function orRefused<T>(make: () => T): T | undefined {
  try {
    return make();
  } catch (error) {
    if (error instanceof DesignError) return undefined;
    throw error;
  }
}

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
