import { driveLevels } from '../../drive/at-temperature.ts';
import { pulseWidth } from '../../drive/pulse-widths.ts';
import { cycleLimits } from '../cycle-limits.ts';
import type { Design } from '../../design/design.ts';
import { inhibitWidth, peakNeeds, supplyCurrent } from '../supply-needs.ts';
import { constraint, type Constraint } from './constraint.ts';

/** Average current, peak and reservoir, and the heat of the wires. */
export const supplyConstraints = (design: Design): readonly Constraint[] => [
  averageConstraint(design),
  peakConstraint(design),
  ...wireHeatConstraints(design),
];

function averageConstraint(design: Design): Constraint {
  const { period } = design.cycle;
  const drawn = supplyCurrent(design, 1 / period);
  const { supply } = cycleLimits(design);
  return constraint('supply-current', '/supply/budget', [drawn, design.supply.budget, 'A'], {
    period,
    shortest: supply,
  });
}

function peakConstraint(design: Design): Constraint {
  const { budget, reservoir } = design.supply;
  const peak = peakNeeds(design);
  if (reservoir === undefined)
    return constraint('supply-peak', '/supply/reservoir', [peak.current, budget, 'A'], {
      reservoir: peak.reservoir,
    });
  return constraint('reservoir', '/supply/reservoir', [peak.reservoir, reservoir, 'F'], {
    peak: peak.current,
  });
}

/** Rise of a fine wire's temperature in still air, K per W/m: 1/(pi Nu k), Nu about 0.45, k = 0.026 W/(m K). From memory. */
const KELVIN_PER_WATT_METRE = 1 / (Math.PI * 0.45 * 0.026);
/** K, where we speak up: enamel bears more, but the cores next to the wire drift. */
const WARM_WIRE = 20;

/** Each wire used in every cycle; all are of one gauge, that of the sense wire (wire.diameter is that of every wire). */
function wireHeatConstraints(design: Design): readonly Constraint[] {
  const { cycle, mat, wire } = design;
  const levels = driveLevels(design);
  const heat = (name: string, square: number): Constraint => {
    const perMetre = ((square / cycle.period) * wire.resistancePerCore) / mat.pitch;
    return constraint(
      'wire-heat',
      '/wire/resistancePerCore',
      [perMetre * KELVIN_PER_WATT_METRE, WARM_WIRE, 'K'],
      {
        line: name,
        perMetre,
      },
    );
  };
  const inhibited = inhibitWidth(design);
  return [
    ...(['x', 'y'] as const).map((line) => {
      const { read, write } = levels[line];
      const reading = read ** 2 * cycle.reads * pulseWidth(design, line, 'read');
      const writing = write ** 2 * cycle.writes * pulseWidth(design, line, 'write');
      return heat(`line ${line.toUpperCase()}`, reading + writing);
    }),
    heat('the wire that carries the inhibit', levels.inhibit ** 2 * inhibited),
  ];
}
