import type { Unit } from '../../../engine/base/units.ts';
import { intervalText } from '../../model/interval-words.ts';
import type { StrobeState } from '../../model/strobe-state.ts';

/** SI values of one input between which every bit is read right. */
export interface Stretch {
  readonly low: number;
  readonly high: number;
}

/** Where an input may stand with all else as it is. `corners` undefined: they are being computed. */
export interface ReadingBand {
  readonly nominal: readonly Stretch[];
  readonly corners: readonly Stretch[] | undefined;
}

const some = (stretch: Stretch | undefined): readonly Stretch[] => (stretch ? [stretch] : []);

/** Strobe and threshold move over the runs at hand. */
export const isOfWindow = (pointer: string): boolean =>
  pointer === '/strobe/time' || pointer === '/detector/threshold';

/** Of strobe and threshold, which need no run: they are the window's own. Undefined for any other input. */
export function bandOf(pointer: string, strobe: StrobeState | undefined): ReadingBand | undefined {
  if (!strobe) return undefined;
  const { corners } = strobe;
  if (pointer === '/strobe/time') {
    const interval = corners?.strobe;
    return {
      nominal: strobe.intervals.map(({ start, end }) => ({ low: start, high: end })),
      corners: corners && some(interval && { low: interval.start, high: interval.end }),
    };
  }
  if (pointer === '/detector/threshold')
    return { nominal: some(strobe.threshold), corners: corners && some(corners.threshold) };
  return undefined;
}

/** "reads at the corners 149.8 to 182.7 ns". */
export function bandWords({ nominal, corners }: ReadingBand, unit: Unit, digits: number): string {
  const ends = ([first]: readonly Stretch[]): string => intervalText(first!.low, first!.high, unit, digits);
  if (corners && corners.length > 0) return `reads at the corners ${ends(corners)}`;
  if (nominal.length === 0) return 'reads nowhere';
  const which = corners ? 'as designed only' : 'as designed';
  return `reads ${which}, ${nominal.length === 1 ? ends(nominal) : `in ${nominal.length} stretches`}`;
}
