import type { Comparison } from './comparison.ts';

const mV = (v: number): string => `${Number((v * 1e3).toPrecision(2))} mV`;

/** How well a capture fits, in one sentence. Voltages in V: of the difference, of the noise, of the greatest prediction. */
export function comparisonSentence(
  { verdict, rms, noise }: Pick<Comparison, 'verdict' | 'rms' | 'noise'>,
  peak: number,
): string {
  const head = `The difference is ${mV(rms)} rms, the capture's own noise ${mV(noise)}, the greatest prediction ${mV(peak)}`;
  if (verdict === 'noise alone') return `${head}: noise alone explains it.`;
  return verdict === 'close'
    ? `${head}: close, but more than noise.`
    : `${head}: the prediction does not fit.`;
}
