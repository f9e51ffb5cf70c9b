import type { Simulation } from '../solver/result.ts';
import type { ByContribution } from '../network/causes.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import { band, corners, drawChart, label, line, rectangle, trace } from './chart.ts';
import type { Axis, Spaces, Stroke } from './chart.ts';
import {
  INK,
  NEUTRAL,
  ONE,
  STROBE_EDGE,
  STROBE_TINT,
  THRESHOLD_EDGE,
  vertical,
  ZERO,
} from './figure-marks.ts';

const toNano = (values: Float64Array): Float64Array => values.map((t) => t * 1e9);
const toMilli = (values: Float64Array): Float64Array => values.map((v) => v * 1e3);

/** What is drawn of the read, s: to a little after it, or after the last strobe that passes. */
function readEnd({ design, time }: Simulation, window: StrobeWindow): number {
  const last = Math.max(window.inForce.time, ...window.intervals.map((i) => i.end));
  const shown = Math.max(1.2 * design.cycle.readWidth, 1.2 * last);
  return Math.min(shown, design.cycle.readWidth + design.cycle.gap, time[time.length - 1]);
}

/** s until all currents and the wire are quiet: the rest of the cycle is left out. */
function activeEnd({ time, senseVoltage, currents }: Simulation): number {
  const limits = [senseVoltage, currents.x, currents.y, currents.inhibit].map(
    (values) => [values, 0.005 * values.reduce((most, v) => Math.max(most, Math.abs(v)), 0)] as const,
  );
  let last = time.length - 1;
  while (last > 1 && limits.every(([values, limit]) => Math.abs(values[last]) <= limit)) last--;
  return Math.min(time[time.length - 1], 1.05 * time[last]);
}

const timeAxis = (high: number): Axis => ({ quantity: 't', unit: 'ns', low: 0, high: high * 1e9 });

/** Least ONE and greatest ZERO over the read, with the strobe window and the threshold. */
export function envelopeFigure(window: StrobeWindow, one: Simulation): string {
  const { time, one: least, oneHigh, zero: greatest, zeroLow } = window.envelope;
  const t = toNano(time);
  const threshold = window.inForce.threshold * 1e3;
  const atStrobe = (window.inForce.threshold + window.margin.one) * 1e3;
  const high = Math.max(2.2 * Math.abs(atStrobe), 3 * threshold, 1);
  const lowest = Math.min(0, ...least.map((v) => v * 1e3));
  const y: Axis = { quantity: 'u', unit: 'mV', low: Math.max(-high / 2, lowest * 1.1), high };
  const frame = {
    width: 660,
    height: 250,
    x: timeAxis(readEnd(one, window)),
    y,
    id: 'envelope',
    summary: `Least ONE and greatest ZERO over the read. At the strobe, ${Math.round(window.inForce.time * 1e9)} ns, the least ONE is ${atStrobe.toFixed(1)} mV and the threshold ${threshold.toFixed(1)} mV.`,
  };
  return drawChart(frame, (s) => [
    ...window.intervals.map((i) =>
      rectangle(s.toX(i.start * 1e9), s.toX(i.end * 1e9), s.top, s.bottom, STROBE_TINT),
    ),
    ...window.intervals.flatMap((i) => [i.start, i.end].map((e) => vertical(s, e * 1e9, STROBE_EDGE, 1))),
    line(s.left, s.toY(threshold), s.right, s.toY(threshold), THRESHOLD_EDGE, 1, '5 3'),
    band(s, t, toMilli(least), toMilli(oneHigh), ONE),
    band(s, t, toMilli(zeroLow), toMilli(greatest), ZERO),
    trace(s, t, toMilli(least), { colour: ONE, width: 2.25, casing: true }),
    trace(s, t, toMilli(greatest), { colour: ZERO, width: 2.25, dash: '7 4' }),
    vertical(s, window.inForce.time * 1e9, INK, 1.25),
    label(s.toX(window.inForce.time * 1e9) + 4, s.top + 11, 'strobe', 'start'),
    label(s.right - 3, s.toY(threshold) - 4, 'threshold', 'end', THRESHOLD_EDGE),
    ...directLabels(s, window),
  ]);
}

/** Squared output of the detector over the read for the least ONE and the greatest ZERO; empty without an envelope. */
export function pulsesFigure(window: StrobeWindow, one: Simulation): string {
  const { pulses, inForce } = window;
  if (pulses === undefined) return '';
  const rows = [
    { name: 'ONE', base: 1.25, of: pulses.one, stroke: { colour: ONE, width: 2.25 } },
    { name: 'ZERO', base: 0.1, of: pulses.zero, stroke: { colour: ZERO, width: 2.25, dash: '7 4' } },
  ];
  const frame = {
    width: 660,
    height: 112,
    x: timeAxis(readEnd(one, window)),
    y: {
      low: 0,
      high: 2.2,
      rows: rows.map(({ name, base, stroke }) => ({ name, at: base, colour: stroke.colour })),
    },
    id: 'pulses',
    summary: `Output of the detector over the read, with the strobe at ${Math.round(inForce.time * 1e9)} ns.`,
  };
  return drawChart(frame, (s) => [
    ...rows.map(({ base, of, stroke }) => {
      const x = [frame.x.low, ...of.flatMap((p) => [p.start, p.start, p.end, p.end].map((t) => t * 1e9))];
      const y = [base, ...of.flatMap(() => [base, base + 0.8, base + 0.8, base])];
      return corners(s, [...x, frame.x.high], [...y, base], stroke);
    }),
    vertical(s, inForce.time * 1e9, INK, 1.25),
  ]);
}

/** Names beside the lines: ONE above its value near the strobe, ZERO below its own. */
function directLabels(s: Spaces, { inForce, margin }: StrobeWindow): string[] {
  const x = s.toX(inForce.time * 1e9) + 6;
  const one = (inForce.threshold + margin.one) * 1e3;
  const zero = (inForce.threshold - margin.zero) * 1e3;
  if (!(one > zero)) return [];
  return [
    label(x, s.toY(one) - 8, 'least ONE', 'start', ONE),
    label(
      x,
      s.toY(zero) + 14 > s.bottom - 3 ? s.toY(zero) - 7 : s.toY(zero) + 14,
      'greatest ZERO',
      'start',
      ZERO,
    ),
  ];
}

const PANELS: readonly {
  readonly title: string;
  readonly of: (c: ByContribution<Float64Array>) => Float64Array;
  readonly stroke: Stroke;
}[] = [
  {
    title: 'Direct coupling',
    of: (c) => c.directCoupling,
    stroke: { colour: '#407060', width: 2, dash: '2 3' },
  },
  {
    title: 'Half-selected cores',
    of: (c) => c.halfSelectedReversible.map((v, i) => v + c.halfSelectedIrreversible[i]),
    stroke: { colour: '#A87000', width: 2, dash: '10 3 2 3' },
  },
  { title: 'Selected core', of: (c) => c.selectedCore, stroke: { colour: '#700050', width: 2 } },
  { title: 'Inhibit', of: (c) => c.inhibit, stroke: { colour: '#7868A0', width: 2, dash: '12 5' } },
];

/** Four panels on one pair of axes, the total thin behind each; sense voltage over the whole cycle. */
export function contributionFigures(run: Simulation): { readonly title: string; readonly svg: string }[] {
  const { contributions, senseVoltage, time } = run;
  if (contributions === undefined) return [];
  const t = toNano(time);
  const total = toMilli(senseVoltage);
  const x = timeAxis(activeEnd(run));
  const y = voltageAxis(
    total,
    PANELS.map((p) => toMilli(p.of(contributions))),
  );
  return PANELS.map(({ title, of, stroke }, i) => {
    const part = toMilli(of(contributions));
    const frame = { width: 320, height: 180, x, y, id: `part${i}`, summary: `${title} over the cycle.` };
    return {
      title,
      svg: drawChart(frame, (s) => [
        trace(s, t, total, { colour: NEUTRAL, width: 0.75 }),
        trace(s, t, part, { ...stroke, casing: stroke.dash === undefined }),
      ]),
    };
  });
}

function voltageAxis(total: Float64Array, parts: readonly Float64Array[]): Axis {
  let low = 0;
  let high = 0;
  for (const trace of [total, ...parts])
    for (const value of trace) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
  const pad = Math.max(0.5, (high - low) * 0.06);
  return { quantity: 'u', unit: 'mV', low: low - pad, high: high + pad };
}

/** Drive currents over the cycle. */
export function currentsFigure(run: Simulation): string {
  const { currents, time } = run;
  const t = toNano(time);
  const [x, y, inhibit] = [currents.x, currents.y, currents.inhibit].map(toMilli);
  const axis = { ...voltageAxis(x, [y, inhibit]), quantity: 'i', unit: 'mA' };
  const frame = {
    width: 660,
    height: 170,
    x: timeAxis(activeEnd(run)),
    y: axis,
    id: 'currents',
    summary: 'Currents of X (solid), Y (dashed) and inhibit (long dashes) over the cycle.',
  };
  return drawChart(frame, (s) => [
    trace(s, t, x, { colour: INK, width: 1.5 }),
    trace(s, t, y, { colour: INK, width: 1.5, dash: '6 3' }),
    trace(s, t, inhibit, { colour: '#7868A0', width: 2, dash: '12 5' }),
  ]);
}
