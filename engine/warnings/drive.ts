import { supplyCurrent } from '../estimates/build-numbers.ts';
import type { DesignWarning } from './warning.ts';
import type { Design, LineDrive } from '../design/design.ts';
import { driveLevels } from '../drive/at-temperature.ts';
import { halfTime, pulseInstants } from '../drive/programme.ts';
import { formatQuantity } from '../base/format-quantity.ts';
import { lineInductance, steepest } from '../drive/line-voltage.ts';
import { predictedOne } from '../estimates/bell.ts';

/** Pulses that must cover each other, and what the drivers, the supply and the wires have to bear. */
export function driveWarnings(design: Design): readonly DesignWarning[] {
  return [...coverWarnings(design), ...voltageWarnings(design), ...supplyWarnings(design)];
}

function coverWarnings(design: Design): readonly DesignWarning[] {
  const { drive, cycle } = design;
  const { inhibit } = drive;
  const at = pulseInstants(design);
  const warnings: DesignWarning[] = [];
  const full = at.inhibit.on - halfTime(inhibit.edge, inhibit.rise) + inhibit.rise;
  const writeStarts = Math.min(
    ...(['x', 'y'] as const).map((line) => at[line].writeOn - halfTime(drive[line].edge, drive[line].rise)),
  );
  const falls = at.inhibit.off - halfTime(inhibit.edge, inhibit.fall);
  const writeEnds = Math.max(
    ...(['x', 'y'] as const).map(
      (line) => at[line].writeOff - halfTime(drive[line].edge, drive[line].fall) + drive[line].fall,
    ),
  );
  const add = (
    code: DesignWarning['code'],
    field: string,
    value: number,
    message: string,
    remedy: string,
  ): void => {
    if (value > 1e-12) warnings.push({ code, field, message, value, limit: 0, unit: 's', remedy });
  };
  const late = full - writeStarts;
  add(
    'inhibit-late',
    '/drive/inhibit/lead',
    late,
    `The inhibit reaches its full current ${formatQuantity(late, 's')} after the write pulse starts to rise.`,
    `Lengthen the lead by ${formatQuantity(late, 's')}.`,
  );
  const short = writeEnds - falls;
  add(
    'inhibit-short',
    '/drive/inhibit/lag',
    short,
    `The inhibit starts to fall ${formatQuantity(short, 's')} before the write pulse is over.`,
    `Lengthen the lag by ${formatQuantity(short, 's')}.`,
  );
  if (cycle.postWriteDisturb) {
    const over = at.inhibit.off - halfTime(inhibit.edge, inhibit.fall) + inhibit.fall;
    const starts = at.disturb.on - halfTime(drive.x.edge, drive.x.rise);
    const meet = over - starts;
    const levels = driveLevels(design);
    const sum = levels.inhibit + levels.x.read;
    add(
      'disturb-meets-inhibit',
      '/cycle/postWriteGap',
      meet,
      `The post-write disturb starts ${formatQuantity(meet, 's')} before the inhibit is over, and the two add to ${formatQuantity(sum, 'A')} in half-selected cores.`,
      `Lengthen the gap before the disturb by ${formatQuantity(meet, 's')}.`,
    );
  }
  return warnings;
}

function voltageWarnings(design: Design): readonly DesignWarning[] {
  const warnings: DesignWarning[] = [];
  for (const line of ['x', 'y'] as const) {
    const d = design.drive[line];
    const name = line.toUpperCase();
    const inductance = lineInductance(design, line);
    const level = driveLevels(design)[line];
    const current = Math.max(level.read, level.write);
    const edge = (inductance * current * steepest(d.edge)) / d.rise + current * d.resistance;
    const flat = current * d.resistance + design.mat.mats * predictedOne(design);
    const needed = Math.max(edge, flat);
    if (d.source.kind === 'current' && needed > d.compliance)
      warnings.push(
        volts(
          'compliance',
          `/drive/${line}/compliance`,
          needed,
          d.compliance,
          `Line ${name} needs ${formatQuantity(needed, 'V')} on its edge (${formatQuantity(inductance, 'H')} in series), but its driver gives ${formatQuantity(d.compliance, 'V')}, so the current rises more slowly than asked.`,
          'Slow the edge, shorten the line, or give the driver more voltage.',
        ),
      );
    warnings.push(...kickWarning(line, d, (inductance * current * steepest(d.edge)) / d.fall));
    const supplied = d.source.kind === 'voltage' ? d.source.voltage : d.compliance;
    if (supplied > design.supply.voltage)
      warnings.push(
        volts(
          'supply-voltage',
          '/supply/voltage',
          supplied,
          design.supply.voltage,
          `The driver of line ${name} counts on ${formatQuantity(supplied, 'V')}, but the supply has ${formatQuantity(design.supply.voltage, 'V')}.`,
          'Raise the supply voltage or lower what the driver is said to give.',
        ),
      );
  }
  return warnings;
}

function kickWarning(line: 'x' | 'y', drive: LineDrive, kick: number): readonly DesignWarning[] {
  if (kick <= drive.clamp) return [];
  return [
    volts(
      'turn-off-kick',
      `/drive/${line}/clamp`,
      kick,
      drive.clamp,
      `Turning line ${line.toUpperCase()} off in ${formatQuantity(drive.fall, 's')} kicks ${formatQuantity(kick, 'V')}, and the clamp holds ${formatQuantity(drive.clamp, 'V')}, so the current falls more slowly than asked.`,
      'Allow a longer fall time or a higher clamp.',
    ),
  ];
}

function volts(
  code: DesignWarning['code'],
  field: string,
  value: number,
  limit: number,
  message: string,
  remedy: string,
): DesignWarning {
  return { code, field, message, value, limit, unit: 'V', remedy };
}

/** Rise of a fine wire's temperature in still air, K per W/m: 1/(pi Nu k), Nu about 0.45, k = 0.026 W/(m K). From memory. */
const KELVIN_PER_WATT_METRE = 1 / (Math.PI * 0.45 * 0.026);
/** K, where we speak up: enamel bears more, but the cores next to the wire drift. */
const WARM_WIRE = 20;

function supplyWarnings(design: Design): readonly DesignWarning[] {
  const { cycle, drive, supply, wire, mat } = design;
  const warnings: DesignWarning[] = [];
  const drawn = supplyCurrent(design, 1 / cycle.period);
  if (drawn > supply.budget)
    warnings.push({
      code: 'supply-current',
      field: '/supply/budget',
      message: `At one cycle each ${formatQuantity(cycle.period, 's')} with all bits ZERO the supply gives ${formatQuantity(drawn, 'A')}, over its budget of ${formatQuantity(supply.budget, 'A')}.`,
      value: drawn,
      limit: supply.budget,
      unit: 'A',
      remedy: 'Lengthen the period, shorten the pulses, or take a larger supply.',
    });
  const duty = (drive.inhibit.lead + cycle.writeWidth + drive.inhibit.lag) / cycle.period;
  const perMetre = (driveLevels(design).inhibit ** 2 * duty * wire.resistancePerCore) / mat.pitch;
  const warmer = perMetre * KELVIN_PER_WATT_METRE;
  if (warmer > WARM_WIRE)
    warnings.push({
      code: 'wire-heat',
      field: '/wire/resistancePerCore',
      message: `Inhibited in every cycle, the wire takes ${formatQuantity(perMetre, '1', 2)} W for each metre and warms by about ${formatQuantity(warmer, 'K', 2)} in still air, more than ${WARM_WIRE} K.`,
      value: warmer,
      limit: WARM_WIRE,
      unit: 'K',
      remedy: 'Take thicker wire, a lower duty, or move air over the mat.',
    });
  return warnings;
}
