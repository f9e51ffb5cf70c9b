import type { Json } from '../../../engine/base/json-patch.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import type { Design } from '../../../engine/design/design.ts';
import type { SimulateOptions, Simulation } from '../../../engine/solver/result.ts';
import type { StudyTools } from '../../../engine/studies/shared/shape.ts';

/**
 * A memory whose answers are known in closed form, so that what a study finds can be checked exactly: at every
 * instant before `LATE` a ONE is `ONE_PER_AMP` times the X drive and a ZERO `ZERO_PER_AMP` times the Y drive, both
 * times the selected core's flux; after it both are nothing.
 */
export const ONE_PER_AMP = 0.1;
export const ZERO_PER_AMP = 0.02;
export const LATE = 300e-9;

function madeUpSimulate(design: Design, options: SimulateOptions = {}): Simulation {
  const { selected, drive, amplifier, cycle, mat } = design;
  const core = selected.row * mat.columns + selected.column;
  const flux = options.spread?.flux[core] ?? 1;
  const level =
    (selected.bit === 1 ? ONE_PER_AMP * drive.x.readAmplitude : ZERO_PER_AMP * drive.y.readAmplitude) * flux;
  const count = Math.round(cycle.period / 1e-9);
  const time = Float64Array.from({ length: count + 1 }, (_, i) => (i * cycle.period) / count);
  const senseVoltage = time.map((t) => (t < LATE ? level : 0));
  const none = (): Float64Array => new Float64Array(time.length);
  return {
    design,
    outcome: { kind: 'done' },
    time,
    senseVoltage,
    commonMode: none(),
    contributions: {
      directCoupling: none(),
      halfSelectedReversible: none(),
      halfSelectedIrreversible: none(),
      selectedCore: senseVoltage,
      inhibit: none(),
    },
    amplifierOutput: senseVoltage.map((u) => u * amplifier.gain * amplifier.divider),
    detectorOutput: new Uint8Array(time.length),
    currents: { x: none(), y: none(), inhibit: none(), sense: none() },
    selected: { flux: none(), state: none(), drive: none() },
    strobe: {
      time: design.strobe.time ?? 0,
      threshold: design.detector.threshold,
      value: level,
      bit: selected.bit,
    },
    energy: { source: 0, resistive: 0, stored: 0, cores: 0, residual: 0, delivered: 0 },
    fluxClosure: 0,
    error: undefined,
    method: { steps: 1, sections: 1, classes: 1, step: 1, loop: 'coupled' },
  };
}

/** Counts its runs. */
export function madeUpTools(): StudyTools & { readonly runs: () => number } {
  let runs = 0;
  return {
    checkDesign,
    simulate(design, options) {
      runs++;
      return madeUpSimulate(design, options);
    },
    runs: () => runs,
  };
}

/** No hysteresis, aperture or jitter, and nothing required: it passes where ONE and ZERO are on their sides. */
export const madeUpDesign: Json = {
  name: 'made up',
  mat: { rows: 4, columns: 4 },
  drive: { x: { readAmplitude: '400 mA' }, y: { readAmplitude: '400 mA' } },
  detector: { threshold: '20 mV', hysteresis: '0 V', uncertainty: '0 V', delay: '0 ns' },
  strobe: { time: '150 ns', aperture: '0 ns', jitter: '0 ns' },
  requirement: { margin: '0 V', width: '0 ns' },
};
