import { memory, type Difference } from './difference.ts';
import { pulseValue, type DrivePulse } from '../drive/programme.ts';

/** An X or Y line as the time loop sees it. */
export interface LineModel {
  /** H, own inductance of the whole line without cores; it answers with the ferrite's lag like every inductance. */
  readonly inductance: number;
  /** ohm of the line. */
  readonly resistance: number;
  /** ohm behind the source; undefined: a current source, which prescribes the current. */
  readonly sourceResistance: number | undefined;
  /** V that the turn-off clamp puts against the current. */
  readonly clamp: number;
  /** V, the most that a current source gives to bring its current to the programme's; Infinity: whatever it takes. */
  readonly compliance: number;
  /** How many times the cores of this mat the line sees (mats in series that are not modelled core by core). */
  readonly scale: number;
}

/**
 * State of a line: current and linkage now and one step before. A voltage source drives while a pulse lasts; then
 * its switch opens and the clamp takes the current down to zero, where the line stays open. A current source
 * prescribes its current until that would need more than its compliance (or, against the current, its clamp): then
 * it gives that voltage, and the current follows from the line, until it has caught up with the programme.
 */
export interface DriveLine {
  readonly model: LineModel;
  /** What its driver does in the cycle, A (V behind a voltage source). */
  pulses: readonly DrivePulse[];
  current: number;
  old: number;
  /** Predicted, then final current at the end of the step. */
  next: number;
  /** The current as the cores' elastic part sees it, with the ferrite's lag: now, before, end of step. */
  lag: number;
  lagPast: number;
  lagNext: number;
  /** Linkage with cores and air, Wb (own inductance not included). */
  linkage: number;
  linkagePast: number;
  /** V that acts in the step, when the current is solved for. */
  emf: number;
  solved: boolean;
  /** The source drives; else its switch is open and the clamp takes the current down. */
  driven: boolean;
  /** Direction in which a current source at its limit pulls the current, +1 or -1; 0: it is not at its limit. */
  pull: number;
  /** The current is expected to die, or to catch up with the programme, at the end of this step. */
  landing: boolean;
  /** It did so within the step. */
  landed: boolean;
  /** It dies at the very start of this step: the line is open throughout. */
  opens: boolean;
  /** A: what it would be at the end of the step had it not. */
  free: number;
  /** How often in the cycle it may still land on an instant of its own, after which steps start afresh. */
  landings: number;
}

export function makeDriveLine(model: LineModel): DriveLine {
  return {
    model,
    pulses: [],
    current: 0,
    old: 0,
    next: 0,
    lag: 0,
    lagPast: 0,
    lagNext: 0,
    linkage: 0,
    linkagePast: 0,
    emf: 0,
    solved: false,
    driven: false,
    pull: 0,
    landing: false,
    landed: false,
    opens: false,
    free: 0,
    landings: 0,
  };
}

/**
 * Most kinks of a line's current in a cycle that no pulse announces: behind a voltage source it dies once a pulse; a
 * current source may reach its limit more than once as cores switch, but not for ever (grids stay bounded).
 */
export function maxLandings({ sourceResistance, compliance }: LineModel, pulses: number): number {
  if (sourceResistance !== undefined) return pulses;
  return compliance === Infinity ? 0 : 6 * pulses;
}

/** A line at the start of a cycle: no current. */
export function beginLine(line: DriveLine, pulses: readonly DrivePulse[]): void {
  line.pulses = pulses;
  line.current = line.old = line.next = line.lag = line.lagPast = line.lagNext = line.pull = 0;
  line.solved = line.driven = line.landing = line.landed = false;
  line.landings = maxLandings(line.model, pulses.length);
}

/** Sets `next` and decides whether this step's current is prescribed or solved for. w = h / previous h or 0. */
export function predictLine(line: DriveLine, t0: number, t1: number, w: number): void {
  const { model, pulses, current } = line;
  line.landed = false;
  if (line.opens) {
    line.solved = line.driven = false;
    line.next = 0;
    return;
  }
  if (model.sourceResistance === undefined) {
    line.solved = line.driven = line.pull !== 0;
    line.next = line.solved ? current + w * (current - line.old) : pulseValue(pulses, t1);
    if (line.solved) line.emf = limitOf(line);
    return;
  }
  const middle = (t0 + t1) / 2;
  line.driven = pulses.some((p) => middle > p.on && middle < p.off + p.trailing.duration);
  line.solved = line.driven || current !== 0;
  line.emf = line.driven ? pulseValue(pulses, t1) : -Math.sign(current) * model.clamp;
  line.next = line.solved ? current + w * (current - line.old) : 0;
}

/** Signed V of a current source at its limit: the compliance drives a current up, the clamp takes it down. */
function limitOf({ model, current, pull }: DriveLine): number {
  return pull * (current * pull < 0 ? model.clamp : model.compliance);
}

/**
 * Turns a prescribed current into one that is solved for where it needs more than the source gives.
 * @param needed V along the line at the prescribed current @returns V that acts: `needed`, or the limit
 */
export function limitLine(line: DriveLine, needed: number): number {
  const { model, current, next } = line;
  // A line without current, and without a pulse, is open: whatever its cores induce drives nothing.
  if (line.solved || model.compliance === Infinity || (current === 0 && next === 0)) return needed;
  line.pull = Math.sign(needed);
  const limit = limitOf(line);
  if (Math.abs(needed) <= Math.abs(limit)) {
    line.pull = 0;
    return needed;
  }
  line.solved = line.driven = true;
  line.emf = limit;
  return limit;
}

/**
 * Where a current that is solved for stops being so: at zero when the clamp takes it down, at the programme's when a
 * source at its limit has caught up. Undefined: it goes on beyond `next`, the current at t1.
 */
export function landsAt(line: DriveLine, next: number, t1: number): number | undefined {
  if (!line.solved) return undefined;
  if (line.pull !== 0) {
    const programme = pulseValue(line.pulses, t1);
    return line.landing || (programme - next) * line.pull <= 0 ? programme : undefined;
  }
  return !line.driven && (line.landing || next * line.current <= 0) ? 0 : undefined;
}

/** A by which a current at time t, s, is off where it lands. */
export const offLanding = (line: DriveLine, current: number, t: number): number =>
  current - (line.pull !== 0 ? pulseValue(line.pulses, t) : 0);

/**
 * The end of a step that was to go from t0 to t1, moved to where the first current lands (landsAt), by a straight
 * line through its last two values: the kink then lies on an instant, as those of the pulses do.
 * hOld = the step before, 0 after a kink.
 */
export function landOnKink(lines: readonly DriveLine[], t0: number, t1: number, hOld: number): number {
  let end = t1;
  for (const line of lines) line.landing = false;
  for (const line of lines) {
    if (hOld === 0 || !line.solved || line.landings <= 0) continue;
    const zero = landing(line, t0, t1, hOld);
    if (!(zero > t0 && zero < end)) continue;
    end = Math.max(zero, t0 + (t1 - t0) / 1000);
    for (const other of lines) other.landing = other === line;
  }
  return end;
}

/** When the current lands, s; NaN or an instant outside the step: not in this step. */
function landing(line: DriveLine, t0: number, t1: number, hOld: number): number {
  const { current, old, pulses, pull } = line;
  const rate = (current - old) / hOld;
  if (pull === 0) return line.driven ? NaN : t0 - current / rate;
  const gap = pulseValue(pulses, t0) - current;
  const left = pulseValue(pulses, t1) - current - rate * (t1 - t0);
  return left * pull > 0 ? NaN : t0 + ((t1 - t0) * gap) / (gap - left);
}

/** End of step becomes now. @returns whether the current's slope jumps here, so that steps start afresh */
export function shiftLine(line: DriveLine, linkage: number, d: Difference): boolean {
  line.lagPast = memory(d, line.lagNext, line.lag, line.lagPast);
  line.lag = line.lagNext;
  line.old = line.opens ? line.next : line.current;
  line.current = line.next;
  line.opens = false;
  line.linkagePast = memory(d, linkage, line.linkage, line.linkagePast);
  line.linkage = linkage;
  if (!line.landed) return false;
  line.pull = 0;
  return line.landings-- > 0;
}

/**
 * Voltage along the line from its near to its far end, V: what a voltage source leaves of its EMF, else resistance,
 * own inductance (`rate` of the lagged current, A/s) and `cores`, what this mat's cores induce, V.
 */
export function lineVoltage(line: DriveLine, rate: number, cores: number): number {
  const { inductance, resistance, scale, sourceResistance } = line.model;
  if (line.solved) return line.emf - (sourceResistance ?? 0) * line.next;
  return resistance * line.next + inductance * rate + scale * cores;
}
