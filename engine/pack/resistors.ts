import type { Design } from '../design/design.ts';
import { driveLevels } from '../drive/at-temperature.ts';
import { driveNeeds } from '../estimates/drive-needs.ts';
import { isShared } from '../mat/winding.ts';
import { lineResistance } from '../mat/wire-at-temperature.ts';
import { nearestE96, q, rated, watts } from './part-values.ts';
import type { Part } from './part.ts';

export function resistors(design: Design): Part[] {
  const { drive, mat, terminations, cycle, winding } = design;
  const duty = (cycle.readWidth + cycle.writeWidth) / cycle.period;
  const parts: Part[] = (['x', 'y'] as const).flatMap((line): Part[] => {
    const count = line === 'x' ? mat.rows : mat.columns;
    const levels = driveLevels(design)[line];
    const ohms = seriesOhms(design, line);
    if (!(ohms > 0)) return [];
    const taken = Math.max(levels.read, levels.write) ** 2 * ohms * duty;
    const set =
      drive[line].source.kind === 'voltage'
        ? 'sets the current'
        : `sets the current from ${q(design.supply.voltage, 'V')} if the driver is a switch; not needed with a true current source`;
    return [
      {
        group: 'resistors',
        what: `series resistors of ${line.toUpperCase()}`,
        count,
        value: `${q(nearestE96(ohms), 'ohm')}, 1 %, ${rated(taken)}`,
        note: `${watts(taken)} if one address is cycled for ever; ${set}`,
      },
    ];
  });
  const end = terminationLoad(design);
  const ends = [
    ['A', terminations.a],
    ['B', terminations.b],
    ...(winding.kind === 'shared-two-halves' ? [['joint', terminations.joint] as const] : []),
  ] as const;
  for (const [name, ohms] of ends)
    if (Number.isFinite(ohms) && ohms > 0)
      parts.push({
        group: 'resistors',
        what: `termination ${name}`,
        count: mat.mats * (winding.kind === 'shared-two-halves' ? 1 : winding.segments),
        value: `${q(nearestE96(ohms), 'ohm')}, 1 %, ${rated(end ** 2 / ohms)}, no inductance`,
        note: `${watts(end ** 2 / ohms)} on average with every write inhibited; both ends alike to 1 %, or common voltage turns into signal`,
      });
  return parts;
}

/** ohm between supply and line that leave the design's read current when all is settled. */
function seriesOhms(design: Design, line: 'x' | 'y'): number {
  const { source } = design.drive[line];
  if (source.kind === 'voltage') return source.resistance;
  return design.supply.voltage / driveLevels(design)[line].read - lineResistance(design, line);
}

/** V rms at one end of a shared wire over a cycle with an inhibited write: half of both edges, half of the drop between. */
function terminationLoad(design: Design): number {
  const { drive, cycle, winding } = design;
  const needs = driveNeeds(design).find(({ line }) => line === 'inhibit');
  if (!isShared(winding) || needs === undefined) return 0;
  const limit = Math.min(drive.inhibit.clamp, needs.onEdge / 2);
  const edges = drive.inhibit.rise + drive.inhibit.fall;
  const width = drive.inhibit.lead + cycle.writeWidth + drive.inhibit.lag;
  return Math.sqrt((limit ** 2 * edges + (needs.onTop / 2) ** 2 * width) / cycle.period);
}
