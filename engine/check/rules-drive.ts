import type { BrokenRule } from '../design/design-error.ts';
import type { ReadDesignFile } from '../design/schema/design-schema.ts';
import type { Design } from '../design/design.ts';
import type { EdgeShape } from '../design/drive.ts';
import { driveFactor } from '../drive/at-temperature.ts';
import { halfTime } from '../drive/edge.ts';
import { cycleProgramme, pulseInstants } from '../drive/programme.ts';
import { pulseWidth } from '../drive/pulse-widths.ts';
import { formatQuantity } from '../base/format-quantity.ts';

/** Most samples, and most steps that a file may ask for, of one cycle. */
export const MOST_SAMPLES = 200_000;
export const MOST_STEPS = 5_000_000;

const time = (value: number): string => formatQuantity(value, 's', 4);

/** A voltage source's current follows from its voltage and resistors, and a current source has no voltage. */
export function sourceRules(design: Design, file: ReadDesignFile): readonly BrokenRule[] {
  const broken: BrokenRule[] = [];
  for (const line of ['x', 'y'] as const) {
    const given = file.drive[line];
    const { source, resistance } = design.drive[line];
    if (source.kind === 'current') {
      for (const name of ['voltage', 'resistance'] as const)
        if (given.source[name] !== undefined)
          broken.push({
            path: ['drive', line, 'source', name],
            sentence: `drive.${line}.source.${name} is read only when drive.${line}.source.kind is "voltage", but that is "current"; leave it out or choose "voltage"`,
          });
      continue;
    }
    const settled = source.voltage / (source.resistance + resistance);
    for (const name of ['readAmplitude', 'writeAmplitude'] as const) {
      const value = given[name];
      if (value !== undefined && Math.abs(value - settled) > 0.005 * settled)
        broken.push({
          path: ['drive', line, name],
          sentence: `drive.${line}.${name} must be what the voltage source settles at, ${formatQuantity(settled, 'A', 4)} (voltage over both resistances), but is ${formatQuantity(value, 'A', 4)}; leave it out or change the source`,
          limit: formatQuantity(settled, 'A', 4),
        });
    }
  }
  return broken;
}

/** Drives that follow the temperature still drive at the design's. */
export function trackingRules(design: Design): readonly BrokenRule[] {
  return (['x', 'y', 'inhibit'] as const).flatMap((line): readonly BrokenRule[] => {
    const coefficient = design.drive[line].temperatureCoefficient;
    const left = driveFactor(coefficient, design.temperature);
    if (left > 0.05) return [];
    return [
      {
        path: ['drive', line, 'temperatureCoefficient'],
        sentence: `drive.${line}.temperatureCoefficient must leave more than 5 % of the current at ${formatQuantity(design.temperature, '°C', 4)}, but ${formatQuantity(coefficient, '1/K', 4)} leaves ${formatQuantity(100 * left, '1', 4)} %; choose a smaller coefficient`,
        limit: '5 %',
      },
    ];
  });
}

/** A table of an edge runs from [0, 0] to [1, 1] with time strictly increasing. */
export function edgeRules(design: Design, file: ReadDesignFile): readonly BrokenRule[] {
  const broken: BrokenRule[] = [];
  for (const line of ['x', 'y', 'inhibit'] as const) {
    const name = `drive.${line}.edge.points`;
    const path = ['drive', line, 'edge', 'points'];
    const given = file.drive[line].edge;
    const { edge } = design.drive[line];
    if (given.kind !== 'table' && given.points !== undefined)
      broken.push({
        path,
        sentence: `${name} is read only when drive.${line}.edge.kind is "table", but that is "${given.kind}"; leave it out or choose "table"`,
      });
    if (edge.kind === 'table') broken.push(...tableRules(path, name, edge));
  }
  return broken;
}

function tableRules(
  path: readonly string[],
  name: string,
  { points }: Extract<EdgeShape, { readonly kind: 'table' }>,
): readonly BrokenRule[] {
  const first = points[0];
  const last = points[points.length - 1];
  if (first[0] !== 0 || first[1] !== 0 || last[0] !== 1 || last[1] !== 1)
    return [
      {
        path,
        sentence: `${name} must run from [0, 0] to [1, 1], but runs from [${first.join(', ')}] to [${last.join(', ')}]; divide times by the edge time and currents by the amplitude`,
      },
    ];
  const back = points.findIndex(([t], i) => i > 0 && t <= points[i - 1][0]);
  if (back < 0) return [];
  return [
    {
      path: [...path, back],
      sentence: `${name} must have increasing times, but entry ${back} is at ${points[back][0]} after ${points[back - 1][0]}; sort the table and leave out doubles`,
    },
  ];
}

/** Edges fit their pulses, and everything ends within the period. */
export function cycleRules(design: Design): readonly BrokenRule[] {
  const { cycle, drive, numerics } = design;
  const broken: BrokenRule[] = [];
  const add = (path: string, sentence: string, limit: string): void => {
    broken.push({ path: path.split('.'), sentence: `${path} ${sentence}`, limit });
  };
  for (const line of ['x', 'y'] as const) {
    const { edge, rise, fall } = drive[line];
    const need = rise - halfTime(edge, rise) + halfTime(edge, fall);
    for (const what of ['read', 'write'] as const) {
      const width = pulseWidth(design, line, what);
      const own = drive[line][`${what}Width`] !== undefined;
      if (drive[line][what] === undefined && width < need)
        add(
          own ? `drive.${line}.${what}Width` : `cycle.${what}Width`,
          `must hold the rise and fall of drive.${line} (at least ${time(need)} between half-amplitude points), but is ${time(width)}; widen the pulse or make the edges faster`,
          time(need),
        );
    }
    const between = fall - halfTime(edge, fall) + halfTime(edge, rise);
    if (cycle.gap < between)
      add(
        'cycle.gap',
        `must hold the end of the read and the start of the write of drive.${line} (at least ${time(between)}), but is ${time(cycle.gap)}; lengthen the gap or make the edges faster`,
        time(between),
      );
  }
  const { inhibit } = drive;
  const at = pulseInstants(design);
  const inhibitWidth = at.inhibit.off - at.inhibit.on;
  const inhibitNeed =
    inhibit.rise - halfTime(inhibit.edge, inhibit.rise) + halfTime(inhibit.edge, inhibit.fall);
  if (inhibitWidth < inhibitNeed)
    add(
      'drive.inhibit.lag',
      `must leave an inhibit pulse that holds its rise and fall (at least ${time(inhibitNeed)}), but with the lead it leaves ${time(inhibitWidth)}; lengthen lead or lag`,
      time(inhibitNeed),
    );
  const inhibitStart = at.inhibit.on - halfTime(inhibit.edge, inhibit.rise);
  const readsEnd = Math.max(
    ...(['x', 'y'] as const).map((line) => at[line].readOff + (cycle.reads - 1) * at[line].readEvery),
  );
  if (inhibitStart < readsEnd)
    add(
      'drive.inhibit.lead',
      `must start the inhibit after the end of read, but ${time(inhibit.lead)} starts it ${time(readsEnd - inhibitStart)} before; shorten the lead or lengthen cycle.gap`,
      time(cycle.gap),
    );
  const end = cycleEnd(design);
  if (end > cycle.period)
    add(
      'cycle.period',
      `must hold read, gap, write, inhibit lag and edges (${time(end)}), but is ${time(cycle.period)}; lengthen it or shorten the pulses`,
      time(end),
    );
  const { time: strobe } = design.strobe;
  if (strobe !== undefined && strobe > cycle.period)
    add(
      'strobe.time',
      `must lie within the period (${time(cycle.period)}), but is ${time(strobe)}; strobe within the read`,
      time(cycle.period),
    );
  const { step } = numerics;
  if (step !== undefined && cycle.period / step > MOST_STEPS)
    add(
      'numerics.step',
      `must give at most ${MOST_STEPS} steps in a period of ${time(cycle.period)}, but ${time(step)} gives ${Math.round(cycle.period / step)}; choose at least ${time(cycle.period / MOST_STEPS)}, or "auto"`,
      time(cycle.period / MOST_STEPS),
    );
  if (cycle.period / numerics.output > MOST_SAMPLES)
    add(
      'numerics.output',
      `must give at most ${MOST_SAMPLES} samples in a period of ${time(cycle.period)}, but ${time(numerics.output)} gives ${Math.round(cycle.period / numerics.output)}; choose at least ${time(cycle.period / MOST_SAMPLES)}`,
      time(cycle.period / MOST_SAMPLES),
    );
  return broken;
}

/** When the last edge of a cycle that inhibits is over, s from the start of the cycle. */
export function cycleEnd(design: Design): number {
  const { selected } = design;
  const full = { ...selected, lines: 'both', read: true, write: 'zero' } as const;
  const { x, y, inhibit } = cycleProgramme(design, full, true);
  return Math.max(...[...x, ...y, ...inhibit].map((pulse) => pulse.off + pulse.trailing.duration));
}
