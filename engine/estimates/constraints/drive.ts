import { driveLevels } from '../../drive/at-temperature.ts';
import { inhibitWire } from '../../drive/inhibit-wire.ts';
import { halfTime } from '../../drive/edge.ts';
import { pulseInstants } from '../../drive/programme.ts';
import type { Design } from '../../design/design.ts';
import { driveNeeds, type DriverNeeds } from '../drive-needs.ts';
import { constraint, type Constraint } from './constraint.ts';
import { trackingError } from './ends.ts';

/** Pulses that must cover each other, and what the drivers have to give and to bear. */
export const driveConstraints = (design: Design): readonly Constraint[] => [
  ...coverConstraints(design),
  ...driveNeeds(design).flatMap((needs) => [
    ...voltConstraints(design, needs),
    ...dissipationConstraint(design, needs),
  ]),
  trackingConstraint(design),
];

function coverConstraints(design: Design): readonly Constraint[] {
  const { drive, cycle } = design;
  const { inhibit } = drive;
  const at = pulseInstants(design);
  const lines = ['x', 'y'] as const;
  const full = at.inhibit.on - halfTime(inhibit.edge, inhibit.rise) + inhibit.rise;
  const writeStarts = Math.min(
    ...lines.map((line) => at[line].writeOn - halfTime(drive[line].edge, drive[line].rise)),
  );
  const falls = at.inhibit.off - halfTime(inhibit.edge, inhibit.fall);
  const writeEnds = Math.max(
    ...lines.map(
      (line) => at[line].writeOff - halfTime(drive[line].edge, drive[line].fall) + drive[line].fall,
    ),
  );
  const covers = [
    constraint('inhibit-late', '/drive/inhibit/lead', [late(full - writeStarts), 0, 's'], {}, inhibit.rise),
    constraint('inhibit-short', '/drive/inhibit/lag', [late(writeEnds - falls), 0, 's'], {}, inhibit.fall),
  ];
  if (!cycle.postWriteDisturb) return covers;
  const over = falls + inhibit.fall;
  const starts = at.disturb.on - halfTime(drive.x.edge, drive.x.rise);
  const levels = driveLevels(design);
  return [
    ...covers,
    constraint(
      'disturb-meets-inhibit',
      '/cycle/postWriteGap',
      [late(over - starts), 0, 's'],
      { sum: levels.inhibit + levels.x.read },
      inhibit.fall,
    ),
  ];
}

/** s by which something is late, less than a picosecond being none. */
const late = (time: number): number => (time > 1e-12 ? time : Math.min(0, time));

/** V that driver and supply leave for the line, and what the clamps hold. */
function voltConstraints(design: Design, needs: DriverNeeds): readonly Constraint[] {
  const { supply, tolerances } = design;
  const { line, inductance, onEdge, onTop, kick } = needs;
  const d = design.drive[line];
  const at = `/drive/${line}`;
  const name = line === 'inhibit' ? 'the inhibit' : `line ${line.toUpperCase()}`;
  const spread = line === 'inhibit' ? tolerances.inhibit : tolerances.drive;
  const high = 1 + 2 * spread + tolerances.supply;
  const usable = supply.voltage * (1 - tolerances.supply) - supply.headroom;
  const voltage = 'source' in d && d.source.kind === 'voltage' ? d.source.voltage : undefined;
  const constraints: Constraint[] = [];
  if (voltage === undefined) {
    const available = Math.min(d.compliance, usable);
    const facts = { line: name, inductance, onEdge, onTop, rise: d.rise, available };
    constraints.push(
      constraint(
        line === 'inhibit' ? 'inhibit-volts' : 'line-volts',
        d.compliance <= usable ? `${at}/compliance` : '/supply/voltage',
        [high * needs.needed, Math.max(available, 1e-3), 'V'],
        { ...facts, short: d.compliance <= usable ? 'driver' : 'supply' },
      ),
    );
  }
  const counted = voltage ?? d.compliance;
  constraints.push(
    constraint('supply-voltage', '/supply/voltage', [counted, supply.voltage, 'V'], { line: name }),
  );
  if (line === 'inhibit') {
    const held = d.clamp;
    if (Number.isFinite(held)) {
      const atNode = needs.needed * inhibitWire(design).nodeShare;
      constraints.push(constraint('inhibit-clamp', `${at}/clamp`, [atNode, held, 'V'], {}));
    }
  } else
    constraints.push(
      constraint('turn-off-kick', `${at}/clamp`, [kick, d.clamp, 'V'], { line: name, fall: d.fall }),
    );
  return constraints;
}

function dissipationConstraint(design: Design, { line, power }: DriverNeeds): readonly Constraint[] {
  const bears = design.drive[line].dissipation;
  if (bears === undefined) return [];
  const name = line === 'inhibit' ? 'the inhibit' : `line ${line.toUpperCase()}`;
  const heat = power.driver + power.resistor + power.clamp;
  return [constraint('dissipation', `/drive/${line}/dissipation`, [heat, bears, 'W'], { line: name })];
}

/** What a tracking drive misses must lie within what the design allows its drives anyway, two standard deviations. */
function trackingConstraint(design: Design): Constraint {
  const { tolerances } = design;
  const ends = [-1, 1].map((warm) => design.temperature + warm * tolerances.temperature);
  const errors = ends.flatMap((celsius) =>
    (['x', 'y', 'inhibit'] as const).map((line) => ({
      celsius,
      error: trackingError(design, line, celsius),
    })),
  );
  const worst = errors.reduce((a, b) => (b.error > a.error ? b : a));
  return constraint(
    'tracking',
    '/tolerances/tracking',
    [worst.error, 2 * tolerances.drive, '1'],
    { celsius: worst.celsius },
    Math.max(2 * tolerances.drive, 0.001),
  );
}
