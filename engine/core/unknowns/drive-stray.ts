import type { CoreParameters, CoreTest } from '../../design/core.ts';

/**
 * How far the peak of a real core strays from this model's between drives: standard deviation of its logarithm for each
 * unit of the logarithm of the ratio of drives. Of the one measured core (core/model.ts) the fits to all its drives have
 * peaks 9 to 12 % too high at 720 mA and 8 to 15 % too low at 600: 22 % over ln(720/600) = 0.18. One slope of one core
 * is all there is, of a sign that another core need not have: taken as the standard deviation of a slope about none.
 */
const STRAY = 1.2;

/**
 * Standard deviation of ln(peak) at a drive (A, ampere-turns) of a core that gives its readings at those of its test; 0
 * at these. Beyond them it grows with the distance from the nearest; between two of them as of a line held at both ends.
 */
export function peakStray({ fullDrive, secondDrive }: CoreTest, drive: number): number {
  const from = (tested: number): number => Math.log(drive / tested);
  const first = from(fullDrive);
  if (secondDrive === undefined) return STRAY * Math.abs(first);
  const second = from(secondDrive);
  const [a, b] = [Math.abs(first), Math.abs(second)];
  return STRAY * (first * second < 0 ? (a * b) / (a + b) : Math.min(a, b));
}

/** The core with a bell that is so many times as high, and as much shorter: its flux stays. */
export const withPeak = (p: CoreParameters, factor: number): CoreParameters => ({
  ...p,
  switchingResistance: p.switchingResistance * factor,
});
