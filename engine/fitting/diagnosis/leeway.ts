import type { Design } from '../../design/design.ts';
import { throughPole, valueAt, type Trace } from '../align/trace-tools.ts';
import type { BenchRuns } from '../bench-runs.ts';
import { observedTrace, type Observed } from '../compare.ts';
import { bellOf, departuresOf, reshapeBell } from '../knowledge/discrepancy.ts';
import type { UnknownName } from '../unknown-table.ts';
import { rangeOf, withValues } from '../unknowns.ts';
import { late, lateInhibit, lowDrive, selectedCore } from './fault-changes.ts';
import { resize, soften } from './core-changes.ts';

/**
 * By how much a healthy build may differ from its design, as standard deviations of shares: parts as they come, currents
 * as they are set, and what the model itself is not sure of. An explanation is judged with all of it let go.
 */
const LEEWAY = {
  cores: { softness: 0.02, size: 0.03 },
  selected: { flux: 0.03, threshold: 0.02 },
  drive: 0.015,
  /** s: lines that are switched by parts as they come. */
  late: { y: 1.5e-9, inhibit: 2e-9 },
  /** With a healthy address beside it, which tells what cores of this make are, they may be further off. */
  beside: 4,
  parts: {
    mutualX: 0.15,
    mutualY: 0.15,
    terminationA: 0.02,
    terminationB: 0.02,
    inhibitAmplitude: 0.02,
    coreStaticKnee: 0.3,
    coreElastic: 0.05,
    wireInductance: 0.05,
    wireCapacitance: 0.2,
  },
  /** Over the standard deviations of knowledge/discrepancy.ts. */
  bell: 0.25,
  halfSelected: 0.5,
  /** Hz that an instrument with its probe may pass and be none of the build's doing. */
  instrument: 80e6,
} as const satisfies { parts: Partial<Record<UnknownName, number>> } & Record<string, unknown>;

/** Runs of a healthy design from which its leeway is read, at most. */
export const LEEWAY_RUNS = 10 + Object.keys(LEEWAY.parts).length;

/** What may be added to a prediction, V for one standard deviation. The same code in several captures is one thing. */
export interface Leeway {
  readonly code: string;
  readonly shape: Trace;
}

/** How a capture of a healthy build may differ from what its design predicts. */
export function leewayOf(
  healthy: Design,
  observed: Observed,
  until: number,
  runs: BenchRuns,
  beside = false,
): Leeway[] {
  const run = runs.run(healthy, { contributions: observed === 'sense', until });
  if (run === undefined) return [];
  const now = observedTrace(run, observed);
  const found: Leeway[] = [];
  const add = (code: string, value: Float64Array): void => {
    if (value.some((v) => v !== 0)) found.push({ code, shape: { time: now.time, value } });
  };
  const changed = (code: string, design: Design, times = 1): void => {
    const other = runs.run(design, { until });
    if (other === undefined) return;
    const there = observedTrace(other, observed);
    add(
      code,
      now.value.map((v, i) => times * (valueAt(there, now.time[i]) - v)),
    );
  };
  const { row, column } = healthy.selected;
  const all = beside ? LEEWAY.beside : 1;
  changed('softness', soften(healthy, 1 + LEEWAY.cores.softness), all);
  changed('size', resize(healthy, 1 + LEEWAY.cores.size), all);
  changed('late-y', late(healthy, LEEWAY.late.y));
  changed('late-inhibit', lateInhibit(healthy, LEEWAY.late.inhibit));
  changed(`flux:${row},${column}`, selectedCore(healthy, { fluxFactor: 1 + LEEWAY.selected.flux }));
  changed(
    `threshold:${row},${column}`,
    selectedCore(healthy, { thresholdFactor: 1 + LEEWAY.selected.threshold }),
  );
  for (const line of ['x', 'y'] as const)
    changed(`drive-${line}`, lowDrive(healthy, [line], 1 + LEEWAY.drive));
  for (const [name, share] of Object.entries(LEEWAY.parts) as [UnknownName, number][]) {
    const range = rangeOf(healthy, name);
    if (range === undefined || range.start <= 0) continue;
    changed(name, withValues(healthy, [name], [range.start * (1 + share)]));
  }
  for (const { code, shape } of departuresOf(run))
    if (code !== 'edges')
      add(
        code,
        shape.value.map((v) => LEEWAY.halfSelected * v),
      );
  const slow = throughPole(now, LEEWAY.instrument).value;
  add(
    'instrument',
    now.value.map((v, i) => slow[i] - v),
  );
  const bell = bellOf(run, healthy);
  if (bell !== undefined) {
    add('bell-leans', reshapeBell(bell, LEEWAY.bell, 0));
    add('bell-flat', reshapeBell(bell, 0, LEEWAY.bell));
  }
  return found;
}
