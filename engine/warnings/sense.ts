import { predictedOne } from '../estimates/bell.ts';
import { warmCurrents } from '../drive/at-temperature.ts';
import { stepAnswerAt } from '../core/step-answer.ts';
import { atTemperature } from '../core/model.ts';
import type { DesignWarning } from './warning.ts';
import type { Design } from '../design/design.ts';
import { pulseInstants } from '../drive/programme.ts';
import { formatQuantity } from '../base/format-quantity.ts';
import { wireDelay, wireImpedance } from '../network/sections.ts';
import { estimateRecovery, shortestCycle } from '../estimates/recovery.ts';

/** A line that reflects more than this part of a wave, and is long beside the edge, is called mismatched. */
const REFLECTION = 0.33;
/** AC coupling may take this part of a ONE within its own width. */
const SAG = 0.05;

/** Sense wire, amplifier, detector, strobe. */
export function senseWarnings(design: Design): readonly DesignWarning[] {
  return [
    ...recoveryWarning(design),
    ...strobeWarning(design),
    ...oneWarnings(design),
    ...mismatchWarnings(design),
    ...sagWarning(design),
  ];
}

function recoveryWarning(design: Design): readonly DesignWarning[] {
  const needed = shortestCycle(design);
  const { period } = design.cycle;
  if (needed <= period) return [];
  const { start, target, time } = estimateRecovery(design);
  return [
    {
      code: 'recovery',
      field: '/cycle/period',
      message: `The inhibit leaves ${formatQuantity(start, 'V')} that take ${formatQuantity(time, 's')} to fall under ${formatQuantity(target, 'V')}, so a cycle needs ${formatQuantity(needed, 's')}, but the period is ${formatQuantity(period, 's')}.`,
      value: needed,
      limit: period,
      unit: 's',
      remedy: 'Lengthen the period, damp the wire with its terminations, or clamp it.',
    },
  ];
}

function strobeWarning(design: Design): readonly DesignWarning[] {
  const { time } = design.strobe;
  if (time === undefined) return [];
  const at = pulseInstants(design);
  const from = Math.max(at.x.readOn, at.y.readOn);
  const to = Math.min(at.x.readOff, at.y.readOff);
  if (time >= from && time <= to) return [];
  return [
    {
      code: 'strobe-outside-read',
      field: '/strobe/time',
      message: `The strobe at ${formatQuantity(time, 's')} lies outside the read, which lasts from ${formatQuantity(from, 's')} to ${formatQuantity(to, 's')}.`,
      value: time,
      limit: time < from ? from : to,
      unit: 's',
      remedy: 'Strobe while the selected core switches.',
    },
  ];
}

/** Share of a core's EMF that arrives between the amplifier's terminals: terminations against the wire's resistance. */
export function arrivingShare(design: Design): number {
  const { mat, wire, terminations, amplifier, winding } = design;
  const cores = (mat.rows * mat.columns) / winding.segments;
  const ends = [terminations.a, terminations.b].map(
    (r) => 1 / (1 / Math.max(r, 1e-9) + 1 / amplifier.inputResistance),
  );
  const load = ends[0] + ends[1];
  return load / (load + cores * wire.resistancePerCore);
}

function oneWarnings(design: Design): readonly DesignWarning[] {
  const { amplifier, detector } = design;
  const one = predictedOne(design) * arrivingShare(design);
  const warnings: DesignWarning[] = [];
  if (one > 0 && detector.threshold >= one)
    warnings.push({
      code: 'threshold-above-one',
      field: '/detector/threshold',
      message: `The threshold is ${formatQuantity(detector.threshold, 'V')}, but a ONE is predicted to reach ${formatQuantity(one, 'V')} at the amplifier.`,
      value: detector.threshold,
      limit: one,
      unit: 'V',
      remedy: 'Lower the threshold to about half of a ONE, or raise the drive.',
    });
  const limit = Math.min(amplifier.outputLimit / amplifier.gain, amplifier.inputClamp) / amplifier.divider;
  if (one > limit || detector.threshold > limit)
    warnings.push({
      code: 'amplifier-saturates',
      field: '/amplifier/gain',
      message: `The amplifier limits at ${formatQuantity(limit, 'V')} on the sense wire, but ${one > limit ? `a ONE is predicted to reach ${formatQuantity(one, 'V')}` : `the threshold is ${formatQuantity(detector.threshold, 'V')}`}.`,
      value: Math.max(one, detector.threshold),
      limit,
      unit: 'V',
      remedy: 'Lower the gain, or divide the input.',
    });
  return warnings;
}

function mismatchWarnings(design: Design): readonly DesignWarning[] {
  const { mat, winding, terminations, drive, amplifier } = design;
  const cores = (mat.rows * mat.columns) / (winding.kind === 'shared-two-halves' ? 2 : winding.segments);
  const twice = 2 * wireDelay(design, cores);
  if (twice < Math.min(drive.x.rise, drive.y.rise) / 2) return [];
  const impedance = wireImpedance(design);
  return (['a', 'b'] as const).flatMap((end): readonly DesignWarning[] => {
    const load = 1 / (1 / Math.max(terminations[end], 1e-9) + 1 / amplifier.inputResistance);
    const reflection = (load - impedance) / (load + impedance);
    if (Math.abs(reflection) <= REFLECTION) return [];
    return [
      {
        code: 'mismatch',
        field: `/terminations/${end}`,
        message: `End ${end.toUpperCase()} of the wire reflects ${formatQuantity(100 * reflection, '1', 2)} % (${formatQuantity(load, 'ohm')} on a line of ${formatQuantity(impedance, 'ohm')}), and the echo returns after ${formatQuantity(twice, 's')}, not short beside the edges.`,
        value: Math.abs(reflection),
        limit: REFLECTION,
        unit: '1',
        remedy: `Terminate with about ${formatQuantity(impedance, 'ohm', 2)}.`,
      },
    ];
  });
}

function sagWarning(design: Design): readonly DesignWarning[] {
  const p = atTemperature(design.core.parameters, design.temperature);
  const answer = stepAnswerAt(p, warmCurrents(design).fullRead);
  const { highPass } = design.amplifier;
  if (!answer || highPass === 0) return [];
  const sag = -Math.expm1(-2 * Math.PI * highPass * answer.halfWidth);
  if (sag <= SAG) return [];
  return [
    {
      code: 'sag',
      field: '/amplifier/highPass',
      message: `AC coupling at ${formatQuantity(highPass, 'Hz')} lets a ONE of ${formatQuantity(answer.halfWidth, 's')} sag by ${formatQuantity(100 * sag, '1', 2)} %, more than ${100 * SAG} %.`,
      value: sag,
      limit: SAG,
      unit: '1',
      remedy: 'Lower the corner of the AC coupling.',
    },
  ];
}
