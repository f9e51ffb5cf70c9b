import { kneeDrive } from '../estimates/bell.ts';
import { stepAnswerAt } from '../core/step-answer.ts';
import { warmCurrents, type WarmCurrents } from '../drive/at-temperature.ts';
import { atTemperature } from '../core/model.ts';
import type { DesignWarning } from './warning.ts';
import type { CoreParameters, Design } from '../design/design.ts';
import { halfTime } from '../drive/programme.ts';
import { formatQuantity } from '../base/format-quantity.ts';

/** Knee and switching. */
export function coreWarnings(design: Design): readonly DesignWarning[] {
  const p = atTemperature(design.core.parameters, design.temperature);
  const now = warmCurrents(design);
  return [...kneeWarnings(p, now), ...switchingWarnings(design, p, now)];
}

function kneeWarnings(p: CoreParameters, now: WarmCurrents): readonly DesignWarning[] {
  const knee = kneeDrive(p);
  const amps = (value: number): string => formatQuantity(value, 'A');
  const over = (
    code: DesignWarning['code'],
    field: string,
    value: number,
    subject: string,
    remedy: string,
  ): readonly DesignWarning[] =>
    value <= knee
      ? []
      : [
          {
            code,
            field,
            message: `${subject} ${amps(value)}, over the knee of the core at ${amps(knee)} (a tenth of its flux lost by long half-selecting).`,
            value,
            limit: knee,
            unit: 'A',
            remedy,
          },
        ];
  return [
    ...over(
      'half-select-over-knee',
      '/drive/x/readAmplitude',
      now.half,
      'A half-selected core sees',
      'Lower the drive, or take a core with a higher coercive drive.',
    ),
    ...over(
      'inhibited-core-over-knee',
      '/drive/inhibit/amplitude',
      now.inhibited,
      `The selected core of an inhibited write sees ${formatQuantity(now.inhibited / now.half, '1')} times half-select,`,
      'Raise the inhibit current toward the half-select current, or lower the write drive.',
    ),
    ...over(
      'inhibit-over-knee',
      '/drive/inhibit/amplitude',
      now.inhibit,
      'Every other core of an inhibited mat sees',
      'Lower the inhibit current.',
    ),
  ];
}

function switchingWarnings(design: Design, p: CoreParameters, now: WarmCurrents): readonly DesignWarning[] {
  const { cycle, drive } = design;
  const warnings: DesignWarning[] = [];
  for (const [what, full, width] of [
    ['read', now.fullRead, cycle.readWidth],
    ['write', now.fullWrite, cycle.writeWidth],
  ] as const) {
    const answer = stepAnswerAt(p, full);
    if (!answer) {
      warnings.push({
        code: 'no-switching',
        field: `/drive/x/${what}Amplitude`,
        message: `Full ${what} drive is ${formatQuantity(full, 'A')}, which does not switch a core whose threshold is ${formatQuantity(p.dynamicThreshold, 'A')}.`,
        value: full,
        limit: p.dynamicThreshold,
        unit: 'A',
        remedy: 'Raise both drives, or take a softer core.',
      });
      continue;
    }
    // A ramp passes the threshold late, and half of what is left of it counts as full drive.
    const late = (drive.x.rise * (1 + Math.min(1, p.dynamicThreshold / full))) / 2;
    const flat = width + halfTime(drive.x.edge, drive.x.rise) - halfTime(drive.x.edge, drive.x.fall);
    const given = flat - late - Math.abs(cycle.stagger);
    const needed = answer.switchingTime;
    if (needed > given)
      warnings.push({
        code: `${what}-incomplete`,
        field: `/cycle/${what}Width`,
        message: `The ${what} pulse leaves ${formatQuantity(given, 's')} at full drive, but the core needs ${formatQuantity(needed, 's')} to switch.`,
        value: given,
        limit: needed,
        unit: 's',
        remedy: 'Widen the pulse, raise the drive, make the edges faster, or reduce the stagger.',
      });
  }
  return warnings;
}
