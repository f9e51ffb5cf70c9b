import type { Finding } from './judgement.ts';
import { volts, type Signal } from './signal.ts';

export function offset({ rest, restError, least, greatest }: Signal): Finding | undefined {
  if (Math.abs(rest) < Math.max(4 * restError, 0.02 * (greatest - least))) return undefined;
  return {
    code: 'offset',
    weight: 'note',
    belief: `It rests at ${volts(rest)} instead of 0 V.`,
    evidence: 'That is the middle of its first samples, before anything happens.',
    remedy:
      'Each capture has an offset of its own in every comparison and fit. If it differs from capture to capture it is hum of the mains, which stands still over so short a record: average many reads.',
    size: rest,
  };
}

/** Steps far finer than eight bits of the range, and noise finer still. */
export function averaged({ least, greatest, step, sigma }: Signal): Finding | undefined {
  const range = greatest - least;
  if (!(step > 0 && step < range / 1500 && sigma < range / 1500)) return undefined;
  return {
    code: 'averaged',
    weight: 'note',
    belief: 'It looks like many sweeps averaged.',
    evidence: `Its noise, ${volts(sigma)}, and its steps are finer than a single sweep of eight or ten bits gives.`,
    remedy:
      'What jitters from sweep to sweep is smeared, and how reads differ is not seen: record single sweeps for a margin.',
    size: sigma,
  };
}
