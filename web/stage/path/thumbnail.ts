import { html, nothing, svg, type TemplateResult } from 'lit-html';
import { wirePath } from '../../../engine/mat/winding.ts';
import type { CoreShares } from '../../../engine/solver/result.ts';
import { decimate, extent, type Samples } from '../../charts/decimate.ts';
import { makeSpaces, type TimeSpan } from '../../charts/spaces.ts';
import type { Run } from '../../model/run.ts';
import type { StrobeState } from '../../model/strobe-state.ts';
import { causesOf, samplesOf } from '../../model/traces.ts';
import type { Part } from '../../state/atoms.ts';
import { keepLast } from '../../ui/last.ts';

const [WIDTH, HEIGHT] = [180, 34];

export interface ThumbnailOptions {
  readonly part: Part;
  readonly run: Run;
  readonly bit: 0 | 1;
  readonly strobe: StrobeState | undefined;
  readonly span: TimeSpan;
  /** What each core gives now; undefined: not known, or not to be shown. */
  readonly shares: CoreShares | undefined;
}

/** What leaves a part of the path over the span shown, as a small line; its figures stand in the lanes. */
export function createThumbnail(): (options: ThumbnailOptions) => TemplateResult | typeof nothing {
  const lines = new Map<Part, (run: Run, bit: 0 | 1, from: number, to: number) => string>();
  const alongWire = keepLast(sharesPath);
  return (options) => {
    const { part, run, bit, span, shares } = options;
    if (part === 'mat' && shares) return view(alongWire(shares, run));
    if (part === 'detector' || part === 'latch') return view(pulsePath(part, options));
    // A line of the run is drawn once, whatever moves beside it.
    if (!lines.has(part))
      lines.set(
        part,
        keepLast((...[of, held, from, to]) => linePath(samplesOf(of, leaving(part, of, held)), { from, to })),
      );
    return view(lines.get(part)!(run, bit, span.from, span.to));
  };
}

function view(d: string | undefined): TemplateResult | typeof nothing {
  if (d === undefined) return nothing;
  return html`<svg
    class="thumbnail"
    viewBox="0 0 ${WIDTH} ${HEIGHT}"
    preserveAspectRatio="none"
    aria-hidden="true"
  >
    ${svg`<path d=${d}></path>`}
  </svg>`;
}

/** What leaves a part before the detector, over the run's time. */
function leaving(part: Exclude<Part, 'detector' | 'latch'>, run: Run, bit: 0 | 1): ArrayLike<number> {
  const read = bit === 1 ? run.one : run.zero;
  switch (part) {
    case 'drivers':
      return read.currents.x;
    case 'mat': {
      const { half, selected } = causesOf(run, bit);
      return half.map((value, i) => value + selected[i]!);
    }
    case 'wire':
      return read.senseVoltage;
    case 'amplifier':
      return read.amplifierOutput;
  }
}

/** Where the detector's output, or the bit that the latch holds, is high; undefined: not known yet. */
function pulsePath(part: 'detector' | 'latch', { bit, strobe, span }: ThumbnailOptions): string | undefined {
  const pulses = bit === 1 ? strobe?.pulses?.one : strobe?.pulses?.zero;
  if (!strobe || !pulses) return undefined;
  const held = pulses.some(({ start, end }) => start <= strobe.time && strobe.time <= end);
  if (part === 'detector') return stepPath(pulses, span);
  return stepPath(held ? [{ start: strobe.time, end: span.to }] : [], span);
}

function linePath(samples: Samples, span: TimeSpan): string {
  const [low, high] = extent(samples, span.from, span.to) ?? [-1, 1];
  const margins = { left: 0, right: 0, top: 2, bottom: 2 };
  const spread = high - low || 1e-12;
  const { x, y } = makeSpaces({ width: WIDTH, height: HEIGHT, margins }, span, { low, high: low + spread });
  const points = decimate(samples, span.from, span.to, WIDTH / 2);
  const out: string[] = [];
  for (let i = 0; i < points.length; i += 2)
    out.push(`${x(points[i]!).toFixed(1)},${y(points[i + 1]!).toFixed(1)}`);
  return `M${out.join('L')}`;
}

function stepPath(
  pulses: readonly { readonly start: number; readonly end: number }[],
  span: TimeSpan,
): string {
  const x = (time: number): number =>
    (WIDTH * (Math.min(Math.max(time, span.from), span.to) - span.from)) / (span.to - span.from);
  const steps = pulses
    .filter(({ start, end }) => end >= span.from && start <= span.to)
    .map(({ start, end }) => {
      const rise = `H${x(start).toFixed(1)}V6H${x(end).toFixed(1)}`;
      // What is still high where the picture ends does not fall there.
      return end < span.to ? `${rise}V${HEIGHT - 4}` : rise;
    });
  return `M0,${HEIGHT - 4}${steps.join('')}H${WIDTH}`;
}

/** What each core gives, as an upright stroke at its place on the wire from end A; of neighbours too close the strongest. */
function sharesPath({ emf }: CoreShares, { design }: Run): string {
  const { order } = wirePath(design);
  const bins = new Float64Array(Math.min(order.length, WIDTH / 2));
  for (let i = 0; i < order.length; i++) {
    const bin = Math.floor((i * bins.length) / order.length);
    const value = emf[order[i]!] ?? 0;
    if (Math.abs(value) > Math.abs(bins[bin]!)) bins[bin] = value;
  }
  const low = Math.min(0, ...bins);
  const spread = Math.max(0, ...bins) - low || 1e-12;
  const y = (volts: number): string => (HEIGHT - 2 - ((HEIGHT - 4) * (volts - low)) / spread).toFixed(1);
  const strokes = Array.from(
    bins,
    (volts, i) => `M${(((i + 0.5) * WIDTH) / bins.length).toFixed(1)},${y(0)}V${y(volts)}`,
  );
  return `M0,${y(0)}H${WIDTH}${strokes.join('')}`;
}
