import { checkDesign } from '../../../engine/check/check-design.ts';
import { atTemperature } from '../../../engine/core/model.ts';
import type { Design } from '../../../engine/design/design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import type { Answer, Ask, Figure, StepLoop, StepResult, StepTrace } from '../step.ts';

/** A board of sixteen cores; every step changes one thing about it. Invented. */
export const board: RawDesign = {
  name: 'Learning board',
  note: 'Invented: a small mat for the lessons.',
  core: { preset: 'ferrite-30-mil' },
  mat: { rows: 4, columns: 4, pitch: '3 mm' },
  winding: { kind: 'shared-one-run' },
  stored: { kind: 'zeros' },
  selected: { row: 1, column: 2, bit: 1 },
  cycle: { period: '4 us', readWidth: '800 ns', gap: '400 ns', writeWidth: '800 ns' },
};

/** One core of it alone. */
export const single: RawDesign = withValueAt(
  withValueAt(board, '/mat', { rows: 1, columns: 1, pitch: '3 mm' }),
  '/selected',
  { row: 0, column: 0, bit: 1 },
);

/** The board with n × n cores. */
export const grow = (n: number): RawDesign =>
  withValueAt(board, '/mat', { rows: n, columns: n, pitch: '3 mm' });

/** The board with a drive of both lines, mA. */
export const driven = (milliamperes: number): RawDesign => {
  const line = { readAmplitude: `${milliamperes} mA`, writeAmplitude: `${milliamperes} mA` };
  return withValueAt(board, '/drive', { x: line, y: line });
};

const figure =
  (unit: Figure['unit'], digits: number) =>
  (value: number): Figure => ({ value, unit, digits });
export const volts = figure('V', 3);
export const weber = figure('Wb', 3);
export const seconds = figure('s', 3);
export const amperes = figure('A', 2);
export const celsius = figure('°C', 3);
/** Of a part of one. */
export const percent = figure('%', 2);
export const ratio = figure('1', 2);
export const count = figure('1', 6);

/** A line of an answer under the key of its name. */
export const tell = (name: string, ...figures: Figure[]): Answer => ({ name, figures });
/** The same of two figures with a word between. */
export const tellPair = (name: string, joined: Answer['joined'], ...figures: [Figure, Figure]): Answer => ({
  name,
  figures,
  joined,
});

/** Least ONE and greatest ZERO of a judged mat. */
export const bothBits = ({ envelope: { time, one, zero } }: Pick<StrobeWindow, 'envelope'>): StepTrace[] => [
  { label: 'one', style: 'one', time, values: one },
  { label: 'zero', style: 'zero', time, values: zero },
];

export const choose = (...choices: string[]): Ask => ({ kind: 'choose', choices });

export const runOf = (raw: RawDesign, change: (design: Design) => Design = (design) => design): Simulation =>
  simulate(change(checkDesign(raw)), { estimateError: false });

export const withBit =
  (bit: 0 | 1) =>
  (design: Design): Design => ({ ...design, selected: { ...design.selected, bit } });

/** Within the read, after its first edge has died away. */
export const AFTER_EDGE = 120e-9;

/** The sample of greatest size within [from, to], s. */
export function extremeIn(
  run: Simulation,
  values: Float64Array,
  from: number,
  to: number,
): { readonly time: number; readonly value: number } {
  let at = 0;
  let most = -1;
  run.time.forEach((t, i) => {
    if (t < from || t > to || Math.abs(values[i]!) <= most) return;
    most = Math.abs(values[i]!);
    at = i;
  });
  return { time: run.time[at]!, value: values[at]! };
}

/** Greatest size within [from, to], V. */
export const peakIn = (run: Simulation, values: Float64Array, from: number, to: number): number =>
  Math.abs(extremeIn(run, values, from, to).value);

/** The selected core's bell of a read. */
export const bellOf = (run: Simulation): { readonly time: number; readonly value: number } =>
  extremeIn(run, run.contributions!.selectedCore, AFTER_EDGE, run.design.cycle.readWidth * 0.9);

/** The selected core's bells of a read under three conditions, and where each has its peak. */
export function compareBells(
  runs: readonly Simulation[],
  conditions: readonly Figure[],
): Pick<StepResult, 'traces' | 'quantity' | 'span' | 'answers'> {
  const styles = ['half', 'one', 'selected'] as const;
  return {
    traces: runs.map((run, k) => trace(run, run.contributions!.selectedCore, styles[k]!, conditions[k]!)),
    quantity: VOLTAGE,
    span: [0, 600e-9],
    answers: runs.map((run, k) => ({
      ...tellPair('bell', 'at', volts(bellOf(run).value), seconds(bellOf(run).time)),
      of: conditions[k]!,
    })),
  };
}

/** s: bells whose peaks lie nearer than this come at the same time. */
const SAME_TIME = 5e-9;

/** Does the second bell come earlier (0), at the same time (1) or later (2) than the first? */
export function orderOfBells(first: Simulation, second: Simulation): 0 | 1 | 2 {
  const moved = bellOf(second).time - bellOf(first).time;
  return moved < -SAME_TIME ? 0 : moved > SAME_TIME ? 2 : 1;
}

/** What the half-selected cores give, elastic and lasting, V. */
export function halfSelectedOf({ contributions }: Simulation): Float64Array {
  const { halfSelectedReversible, halfSelectedIrreversible } = contributions!;
  return halfSelectedReversible.map((value, i) => value + halfSelectedIrreversible[i]!);
}

export const trace = (
  run: Simulation,
  values: Float64Array,
  style: StepTrace['style'],
  label: StepTrace['label'],
): StepTrace => ({ label, style, time: run.time, values });

export function loopOf({ design, selected: { drive, state } }: Simulation): StepLoop {
  return { core: atTemperature(design.core.parameters, design.temperature), drive, state };
}

export const readSpan = (run: Simulation): readonly [number, number] => [0, run.design.cycle.readWidth * 1.3];
export const VOLTAGE = { symbol: 'u', unit: 'V' };
export const FLUX = { symbol: 'φ', unit: 'Wb' };

/** The choice whose limit the value first stays under: limits rise, and one more choice than limits. */
export const choiceOf = (value: number, limits: readonly number[]): number => {
  const found = limits.findIndex((limit) => value < limit);
  return found < 0 ? limits.length : found;
};
