import type { NamedJudgement } from '../judged.ts';

/** What was found of the captures, for a reader: of each the verdict, and of each finding belief, evidence, remedy. */
export const judgementsText = (judgements: readonly NamedJudgement[]): string =>
  judgements
    .map(({ label, verdict, findings }) =>
      findings.length === 0
        ? `${label}: good enough to be laid over the prediction.\n`
        : [
            `${label}: ${verdict}.\n`,
            ...findings.map(({ belief, evidence, remedy }) => `  ${belief} ${evidence} ${remedy}\n`),
          ].join(''),
    )
    .join('');
