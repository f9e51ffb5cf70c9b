import { atTemperature } from '../core/model.ts';
import { isShared } from '../mat/winding.ts';
import type { Design } from '../design/design.ts';

/** The wire that an inhibit driver looks into, per half where there are two. */
export interface InhibitWire {
  /** Wires in parallel on one driver: 2 for two halves. */
  readonly wires: number;
  /** H, its cores counted with their greater slope (all hold a ONE and are pushed toward the knee). */
  readonly inductance: number;
  /** ohm. */
  readonly resistance: number;
  /** ohm of the terminations that lie across it, the joint's counted for both halves; Infinity: none. */
  readonly shunt: number;
  /** Greatest share of the driver's voltage between a driven end and the surroundings. */
  readonly nodeShare: number;
}

/**
 * A shared wire has its terminations across the driver: one run those of both ends in series, a half its end's and
 * twice the joint's. An inhibit wire of its own passes through every core of the mat like the sense wire and has none.
 */
export function inhibitWire(design: Design): InhibitWire {
  const { mat, winding, wire, terminations, amplifier } = design;
  const halves = winding.kind === 'shared-two-halves';
  const shared = isShared(winding);
  const cores = (mat.rows * mat.columns) / (halves ? 2 : shared ? winding.segments : 1);
  const { elasticKnee } = atTemperature(design.core.parameters, design.temperature);
  const end = (ohm: number): number => 1 / (1 / Math.max(ohm, 1e-3) + 1 / amplifier.inputResistance);
  const parts = halves
    ? [(end(terminations.a) + end(terminations.b)) / 2, 2 * terminations.joint]
    : [end(terminations.a), end(terminations.b)];
  const shunt = shared ? parts[0]! + parts[1]! : Infinity;
  return {
    wires: halves ? 2 : 1,
    inductance: cores * (wire.inductancePerCore + elasticKnee),
    resistance: cores * wire.resistancePerCore,
    shunt,
    nodeShare: shunt === Infinity ? 1 : Math.max(...parts) / shunt,
  };
}

/** Share of a standing current that flows through the wire and not through its terminations. */
export const throughWire = ({ resistance, shunt }: InhibitWire): number =>
  shunt === Infinity ? 1 : shunt / (resistance + shunt);

/**
 * V across a wire at the end of a straight rise of `slope` A/s over `time` s from rest:
 * V = R_t (i - i_w) with L di_w/dt + R i_w = V (derived; without terminations L slope + R slope time).
 */
export function riseVoltage(
  { inductance, resistance, shunt }: InhibitWire,
  slope: number,
  time: number,
): number {
  if (shunt === Infinity) return inductance * slope + resistance * slope * time;
  const lag = inductance / (resistance + shunt);
  const within = time + lag * Math.expm1(-time / lag);
  return shunt * slope * (time - (shunt / (resistance + shunt)) * within);
}

/** V across a wire while `current` A stands. */
export const holdVoltage = (wire: InhibitWire, current: number): number =>
  current * wire.resistance * throughWire(wire);
