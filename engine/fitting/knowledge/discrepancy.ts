import { atTemperature } from '../../core/model.ts';
import type { Design } from '../../design/design.ts';
import type { Simulation } from '../../solver/result.ts';
import type { Trace } from '../align/trace-tools.ts';

/**
 * How the model itself may be wrong, as shapes that may be added to a prediction, each with a coefficient whose
 * standard deviation is 1 before the captures speak. They say what departs (a bell that leans, cores that are not
 * alike, edges of another form), so that the captures can tell how much of each there is, and intervals stay honest.
 */
export interface Departure {
  /** The same code on several captures is the same departure. */
  readonly code: string;
  readonly shape: Trace;
}

/** Standard deviations assumed: the bell leans, is flatter or more peaked, and so on. */
const LEAN = 0.2;
const FLAT = 0.12;
const HALF_SELECTED_SWITCHING = 0.5;
const HALF_SELECTED_ELASTIC = 0.05;
/** s by which edges may have another form. */
const EDGE = 1.5e-9;

/** The selected core's answer to the read, whose form may differ from the model's bell. */
export interface Bell {
  readonly time: Float64Array;
  /** V on the wire; 0 outside the read. */
  readonly value: Float64Array;
  /** How fast the core is driven, in any unit: the drive beyond its threshold; 0 outside the read. */
  readonly pace: Float64Array;
}

export const LEANS = 'bell-leans';
export const FLAT_TOPPED = 'bell-flat';

/**
 * The bell of a run's selected core: the rate of its flux, in the size that its contribution on the wire has; its
 * elastic answer is no part of it. Undefined where the run was not taken apart, or the core does not switch.
 */
export function bellOf(run: Simulation, { cycle, core, temperature }: Design): Bell | undefined {
  const { contributions, time, selected } = run;
  if (contributions === undefined) return undefined;
  const end = cycle.readWidth + cycle.gap;
  const rate = slope(time, selected.state).map((v, i) => (time[i] <= end ? v : 0));
  let [along, square] = [0, 0];
  rate.forEach((v, i) => {
    along += v * contributions.selectedCore[i];
    square += v * v;
  });
  if (square === 0 || along === 0) return undefined;
  const p = atTemperature(core.parameters, temperature);
  const pace = selected.drive.map((F, i) =>
    time[i] <= end ? Math.max(0, Math.abs(F) - p.dynamicThreshold) : 0,
  );
  return { time, value: rate.map((v) => (along / square) * v), pace };
}

/** Departures other than the bell's form that are read off one run's own contributions. */
export function departuresOf({ contributions, time }: Simulation): Departure[] {
  if (contributions === undefined) return [];
  const { halfSelectedIrreversible, halfSelectedReversible, directCoupling } = contributions;
  const scaled = (value: Float64Array, factor: number): Trace => ({
    time,
    value: value.map((v) => factor * v),
  });
  const elastic = halfSelectedReversible.map((v, i) => v + directCoupling[i]);
  return [
    { code: 'half-select-knee', shape: scaled(halfSelectedIrreversible, HALF_SELECTED_SWITCHING) },
    { code: 'half-select-elastic', shape: scaled(halfSelectedReversible, HALF_SELECTED_ELASTIC) },
    { code: 'edges', shape: scaled(slope(time, elastic), EDGE) },
  ].filter(({ shape }) => shape.value.some((v) => v !== 0));
}

/**
 * What a bell gains where its rate is multiplied by 1 + f(u), u its progress from -1 to 1: at one and the same flux the
 * rate changes, and that flux is reached at another time. Exact where the rate is the pace times a function of flux.
 * @param lean and flat: coefficients in standard deviations of what is thought possible
 */
export function reshapeBell({ time, value, pace }: Bell, lean: number, flat: number): Float64Array {
  const n = time.length;
  const progress = progressOf(time, value);
  if (progress === undefined || (lean === 0 && flat === 0)) return new Float64Array(n);
  const [a, b] = [lean * LEAN, flat * FLAT];
  // Own time of the core: it runs as fast as it is driven.
  const own = new Float64Array(n);
  const moved = new Float64Array(n);
  const perPace = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const u = progress[i];
    const f = Math.max(0.1, 1 + a * u + b * (1 - 3 * u * u));
    if (i > 0) {
      const step = ((pace[i] + pace[i - 1]) / 2) * (time[i] - time[i - 1]);
      own[i] = own[i - 1] + step;
      moved[i] = moved[i - 1] + step / f;
    }
    perPace[i] = pace[i] > 0 ? (value[i] / pace[i]) * f : 0;
  }
  const out = new Float64Array(n);
  for (let i = 0, k = 0; i < n; i++) {
    if (pace[i] === 0) continue;
    while (k < n - 2 && moved[k + 1] < own[i]) k++;
    const span = moved[k + 1] - moved[k];
    const part = span > 0 ? Math.min(1, Math.max(0, (own[i] - moved[k]) / span)) : 0;
    out[i] = pace[i] * (perPace[k] + part * (perPace[k + 1] - perPace[k])) - value[i];
  }
  return out;
}

/** How far a bell has come, from -1 to 1; undefined where there is none. */
function progressOf(time: Float64Array, value: Float64Array): Float64Array | undefined {
  const area = new Float64Array(value.length);
  for (let i = 1; i < value.length; i++)
    area[i] = area[i - 1] + 0.5 * (value[i] + value[i - 1]) * (time[i] - time[i - 1]);
  const whole = area[area.length - 1];
  if (whole === 0) return undefined;
  return area.map((v) => Math.min(1, Math.max(-1, (2 * v) / whole - 1)));
}

function slope(time: Float64Array, value: Float64Array): Float64Array {
  return value.map((_, i) => {
    const [a, b] = [Math.max(0, i - 1), Math.min(value.length - 1, i + 1)];
    return b > a ? (value[b] - value[a]) / (time[b] - time[a]) : 0;
  });
}
