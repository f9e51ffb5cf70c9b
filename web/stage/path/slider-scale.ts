/** How far a slider goes: from half to twice what it stood at when it was opened, or between two values, SI. */
export type SliderReach =
  | { readonly kind: 'ratio' }
  | { readonly kind: 'between'; readonly low: number; readonly high: number; readonly step: number };

export interface SliderScale {
  readonly low: number;
  readonly high: number;
  /** Whole positions from 0 to this. */
  readonly positions: number;
  valueAt(position: number): number;
  /** Not rounded, and beyond the ends where the value is. */
  positionOf(value: number): number;
}

const RATIO_POSITIONS = 200;
/** Significant digits that a slider sets; more can be typed. */
const DIGITS = 3;

/** @param opened SI, what the field held when its card was opened */
export function sliderScale(reach: SliderReach, opened: number): SliderScale {
  if (reach.kind === 'ratio') {
    const [low, high] = [opened / 2, opened * 2];
    return {
      low,
      high,
      positions: RATIO_POSITIONS,
      valueAt: (position) => Number((low * 4 ** (position / RATIO_POSITIONS)).toPrecision(DIGITS)),
      positionOf: (value) =>
        value > 0 ? (RATIO_POSITIONS * Math.log(value / low)) / Math.log(4) : -RATIO_POSITIONS,
    };
  }
  const { step } = reach;
  const low = Math.min(reach.low, opened);
  const high = Math.max(reach.high, opened);
  const positions = Math.max(1, Math.round((high - low) / step));
  const onStep = (value: number): number => Number((Math.round(value / step) * step).toPrecision(12));
  return {
    low,
    high,
    positions,
    valueAt: (position) => onStep(low + (position * (high - low)) / positions),
    positionOf: (value) => (positions * (value - low)) / (high - low),
  };
}
