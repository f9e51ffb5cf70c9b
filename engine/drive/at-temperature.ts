import type { Design } from '../design/design.ts';

/** Currents at the design's temperature, A. */
export interface WarmCurrents {
  readonly half: number;
  readonly fullRead: number;
  readonly fullWrite: number;
  readonly inhibit: number;
  /** Net drive of the selected core in an inhibited write. */
  readonly inhibited: number;
}

/** What each kind of core sees when drives have followed the temperature. 370 + 370 - 340 mA leaves 400 mA. */
export function warmCurrents(design: Design): WarmCurrents {
  const { x, y, inhibit } = design.drive;
  const warm = design.temperature - 25;
  const tx = 1 + x.temperatureCoefficient * warm;
  const ty = 1 + y.temperatureCoefficient * warm;
  const xs = [x.readAmplitude * tx, x.writeAmplitude * tx];
  const ys = [y.readAmplitude * ty, y.writeAmplitude * ty];
  const level = inhibit.amplitude * (1 + inhibit.temperatureCoefficient * warm);
  return {
    half: Math.max(...xs, ...ys),
    fullRead: xs[0] + ys[0],
    fullWrite: xs[1] + ys[1],
    inhibit: level,
    inhibited: xs[1] + ys[1] - level,
  };
}
