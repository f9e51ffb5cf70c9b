import { greatestRingSpread } from '../core/geometry.ts';
import { elasticPerFlux } from '../core/model.ts';
import { CORE_PROPERTIES, unitOf } from '../design/schema/core.ts';
import type { BrokenRule } from '../design/design-error.ts';
import type { ReadDesignFile } from '../design/schema/design-schema.ts';
import type { Design } from '../design/design.ts';
import { isShared } from '../mat/winding.ts';
import { warmCurrents } from '../drive/at-temperature.ts';
import { formatQuantity } from '../base/format-quantity.ts';
import type { Unit } from '../base/units.ts';

const show = (value: number, unit: Unit): string => formatQuantity(value, unit, 4);

/** Greatest ampere-turns that a core of the design can see, A: both lines at once, inhibit, and a magnet. */
export function greatestDrive(design: Design): number {
  const { fullRead, fullWrite, inhibit } = warmCurrents(design);
  const magnet = Math.max(0, ...design.exceptions.map((core) => Math.abs(core.bias)));
  return Math.max(fullRead, fullWrite, inhibit) + magnet;
}

/** Limits of the core model (its section on limits) at the design's temperature, and a core that can be threaded. */
export function coreRules(design: Design, file: ReadDesignFile): readonly BrokenRule[] {
  const p = design.core.parameters;
  const broken: BrokenRule[] = [];
  const rule = (holds: boolean, name: string, sentence: string, limit: string): void => {
    if (!holds)
      broken.push({
        path: ['core', 'parameters', name],
        sentence: `core.parameters.${name} ${sentence}`,
        limit,
      });
  };
  if (file.core.preset !== undefined && file.core.handbook !== undefined)
    broken.push({
      path: ['core', 'handbook'],
      sentence: 'core.handbook must stand alone, but core.preset is given too; leave one of them out',
    });
  rule(
    p.coerciveDrive >= 6 * p.staticKneeWidth,
    'staticKneeWidth',
    `must be at most a sixth of coerciveDrive (${show(p.coerciveDrive / 6, 'A')}), but is ${show(p.staticKneeWidth, 'A')}; make the knee sharper`,
    show(p.coerciveDrive / 6, 'A'),
  );
  const bend = -elasticPerFlux(p, greatestDrive(design));
  rule(
    bend < 1,
    'elasticKnee',
    `must be so near elasticSaturated that the EMF of a switching core keeps its sign (b g(F) under the remanent flux), but at ${show(greatestDrive(design), 'A')} it is ${show(bend, '1')} times that flux; bring the two inductances together`,
    'b g(F) < phi_r',
  );
  rule(
    p.elasticKnee >= p.elasticSaturated,
    'elasticKnee',
    `must be at least elasticSaturated (${show(p.elasticSaturated, 'H')}), but is ${show(p.elasticKnee, 'H')}; exchange the two`,
    show(p.elasticSaturated, 'H'),
  );
  rule(
    p.outsideDiameter > p.insideDiameter,
    'outsideDiameter',
    `must be greater than insideDiameter (${show(p.insideDiameter, 'm')}), but is ${show(p.outsideDiameter, 'm')}; exchange the two`,
    show(p.insideDiameter, 'm'),
  );
  const widest = greatestRingSpread(p);
  rule(
    p.ringSpread <= widest,
    'ringSpread',
    `must be at most (OD - ID)/(OD + ID) (${show(widest, '1')}), the spread of the field over this core, but is ${show(p.ringSpread, '1')}; take less, or the diameters of the core it belongs to`,
    show(widest, '1'),
  );
  broken.push(...rangeRules(design));
  const warm = design.temperature - 25;
  for (const name of ['driveTemperatureCoefficient', 'fluxTemperatureCoefficient'] as const) {
    const factor = 1 + p[name] * warm;
    rule(
      factor > 0.05,
      name,
      `must leave more than 5 % at ${show(design.temperature, '°C')}, but ${show(p[name], '1/K')} leaves ${show(100 * factor, '1')} %; choose a smaller coefficient or a temperature nearer 25 °C`,
      '5 %',
    );
  }
  const need = wireBundle(design);
  if (need.diameter > p.insideDiameter)
    broken.push({
      path: ['wire', 'diameter'],
      sentence: `wire.diameter must let ${need.wires} wires through a hole of ${show(p.insideDiameter, 'm')}, at most ${show(p.insideDiameter / need.factor, 'm')} each, but is ${show(design.wire.diameter, 'm')}; take thinner wire or a larger core`,
      limit: show(p.insideDiameter / need.factor, 'm'),
    });
  if (p.outsideDiameter > design.mat.pitch * Math.SQRT2)
    broken.push({
      path: ['mat', 'pitch'],
      sentence: `mat.pitch must be at least outsideDiameter / √2 (${show(p.outsideDiameter / Math.SQRT2, 'm')}), where cores that stand at 45 degrees touch, but is ${show(design.mat.pitch, 'm')}; space the cores wider`,
      limit: show(p.outsideDiameter / Math.SQRT2, 'm'),
    });
  return broken;
}

/** A range holds its value. */
function rangeRules({ core: { parameters, range } }: Design): readonly BrokenRule[] {
  return CORE_PROPERTIES.flatMap((name) => {
    const { low, high } = range[name];
    const value = parameters[name];
    const slack = 1e-9 * Math.abs(value);
    if (low - slack <= value && value <= high + slack) return [];
    const unit = unitOf(name);
    return [
      {
        path: ['core', 'range', name],
        sentence: `core.range.${name} must hold the value ${show(value, unit)}, but is ${show(low, unit)} to ${show(high, unit)}; widen it or mend the value`,
      },
    ];
  });
}

/** Smallest circle round 3 or 4 equal wires: 1 + 2/sqrt(3) and 1 + sqrt(2) diameters (geometry). */
export function wireBundle(design: Design): {
  readonly wires: number;
  readonly factor: number;
  readonly diameter: number;
} {
  const shared = isShared(design.winding);
  const wires = shared ? 3 : 4;
  const factor = shared ? 1 + 2 / Math.sqrt(3) : 1 + Math.SQRT2;
  return { wires, factor, diameter: factor * design.wire.diameter };
}
