import { bellSpan, peakTime, switchingTime, type Bell } from './core-closed-forms.ts';
import { atTemperature, elasticPerFlux, peakEmf, saturationFlux, staticFlux } from './core-model.ts';
import type { DesignWarning } from './design-warning.ts';
import type { CoreParameters, Design } from './design.ts';
import { halfTime } from './drive-programme.ts';
import { formatQuantity } from './format-quantity.ts';

/** Long half-selecting may cost a core this part of its flux swing; beyond is over the knee. */
const KNEE_LOSS = 0.1;

/**
 * Ampere-turns at which endless half-selecting costs a core a tenth of its swing, A: the static curve
 * phi_d(F) = phi_r (2/(1 + exp((F_c - F)/w)) - 1) solved for (phi_d + phi_r)/(2 phi_r) = 0.1 (derived).
 */
export function kneeDrive(p: CoreParameters): number {
  return p.coerciveDrive - p.staticKneeWidth * Math.log(1 / KNEE_LOSS - 1);
}

/** Currents at the design's temperature, A. */
export interface WarmCurrents {
  readonly half: number;
  readonly fullRead: number;
  readonly fullWrite: number;
  readonly inhibit: number;
  /** Net drive of the selected core in an inhibited write. */
  readonly inhibited: number;
}

/** What each kind of core sees when drives have followed the temperature. 370 + 370 - 340 mA leaves 400 mA. */
export function warmCurrents(design: Design): WarmCurrents {
  const { x, y, inhibit } = design.drive;
  const warm = design.temperature - 25;
  const tx = 1 + x.temperatureCoefficient * warm;
  const ty = 1 + y.temperatureCoefficient * warm;
  const xs = [x.readAmplitude * tx, x.writeAmplitude * tx];
  const ys = [y.readAmplitude * ty, y.writeAmplitude * ty];
  const level = inhibit.amplitude * (1 + inhibit.temperatureCoefficient * warm);
  return {
    half: Math.max(...xs, ...ys),
    fullRead: xs[0] + ys[0],
    fullWrite: xs[1] + ys[1],
    inhibit: level,
    inhibited: xs[1] + ys[1] - level,
  };
}

/** The bell of a core switched by a step of `drive` from rest, or undefined where the drive does not switch it. */
export function bellAt(p: CoreParameters, drive: number): Bell | undefined {
  const phiR = p.remanentFlux;
  const bell = {
    phiR,
    phiS: saturationFlux(p),
    phiD: staticFlux(phiR, p.coerciveDrive, p.staticKneeWidth, drive),
    vP: peakEmf(p.switchingResistance, p.dynamicThreshold, p.dynamicKneeWidth, drive),
  };
  const switches = drive > p.dynamicThreshold && bell.phiD > 0 && bellSpan(bell) > 0;
  return switches && peakTime(bell) > 0 ? bell : undefined;
}

/** Peak EMF of a ONE under full read, V: v_p less what the elastic part takes (a few per cent). */
export function predictedOne(design: Design): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  const { fullRead } = warmCurrents(design);
  const bell = bellAt(p, fullRead);
  return bell ? bell.vP * (1 + elasticPerFlux(p, fullRead)) : 0;
}

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
    const bell = bellAt(p, full);
    if (!bell) {
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
    const needed = switchingTime(bell);
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
