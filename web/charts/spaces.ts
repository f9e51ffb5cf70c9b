import { scaleLinear, type ScaleLinear } from 'd3';

/** Margins in px around the plot, where the axes and their labels live. */
export interface Margins {
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly left: number;
}

/** Seconds shown. */
export interface TimeSpan {
  readonly from: number;
  readonly to: number;
}

/** Values shown, SI. */
export interface ValueSpan {
  readonly low: number;
  readonly high: number;
}

/** The two spaces of a chart: SI quantities <-> px from the SVG's top left corner. */
export interface Spaces {
  readonly width: number;
  readonly height: number;
  readonly margins: Margins;
  /** SI quantity across (s on charts over time, A on the core's loop) <-> px from the left. */
  readonly x: ScaleLinear<number, number>;
  /** SI quantity upward <-> px from the top. */
  readonly y: ScaleLinear<number, number>;
}

export function makeSpaces(
  size: { readonly width: number; readonly height: number; readonly margins: Margins },
  time: TimeSpan,
  value: ValueSpan,
): Spaces {
  const { width, height, margins } = size;
  return {
    ...size,
    x: scaleLinear([time.from, time.to], [margins.left, Math.max(margins.left + 1, width - margins.right)]),
    y: scaleLinear(
      [value.low, value.high],
      [Math.max(margins.top + 1, height - margins.bottom), margins.top],
    ),
  };
}

/**
 * A span `factor` times as wide, kept within `limits` and not under `least` wide. `about`: s, what stays where it is;
 * the middle where that is left out or not in view.
 */
export function zoomSpan(
  span: TimeSpan,
  factor: number,
  limits: TimeSpan,
  least: number,
  about?: number,
): TimeSpan {
  const whole = limits.to - limits.from;
  const width = Math.min(Math.max((span.to - span.from) * factor, least), whole);
  const seen = about !== undefined && about >= span.from && about <= span.to;
  const still = seen ? about : (span.from + span.to) / 2;
  const from = still - (width * (still - span.from)) / (span.to - span.from);
  return shiftInto({ from, to: from + width }, limits);
}

/** A span moved by a fraction of its width, kept within `limits`. */
export function panSpan(span: TimeSpan, fraction: number, limits: TimeSpan): TimeSpan {
  const by = (span.to - span.from) * fraction;
  return shiftInto({ from: span.from + by, to: span.to + by }, limits);
}

function shiftInto(span: TimeSpan, limits: TimeSpan): TimeSpan {
  const by = Math.max(0, limits.from - span.from) - Math.max(0, span.to - limits.to);
  return { from: span.from + by, to: span.to + by };
}

/** A span a little wider than [low, high], never empty, with zero included. */
export function paddedSpan(low: number, high: number, padding = 0.06): ValueSpan {
  const a = Math.min(0, low);
  const b = Math.max(0, high);
  const room = (b - a || 1e-3) * padding;
  return { low: a - room, high: b + room };
}
