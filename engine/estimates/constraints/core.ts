import { wireBundle } from '../../check/rules-core.ts';
import { atTemperature } from '../../core/model.ts';
import { stepAnswerAt } from '../../core/step-answer.ts';
import { warmCurrents } from '../../drive/at-temperature.ts';
import { pulseWidth } from '../../drive/pulse-widths.ts';
import { inhibitWire, throughWire } from '../../drive/inhibit-wire.ts';
import { halfTime } from '../../drive/edge.ts';
import type { CoreSize } from '../../core/geometry.ts';
import type { Design } from '../../design/design.ts';
import { kneeDrive } from '../bell.ts';
import { constraint, type Constraint } from './constraint.ts';
import { designEnd } from './ends.ts';

/** What the cores bear: knee, switching, heat, hole. */
export const coreConstraints = (design: Design): readonly Constraint[] => [
  ...kneeConstraints(design),
  ...switchingConstraints(design),
  heatConstraint(design),
  holeConstraint(design),
];

/**
 * Half-selecting without end costs a tenth of the swing at most, at the warm end with drives high, or at the cold end
 * where drives rise faster than cores harden: the worse of the two.
 */
function kneeConstraints(design: Design): readonly Constraint[] {
  const share = throughWire(inhibitWire(design));
  const now = warmCurrents(design);
  const nominalKnee = kneeDrive(atTemperature(design.core.parameters, design.temperature));
  const ends = ([1, -1] as const).map((warm) => {
    const { temperature, core, currents } = designEnd(design, warm, 1);
    return { temperature, knee: kneeDrive(core), currents };
  });
  const worst = (of: (currents: typeof now) => number) => {
    const [hot, cold] = ends.map((end) => ({ ...end, used: of(end.currents) }));
    return hot!.used / hot!.knee >= cold!.used / cold!.knee ? hot! : cold!;
  };
  // The drives move together with the supply, and the inhibit with them.
  const inhibited = (c: typeof now): number => c.fullWrite - share * c.inhibit;
  const facts = (of: (currents: typeof now) => number) => {
    const { temperature, knee, used } = worst(of);
    return { used, knee, told: { nominal: of(now), nominalKnee, temperature } };
  };
  const half = facts((c) => c.half);
  const selected = facts(inhibited);
  const rest = facts((c) => share * c.inhibit);
  return [
    constraint('half-select-over-knee', '/drive/x/readAmplitude', [half.used, half.knee, 'A'], half.told),
    constraint('inhibited-core-over-knee', '/drive/inhibit/amplitude', [selected.used, selected.knee, 'A'], {
      ...selected.told,
      share,
      half: now.half,
    }),
    constraint('inhibit-over-knee', '/drive/inhibit/amplitude', [rest.used, rest.knee, 'A'], rest.told),
  ];
}

/** The core switches to the end at the slow corner: drives low, at the worse end of the temperature. */
function switchingConstraints(design: Design): readonly Constraint[] {
  const { cycle, drive } = design;
  return (['read', 'write'] as const).map((what) => {
    const width = Math.min(pulseWidth(design, 'x', what), pulseWidth(design, 'y', what));
    const ends = ([-1, 1] as const).map((warm) => {
      const { temperature, core, currents } = designEnd(design, warm, -1);
      const full = what === 'read' ? currents.fullRead : currents.fullWrite;
      return { temperature, core, full, needed: stepAnswerAt(core, full)?.switchingTime ?? Infinity };
    });
    const { temperature, core, full, needed } = ends[0]!.needed >= ends[1]!.needed ? ends[0]! : ends[1]!;
    if (needed === Infinity)
      return constraint('no-switching', `/drive/x/${what}Amplitude`, [core.dynamicThreshold, full, 'A'], {
        what,
      });
    // A ramp passes the threshold late, and half of what is left of it counts as full drive.
    const late = (drive.x.rise * (1 + Math.min(1, core.dynamicThreshold / full))) / 2;
    const flat = width + halfTime(drive.x.edge, drive.x.rise) - halfTime(drive.x.edge, drive.x.fall);
    const given = flat - late - Math.abs(cycle.stagger);
    return constraint(
      `${what}-incomplete`,
      `/cycle/${what}Width`,
      [needed, given, 's'],
      { temperature },
      Math.max(given, needed / 10),
    );
  });
}

/** K, where cores drift too far from the mat's temperature (our own choice, no source). */
const WARM_CORE = 20;
/** W/(m² K) at the surface of a core in still air: 0.1 mW/K for one of 20/12/5 mil, a guess; wires carry off more. */
const SURFACE = 171;

/** One address in every cycle: the core is switched and switched back, 2 phi_r each way at full drive (derived). */
function heatConstraint(design: Design): Constraint {
  const { fullRead, fullWrite } = warmCurrents(design);
  const p = atTemperature(design.core.parameters, design.temperature);
  const power = (2 * p.remanentFlux * (fullRead + fullWrite)) / design.cycle.period;
  return constraint('core-heat', '/cycle/period', [power / (SURFACE * surface(p)), WARM_CORE, 'K'], {
    power,
  });
}

/** Surface of a toroid of rectangular section, m². */
const surface = ({ outsideDiameter: D, insideDiameter: d, height }: CoreSize): number =>
  (Math.PI / 2) * (D * D - d * d) + Math.PI * (D + d) * height;

function holeConstraint(design: Design): Constraint {
  const { wires, diameter } = wireBundle(design);
  const { insideDiameter } = design.core.parameters;
  return constraint('hole', '/wire/diameter', [diameter, insideDiameter, 'm'], { wires });
}
