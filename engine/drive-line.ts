import { pulseValue, type DrivePulse } from './drive-programme.ts';

/** An X or Y line as the time loop sees it. */
export interface LineModel {
  /** H, own inductance of the whole line without cores; it answers with the ferrite's lag like every inductance. */
  readonly inductance: number;
  /** ohm of the line. */
  readonly resistance: number;
  /** ohm behind the source; undefined: a current source, which prescribes the current. */
  readonly sourceResistance: number | undefined;
  /** V that the turn-off clamp puts against the current (voltage source only). */
  readonly clamp: number;
  /** How many times the cores of this mat the line sees (mats in series that are not modelled core by core). */
  readonly scale: number;
}

/**
 * State of a line: current and linkage now and one step before. A voltage source drives while a pulse lasts; then
 * its switch opens and the clamp takes the current down to zero, where the line stays open.
 */
export interface DriveLine {
  readonly model: LineModel;
  current: number;
  old: number;
  /** Predicted, then final current at the end of the step. */
  next: number;
  /** The current as the cores' elastic part sees it, with the ferrite's lag: now, before, end of step. */
  lag: number;
  lagOld: number;
  lagNext: number;
  /** Linkage with cores and air, Wb (own inductance not included). */
  linkage: number;
  linkageOld: number;
  /** V that acts in the step, when the current is solved for. */
  emf: number;
  solved: boolean;
  /** The source drives; else its switch is open and the clamp takes the current down. */
  driven: boolean;
  /** The current is expected to die at the end of this step. */
  dying: boolean;
  /** The current died within the step: the next step starts afresh. */
  broke: boolean;
}

export function makeDriveLine(model: LineModel): DriveLine {
  return {
    model,
    current: 0,
    old: 0,
    next: 0,
    lag: 0,
    lagOld: 0,
    lagNext: 0,
    linkage: 0,
    linkageOld: 0,
    emf: 0,
    solved: false,
    driven: false,
    dying: false,
    broke: false,
  };
}

/** A line at the start of a cycle: no current. */
export function beginLine(line: DriveLine): void {
  line.current = line.old = line.next = line.lag = line.lagOld = line.lagNext = 0;
  line.solved = line.driven = line.dying = line.broke = false;
}

/** Sets `next` and decides whether this step's current is prescribed or solved for. w = h / previous h or 0. */
export function predictLine(
  line: DriveLine,
  pulses: readonly DrivePulse[],
  t0: number,
  t1: number,
  w: number,
): void {
  line.broke = false;
  if (line.model.sourceResistance === undefined) {
    line.next = pulseValue(pulses, t1);
    line.solved = line.driven = false;
    return;
  }
  const middle = (t0 + t1) / 2;
  line.driven = pulses.some((p) => middle > p.on && middle < p.off + p.trailing.duration);
  line.solved = line.driven || line.current !== 0;
  line.emf = line.driven ? pulseValue(pulses, t1) : -Math.sign(line.current) * line.model.clamp;
  line.next = line.solved ? line.current + w * (line.current - line.old) : 0;
}

/** Does the clamp bring the current to zero within the step that ends with `next`? The line then is open. */
export const diesAt = (line: DriveLine, next: number): boolean =>
  line.solved && !line.driven && (line.dying || next * line.current <= 0);

/**
 * The end of a step that was to go from t0 to t1, moved to where the first current that its clamp takes down reaches
 * zero, s: the kink then lies on an instant, as those of the pulses do. hOld = the step before, 0 after a kink.
 */
export function landOnDeath(lines: readonly DriveLine[], t0: number, t1: number, hOld: number): number {
  let end = t1;
  for (const line of lines) line.dying = false;
  for (const line of lines) {
    if (!line.solved || line.driven || line.current === 0 || hOld === 0) continue;
    const zero = t0 + (hOld * line.current) / (line.old - line.current);
    if (!(zero > t0 && zero < end)) continue;
    end = Math.max(zero, t0 + (t1 - t0) / 1000);
    for (const other of lines) other.dying = other === line;
  }
  return end;
}

export function shiftLine(line: DriveLine, linkage: number): void {
  line.lagOld = line.lag;
  line.lag = line.lagNext;
  line.old = line.current;
  line.current = line.next;
  line.linkageOld = line.linkage;
  line.linkage = linkage;
}

/**
 * Voltage along the line from its near to its far end, V: what a voltage source leaves of its EMF, else resistance,
 * own inductance (`rate` of the lagged current, A/s) and `cores`, what this mat's cores induce, V.
 */
export function lineVoltage(line: DriveLine, rate: number, cores: number): number {
  const { inductance, resistance, scale, sourceResistance } = line.model;
  if (line.solved) return line.emf - sourceResistance! * line.next;
  return resistance * line.next + inductance * rate + scale * cores;
}
