import type { Diagnosis } from '../../engine/fitting/diagnosis/diagnosis.ts';
import type { NamedJudgement } from '../judged.ts';
import { csvLine } from './csv-line.ts';
import { judgementsText } from './judgement-text.ts';
import { textTable } from './table.ts';

/** A diagnosis for a reader: the verdict, the best explanations with their evidence, the others ranked. */
export function diagnosisText({
  judgements,
  statement,
  explanations,
  notTried,
}: Diagnosis & { readonly judgements: readonly NamedJudgement[] }): string {
  const best = explanations.slice(0, 3).map(({ evidence }, i) => `${i + 1}. ${evidence}\n`);
  const rows = explanations.map(({ title, misfit, explains, strain }) => [
    title,
    misfit.toPrecision(3),
    explains > 0 ? `${Math.floor(explains * 100)} %` : 'nothing',
    `${strain.toPrecision(2)} σ`,
  ]);
  return [
    judgementsText(judgements),
    `${statement}\n`,
    best.join(''),
    textTable([['', 'misfit left', 'explains', 'most strained part'], ...rows], ''),
    ...(notTried.length === 0 ? [] : [`Not tried: ${notTried.join('; ')}.\n`]),
  ].join('\n');
}

/** The explanations as CSV, best first. */
export function diagnosisCsv({ explanations }: Diagnosis): string {
  return [
    ['code', 'title', 'severity', 'low', 'high', 'misfit', 'explains', 'strain', 'score', 'evidence'],
    ...explanations.map(({ code, title, severity, interval, misfit, explains, strain, score, evidence }) => [
      code,
      title,
      ...[severity, interval?.low, interval?.high].map((v) => (v === undefined ? '' : String(v))),
      String(misfit),
      String(explains),
      String(strain),
      String(score),
      evidence,
    ]),
  ]
    .map(csvLine)
    .join('');
}
