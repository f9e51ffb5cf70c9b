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
import { fileOf, leadOf, TIME_STEP } from './design-file.ts';
import type { Ruled, Slice } from './design-file.ts';
import { capacitorFor, upToGrid } from './rounding.ts';
import type { Variables } from './variables.ts';

/** A build as a design file that can be made as it stands, and as it is checked. */
export interface Build {
  readonly file: Json;
  readonly design: Design;
}

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
  const lead = leadOf(needs, inhibitEdge, x.rise);
  const gap = upToGrid(
    Math.abs(design.cycle.stagger) + x.fall / 2 + REST + lead + inhibitEdge / 2,
    TIME_STEP,
  );
  const limit = (needs.amplifier.outputLimit * OUTPUT_SHARE) / Math.max(predictedOne(design), 1e-4);
  const [readWidth, writeWidth] = [widened('read'), widened('write')];
  // What the pulses grow by in this round must fit too; once they have settled this is nothing.
  const growth =
    Math.max(0, readWidth - before.readWidth) +
    Math.max(0, writeWidth - before.writeWidth) +
    Math.max(0, gap - before.gap) +
    2 * Math.max(0, inhibitEdge - before.inhibitEdge);
  return {
    readWidth,
    writeWidth,
    inhibitEdge,
    gap,
    period: Math.max(needs.cycle, upToGrid(cycleEnd(design) + growth, TIME_STEP)),
    reservoir: capacitorFor(peakNeeds(design).reservoir),
    gain: Math.max(1, Math.min(needs.amplifier.gain, Number(limit.toPrecision(2)))),
  };
}

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

/** Undefined for what makes no design: a point that a search leaves out. */
export function orRefused<T>(make: () => T): T | undefined {
  try {
    return make();
  } catch (error) {
    if (error instanceof DesignError) return undefined;
    throw error;
  }
}
