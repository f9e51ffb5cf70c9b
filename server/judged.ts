import type { Judgement } from '../engine/fitting/judge/judgement.ts';

/** What was found of a capture before anything was made of it, as it is answered: clipped samples as their number. */
export interface NamedJudgement extends Omit<Judgement, 'clipped'> {
  readonly label: string;
  readonly clippedSamples: number;
}

export const namedJudgement = (label: string, { clipped, ...rest }: Judgement): NamedJudgement => ({
  label,
  ...rest,
  clippedSamples: clipped.reduce((sum, v) => sum + v, 0),
});
