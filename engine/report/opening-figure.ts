import type { StrobeWindow } from '../strobe/window-result.ts';
import { drawChart, label, line, type Spaces } from './chart.ts';
import { INK, STROBE_EDGE, STROBE_TINT, THRESHOLD_EDGE, vertical } from './figure-marks.ts';

/** Region of strobe and threshold in which both hold; empty text where there is none. */
export function openingFigure(window: StrobeWindow): string {
  const { opening, bestPair, inForce } = window;
  if (opening.length < 2) return '';
  const first = opening[0].time * 1e9;
  const last = opening[opening.length - 1].time * 1e9;
  const top = Math.max(...opening.map((o) => o.high * 1e3), inForce.threshold * 1e3);
  const pad = Math.max(5, (last - first) * 0.15);
  const frame = {
    width: 300,
    height: 220,
    x: { quantity: 't', unit: 'ns', low: Math.max(0, first - pad), high: last + pad },
    y: { quantity: 'u', unit: 'mV', low: 0, high: top * 1.15 },
    id: 'opening',
    summary: `Strobes from ${Math.round(first)} to ${Math.round(last)} ns have a threshold that passes.`,
  };
  return drawChart(frame, (s) => [
    ...runsOf(opening).map((run) => region(s, run)),
    line(
      s.left,
      s.toY(inForce.threshold * 1e3),
      s.right,
      s.toY(inForce.threshold * 1e3),
      THRESHOLD_EDGE,
      1,
      '5 3',
    ),
    vertical(s, inForce.time * 1e9, INK, 1.25),
    ...(bestPair
      ? [
          cross(s, bestPair.time, bestPair.threshold),
          label(s.toX(bestPair.time * 1e9) + 8, s.toY(bestPair.threshold * 1e3) - 6, 'best pair', 'start'),
        ]
      : []),
    label(s.right - 3, s.toY(inForce.threshold * 1e3) - 4, 'threshold', 'end', THRESHOLD_EDGE),
    label(s.toX(inForce.time * 1e9) + 4, s.top + 11, 'strobe', 'start'),
  ]);
}

/** Neighbouring samples of the opening; it may be in several pieces. */
function runsOf(opening: StrobeWindow['opening']): StrobeWindow['opening'][] {
  const step = Math.min(...opening.slice(1).map((o, i) => o.time - opening[i].time));
  const runs: { readonly time: number; readonly low: number; readonly high: number }[][] = [[]];
  opening.forEach((o, i) => {
    if (i > 0 && o.time - opening[i - 1].time > 1.5 * step) runs.push([]);
    runs[runs.length - 1].push(o);
  });
  return runs;
}

function region(s: Spaces, run: StrobeWindow['opening']): string {
  const points = [
    ...run.map((o) => [o.time, o.high] as const),
    ...[...run].reverse().map((o) => [o.time, o.low] as const),
  ].map(([t, v]) => `${s.toX(t * 1e9).toFixed(1)},${s.toY(v * 1e3).toFixed(1)}`);
  return `<polygon points="${points.join(' ')}" fill="${STROBE_TINT}" stroke="${STROBE_EDGE}" stroke-width="1.25"/>`;
}

function cross(s: Spaces, time: number, threshold: number): string {
  const [x, y] = [s.toX(time * 1e9), s.toY(threshold * 1e3)];
  return line(x - 5, y, x + 5, y, INK, 1.5) + line(x, y - 5, x, y + 5, INK, 1.5);
}
