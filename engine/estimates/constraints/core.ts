import { strayAt } from '../../core/unknowns/core-draws.ts';
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
import { softestCore } from '../softest-core.ts';
import { constraint, type Constraint } from './constraint.ts';
import { designEnd } from './ends.ts';

/** What the cores bear, and where they are known: knee, trains without end, switching, drive of their data, heat, hole. */
export const coreConstraints = (design: Design): readonly Constraint[] => [
  ...kneeConstraints(design),
  softestConstraint(design),
  ...switchingConstraints(design),
  untestedConstraint(design),
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

/** The softest core of a stack of parts as they come keeps what it holds through trains without end. */
function softestConstraint(design: Design): Constraint {
  const { one, zero, least, sigmas } = softestCore(design);
  const [bit, kept, field] =
    one < zero
      ? ([1, one, '/drive/x/readAmplitude'] as const)
      : ([0, zero, '/drive/inhibit/amplitude'] as const);
  return constraint('softest-core', field, [least, kept, '1'], { bit, sigmas }, 1);
}

/** A tenth in drive away from where the core was read, its peak strays by this (our own choice; no source). */
const STRAYS = 0.13;

/** Full drive is one at which the data of the core can be trusted; those of one that was given are taken at their word. */
function untestedConstraint(design: Design): Constraint {
  const { core } = design;
  const drive = warmCurrents(design).fullRead;
  const { fullDrive, secondDrive = fullDrive } = core.test;
  const away = (tested: number): number => Math.abs(Math.log(drive / tested));
  const tested = away(secondDrive) < away(fullDrive) ? secondDrive : fullDrive;
  const stray = drive > 0 ? strayAt(core, drive) : 0;
  return constraint('core-untested', '/drive/x/readAmplitude', [stray, STRAYS, '1'], { drive, tested });
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
