import { atTemperature } from '../../core/model.ts';
import { stepAnswerAt } from '../../core/step-answer.ts';
import { warmCurrents } from '../../drive/at-temperature.ts';
import { halfTime } from '../../drive/edge.ts';
import { pulseInstants } from '../../drive/programme.ts';
import { wireDelay, wireImpedance } from '../../network/sections.ts';
import type { Design } from '../../design/design.ts';
import { predictedOne } from '../bell.ts';
import { cycleLimits } from '../cycle-limits.ts';
import { estimateRecovery } from '../recovery.ts';
import { constraint, type Constraint } from './constraint.ts';

/** A line that reflects more than this part of a wave, and is long beside the edge, is called mismatched. */
const REFLECTION = 0.33;
/** AC coupling may take this part of a ONE within its own width. */
const SAG = 0.05;

/** Sense wire, amplifier, detector, strobe. */
export const senseConstraints = (design: Design): readonly Constraint[] => [
  recoveryConstraint(design),
  ...strobeConstraint(design),
  ...oneConstraints(design),
  ...mismatchConstraints(design),
  ...sagConstraint(design),
];

function recoveryConstraint(design: Design): Constraint {
  const { period, overhead } = design.cycle;
  const { start, target, time } = estimateRecovery(design);
  const facts = { start, target, time, overhead };
  return constraint('recovery', '/cycle/period', [cycleLimits(design).timing, period, 's'], facts);
}

/** The latch hears what came in before the detector's delay: from half of the read's rise until it starts to fall. */
function strobeConstraint(design: Design): readonly Constraint[] {
  const { time } = design.strobe;
  if (time === undefined) return [];
  const { drive, detector } = design;
  const at = pulseInstants(design);
  const fall = (line: 'x' | 'y'): number => at[line].readOff - halfTime(drive[line].edge, drive[line].fall);
  const from = Math.max(at.x.readOn, at.y.readOn) + detector.delay;
  const to = Math.min(fall('x'), fall('y')) + detector.delay;
  const middle = (from + to) / 2;
  const limit = time < middle ? from : to;
  // Distance from the middle of the read, so that early and late count alike.
  const excess = Math.abs(time - middle) / Math.max(1e-12, (to - from) / 2) - 1;
  return [{ ...constraint('strobe-outside-read', '/strobe/time', [time, limit, 's'], { from, to }), excess }];
}

/** Share of a core's EMF that arrives between the amplifier's terminals: terminations against the wire's resistance. */
export function arrivingShare(design: Design): number {
  const { mat, wire, terminations, amplifier, winding } = design;
  const cores = (mat.rows * mat.columns) / winding.segments;
  const ends = [terminations.a, terminations.b].map(
    (r) => 1 / (1 / Math.max(r, 1e-9) + 1 / amplifier.inputResistance),
  );
  const load = ends[0]! + ends[1]!;
  return load / (load + cores * wire.resistancePerCore);
}

function oneConstraints(design: Design): readonly Constraint[] {
  const { amplifier, detector } = design;
  const one = predictedOne(design) * arrivingShare(design);
  const { threshold } = detector;
  const limit = Math.min(amplifier.outputLimit / amplifier.gain, amplifier.inputClamp) / amplifier.divider;
  return [
    ...(one > 0 ? [constraint('threshold-above-one', '/detector/threshold', [threshold, one, 'V'], {})] : []),
    constraint('amplifier-saturates', '/amplifier/gain', [Math.max(one, threshold), limit, 'V'], {
      one,
      threshold,
    }),
  ];
}

function mismatchConstraints(design: Design): readonly Constraint[] {
  const { mat, winding, terminations, drive, amplifier } = design;
  const cores = (mat.rows * mat.columns) / (winding.kind === 'shared-two-halves' ? 2 : winding.segments);
  const echo = 2 * wireDelay(design, cores);
  if (echo < Math.min(drive.x.rise, drive.y.rise) / 2) return [];
  const impedance = wireImpedance(design);
  return (['a', 'b'] as const).map((end) => {
    const load = 1 / (1 / Math.max(terminations[end], 1e-9) + 1 / amplifier.inputResistance);
    const reflection = (load - impedance) / (load + impedance);
    return constraint('mismatch', `/terminations/${end}`, [Math.abs(reflection), REFLECTION, '1'], {
      end: end.toUpperCase(),
      load,
      impedance,
      echo,
    });
  });
}

function sagConstraint(design: Design): readonly Constraint[] {
  const p = atTemperature(design.core.parameters, design.temperature);
  const answer = stepAnswerAt(p, warmCurrents(design).fullRead);
  const { highPass } = design.amplifier;
  if (!answer || highPass === 0) return [];
  const width = answer.halfWidth;
  const sag = -Math.expm1(-2 * Math.PI * highPass * width);
  return [constraint('sag', '/amplifier/highPass', [sag, SAG, '1'], { corner: highPass, width })];
}
