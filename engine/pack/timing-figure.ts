import type { Design } from '../design/design.ts';
import { corners, drawChart, line } from '../report/chart.ts';
import type { Timing, TimingEdge, TimingSignal } from './timing.ts';

interface Row {
  readonly name: string;
  readonly up: readonly TimingSignal[];
  readonly down: readonly TimingSignal[];
}

const ROWS: readonly Row[] = [
  { name: 'X', up: ['x_write'], down: ['x_read', 'disturb'] },
  { name: 'Y', up: ['y_write'], down: ['y_read'] },
  { name: 'inhibit', up: ['inhibit'], down: [] },
  { name: 'strobe', up: ['strobe'], down: [] },
  { name: 'latch', up: ['latch'], down: [] },
];
const INK = '#1C1A17';

/** One cycle as the drivers see it, from the read to a little after its last edge: currents, strobe, latch against ns. */
export function timingFigure(design: Design, timing: Timing): string {
  const last = Math.max(...timing.edges.filter((e) => e.signal !== 'latch').map((e) => e.end));
  const end = Math.min(timing.period, 1.08 * last);
  const base = (i: number): number => (ROWS.length - 1 - i) * 1.5 + 0.75;
  const frame = {
    width: 660,
    height: 250,
    x: { quantity: 't', unit: 'ns', low: 0, high: end * 1e9 },
    y: {
      low: 0,
      high: ROWS.length * 1.5 + 0.2,
      rows: ROWS.map(({ name }, i) => ({ name, at: base(i), colour: INK })),
    },
    id: 'timing',
    summary: `Edges of one cycle of ${design.name}: read, write with inhibit, strobe and latch.`,
  };
  return drawChart(frame, (s) => [
    ...ROWS.map(({ up, down }, i) => {
      const points = [...pulseCorners(timing, up, 0.55), ...pulseCorners(timing, down, -0.55)].sort(
        (a, b) => a.at - b.at,
      );
      const x = [0, ...points.map((p) => p.at * 1e9), end * 1e9];
      const y = [0, ...points.map((p) => p.level), points.at(-1)?.level ?? 0].map((level) => base(i) + level);
      return (
        line(s.left, s.toY(base(i)), s.right, s.toY(base(i)), '#D8D2C4', 0.75) +
        corners(s, x, y, { colour: INK, width: 1.5 })
      );
    }),
    line(s.toX(timing.strobe * 1e9), s.top, s.toX(timing.strobe * 1e9), s.bottom, '#8A3A14', 1, '4 3'),
  ]);
}

function pulseCorners(
  timing: Timing,
  signals: readonly TimingSignal[],
  height: number,
): { at: number; level: number }[] {
  return timing.edges
    .filter((edge) => signals.includes(edge.signal))
    .flatMap(({ edge, start, end }: TimingEdge) =>
      edge === 'on'
        ? [
            { at: start, level: 0 },
            { at: end, level: height },
          ]
        : [
            { at: start, level: height },
            { at: end, level: 0 },
          ],
    );
}
