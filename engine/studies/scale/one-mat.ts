import { applyPatches } from '../../base/json-patch.ts';
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
import { casesOf, fixedStrobe, freeStrobe, readEnvelope, runCases } from '../shared/reading.ts';
import type { Point, PointResult, StudyPlan, StudyTools } from '../shared/shape.ts';

export function oneMat(
  plan: StudyPlan,
  point: Point,
  tools: StudyTools,
): Omit<PointResult, 'index' | 'name'> {
  const strobe = plan.options.strobe === 'fixed' ? fixedStrobe(plan) : freeStrobe;
  const design = tools.checkDesign(applyPatches(plan.design, [...point.patches, ...strobe]));
  const { envelope, runs } = runCases(design, casesOf(plan), tools, true);
  const reading = readEnvelope(design, envelope);
  const zeros = runs.filter((run) => run.design.selected.bit === 0);
  const { mat } = design;
  const cores = (mat.rows * mat.columns) / design.winding.segments;
  const counts = countHalfSelected(polarityOf(mat, design.winding), mat, design.selected);
  const law = halfSelectExtremes(counts, elasticPeak(design, 1), elasticPeak(design, 0));
  const seen = reading.strobe - design.detector.delay;
  return {
    values: {
      winding: design.winding.kind,
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
      width: reading.width,
      strobe: reading.strobe,
      delay: wireDelay(design, cores),
      attenuation: (20 / Math.LN10) * ((cores * senseResistance(design)) / (2 * wireImpedance(design))),
      pass: reading.pass,
      reason: reading.reason,
      largest: null,
    },
  };
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
