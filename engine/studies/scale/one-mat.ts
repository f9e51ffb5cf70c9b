import { applyPatches } from '../../base/json-patch.ts';
import type { Patch } from '../../base/json-patch.ts';
import { atTemperature, elasticSlope } from '../../core/model.ts';
import type { Design } from '../../design/design.ts';
import { driveLevels } from '../../drive/at-temperature.ts';
import { steepest } from '../../drive/line-voltage.ts';
import { countHalfSelected, halfSelectExtremes } from '../../mat/half-select-law.ts';
import { polarityOf } from '../../mat/winding.ts';
import { senseResistance } from '../../mat/wire-at-temperature.ts';
import { wireDelay, wireImpedance } from '../../network/sections.ts';
import { valueAt } from '../../sense-amplifier/detector.ts';
import type { Simulation } from '../../solver/result.ts';
import { CAUSE_NAMES, CONTRIBUTIONS } from '../../network/causes.ts';
import { casesOf, fixedStrobe, freeStrobe } from '../shared/reading.ts';
import type { Point, PointResult, StudyPlan, StudyTools } from '../shared/shape.ts';
import type { MatReading } from './read-mat.ts';
import { readMat } from './read-mat.ts';
import type { ScaleOptions } from './scale-options.ts';

export function oneMat(
  plan: StudyPlan<ScaleOptions>,
  point: Point,
  tools: StudyTools,
): Omit<PointResult, 'index' | 'name'> {
  const found = readMat(matDesign(plan, point.patches, tools), casesOf(plan), anewOf(plan), tools);
  const { design, runs, nominal: reading, corners } = found;
  const zeros = runs.filter((run) => run.design.selected.bit === 0);
  const { mat } = design;
  const cores = (mat.rows * mat.columns) / design.winding.segments;
  const counts = countHalfSelected(polarityOf(mat, design.winding), mat, design.selected);
  const law = halfSelectExtremes(counts, elasticPeak(design, 1), elasticPeak(design, 0));
  const seen = reading.strobe - design.detector.delay;
  return {
    values: {
      winding: design.winding.kind,
      side: Math.sqrt(mat.rows * mat.columns),
      rows: mat.rows,
      columns: mat.columns,
      halfSelected: counts.same + counts.opposite,
      halfSelectPeak: Math.max(...zeros.map(halfSelectPeak)),
      lawPeak: Math.max(Math.abs(law.high), Math.abs(law.low)),
      lawHalfSpread: law.halfSpread,
      halfSelectAtStrobe: Math.max(...zeros.map((run) => Math.abs(halfSelectAt(run, seen)))),
      one: reading.one,
      zero: reading.zero,
      margin: reading.margin,
      cornerMargin: corners?.margin ?? null,
      width: (corners ?? reading).width,
      strobe: reading.strobe,
      threshold: reading.threshold,
      delay: wireDelay(design, cores),
      attenuation: (20 / Math.LN10) * ((cores * senseResistance(design)) / (2 * wireImpedance(design))),
      pass: found.pass,
      reason: reasonOf(found),
      limit: limitOf(found, seen),
      largest: null,
    },
  };
}

/** The plan's design as a mat, its strobe held where the plan holds it. */
export const matDesign = (
  plan: StudyPlan<ScaleOptions>,
  patches: readonly Patch[],
  { checkDesign }: StudyTools,
): Design =>
  checkDesign(
    applyPatches(plan.design, [
      ...patches,
      ...(plan.options.strobe === 'fixed' ? fixedStrobe(plan) : freeStrobe),
    ]),
  );

/** What of strobe and threshold is found anew for each mat. */
export const anewOf = ({ options }: StudyPlan<ScaleOptions>): 'both' | 'strobe' | 'nothing' =>
  options.strobe === 'fixed' ? 'nothing' : options.threshold === 'best' ? 'both' : 'strobe';

/** Why a mat does not do: as designed, else at its corners. */
export const reasonOf = ({ nominal, corners }: MatReading): string =>
  nominal.pass && corners && !corners.pass ? `at the corners: ${corners.reason}` : nominal.reason;

/** Margins of the two sides that differ by less, V, are balanced: neither limits alone. */
const BALANCED = 0.5e-3;

/** What limits a mat, in words: the side with the lesser margin, and the cause that leads the greatest ZERO. */
function limitOf({ runs, nominal, corners }: MatReading, seen: number): string {
  const { one, zero, threshold } = corners ?? nominal;
  if (one === null || zero === null) return '';
  const values = runs
    .filter((run) => run.design.selected.bit === 0)
    .map((run) => ({ run, value: Math.abs(valueAt(run.time, run.senseVoltage, seen)) }));
  const { run } = values.reduce((most, each) => (each.value > most.value ? each : most));
  const parts = partsOf(run);
  const sizes = CONTRIBUTIONS.map((name) => ({ name, size: Math.abs(valueAt(run.time, parts[name], seen)) }));
  const leader = sizes.reduce((most, each) => (each.size > most.size ? each : most));
  const led = `the greatest ZERO is led by ${CAUSE_NAMES[leader.name].phrase}`;
  const [above, below] = [one - threshold, threshold - zero];
  if (Math.abs(above - below) < BALANCED) return `ONE and ZERO alike (${led})`;
  return above < below ? 'the least ONE' : `the ZERO (${led})`;
}

/** Greatest size of the half-selected cores' part of the sense voltage during the read, V. */
function halfSelectPeak(run: Simulation): number {
  const { halfSelectedReversible: elastic, halfSelectedIrreversible: rest } = partsOf(run);
  let peak = 0;
  for (let i = 0; i < run.time.length && run.time[i]! < run.design.cycle.readWidth; i++)
    peak = Math.max(peak, Math.abs(elastic[i]! + rest[i]!));
  return peak;
}

function halfSelectAt(run: Simulation, t: number): number {
  const { halfSelectedReversible: elastic, halfSelectedIrreversible: rest } = partsOf(run);
  return valueAt(run.time, elastic, t) + valueAt(run.time, rest, t);
}

function partsOf(run: Simulation): NonNullable<Simulation['contributions']> {
  if (!run.contributions) throw new Error('The run was not split by cause.');
  return run.contributions;
}

/**
 * Peak EMF of one half-selected core on the read edge that comes from its elastic part alone, V: slope of the
 * elastic flux at full half-select drive times the steepest dI/dt. A core whose ONE is pushed toward the knee
 * answers more.
 */
function elasticPeak(design: Design, bit: 0 | 1): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  const perLine = (name: 'x' | 'y'): number => {
    const line = design.drive[name];
    const amplitude = driveLevels(design)[name].read;
    const slope = elasticSlope(p, -amplitude, bit === 1 ? p.remanentFlux : -p.remanentFlux);
    return (slope * amplitude * steepest(line.edge)) / line.rise;
  };
  return Math.max(perLine('x'), perLine('y'));
}
