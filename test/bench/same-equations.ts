import type { Design } from '../../engine/design/design.ts';
import { pulseValue } from '../../engine/drive/programme.ts';
import { NEIGHBOUR_SHARE, OWN_SHARE } from '../../engine/solver/ladder.ts';
import { chooseSections } from '../../engine/network/sections.ts';
import { prepareRun } from '../../engine/solver/prepare-run.ts';
import { storedBits } from '../../engine/mat/stored-pattern.ts';
import { wirePath } from '../../engine/mat/winding.ts';

/**
 * The coupled ladder with its cores as plain numbers, for integrators that know nothing of this engine: the same
 * sections, classes and drives as a run has, no step, no scheme. Arrays are plain so that the whole is JSON.
 *
 * Unknowns: node voltages v, lagged section currents l (the ferrite's lag: i = l + tau dl/dt), main flux phi of every
 * class. With F = a_x x + a_y y + a_h h + s i + bias at the currents themselves and F' the same at the lagged ones,
 * g = sqrt(F'^2 + F_e^2) - F_e:
 *
 *     C dv/dt = i_(k-1) - i_k - G v + J h
 *     d/dt [L l + air mutual with lagged drives + sum n s lambda] = v_k - v_(k+1) - R i_k,   lambda = phi + a F' - b phi g
 *     dphi/dt = rate(F, phi)                                        (see core/model.ts)
 */
export interface EquationSystem {
  readonly sections: number;
  /** Per section: ohm, H. */
  readonly resistance: readonly number[];
  readonly inductance: readonly number[];
  /** F: diagonal and off-diagonal of the node capacitance. */
  readonly capacitance: readonly number[];
  readonly capacitanceOff: readonly number[];
  /** Per node: S, and factor of the inhibit current that enters. */
  readonly conductance: readonly number[];
  readonly injection: readonly number[];
  /** H per section, to X, Y and a separate inhibit wire. */
  readonly air: readonly (readonly number[])[];
  /** s. */
  readonly lossTime: number;
  readonly classes: Readonly<Record<ClassField, readonly number[]>>;
  /** Corners of the drive currents, straight between: s, A. */
  readonly drive: { readonly time: readonly number[]; readonly currents: readonly (readonly number[])[] };
  /** s. */
  readonly period: number;
  /** s between output samples. */
  readonly output: number;
}

const CLASS_FIELDS = [
  'count',
  'section',
  'polarity',
  'bias',
  'phiR',
  'phiS',
  'coercive',
  'kneeWidth',
  'threshold',
  'softWidth',
  'rho',
  'elasticA',
  'elasticB',
  'bend',
] as const;
const FACTORS = ['factorX', 'factorY', 'factorInhibit'] as const;
type ClassField = (typeof CLASS_FIELDS)[number] | (typeof FACTORS)[number] | 'phi0';

/**
 * The equations of a design's run of one cycle.
 * @throws RangeError for what the plain form does not hold: history, voltage sources, bent edges, coupling
 * capacitance (which would need the second derivative of the linkages), clamps, the decaying part, rings
 */
export function equationsOf(design: Design): EquationSystem {
  const path = wirePath(design);
  const wanted = chooseSections(design, path.order.length);
  const problem = prepareRun(design, path, wanted, storedBits(design), 1, { contributions: false });
  const { sections, classes, cycles } = problem;
  const { programme, factors, coupling } = cycles[0]!;
  const { x, y, inhibit } = design.drive;
  const straight = [x, y, inhibit].every((d) => d.edge.kind === 'linear' && d.overshoot.fraction === 0);
  if (cycles.length > 1 || !straight || x.source.kind === 'voltage' || y.source.kind === 'voltage')
    throw new RangeError('Needs one cycle, current sources and straight edges.');
  if (
    design.wire.couplingCapacitance > 0 ||
    problem.clamp < Infinity ||
    classes.psiM.some((m) => m > 0) ||
    classes.nearness.length > 1
  )
    throw new RangeError('Needs no coupling capacitance, no clamp, no decaying part and no rings.');

  const threaded = Array.from(classes.section.keys()).filter((c) => classes.section[c]! < sections.count);
  const pick = (values: ArrayLike<number>): number[] => threaded.map((c) => values[c]!);
  const capacitance = Array.from({ length: sections.count + 1 }, () => 0);
  for (let k = 0; k < sections.count; k++) {
    capacitance[k]! += sections.capacitance[k]! * OWN_SHARE;
    capacitance[k + 1]! += sections.capacitance[k]! * OWN_SHARE;
  }
  const time = [0, ...programme.jumps, design.cycle.period];
  return {
    sections: sections.count,
    resistance: [...sections.resistance],
    inductance: [...sections.inductance],
    capacitance,
    capacitanceOff: Array.from(sections.capacitance, (c) => c * NEIGHBOUR_SHARE),
    conductance: [...sections.conductance],
    injection: [...sections.injection],
    air: [[...coupling.airX], [...coupling.airY], [...coupling.airInhibit]],
    lossTime: sections.lossTime,
    classes: {
      ...(Object.fromEntries(CLASS_FIELDS.map((field) => [field, pick(classes[field])])) as Record<
        (typeof CLASS_FIELDS)[number],
        number[]
      >),
      phi0: pick(classes.initial.phi),
      factorX: pick(factors.x),
      factorY: pick(factors.y),
      factorInhibit: pick(factors.inhibit),
    },
    drive: {
      time,
      currents: [programme.x, programme.y, programme.inhibit].map((pulses) =>
        time.map((t) => pulseValue(pulses, t)),
      ),
    },
    period: design.cycle.period,
    output: design.numerics.output,
  };
}
