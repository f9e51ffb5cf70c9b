import { VERSION } from '../../../engine/base/version.ts';
import { csvCell } from '../../sharing/text-files.ts';
import type { StepTally } from './step-tally.ts';

/** One row for each answer; students are numbered as their codes were pasted. No names: codes hold none. */
export function tallyCsv(title: string, tallies: readonly StepTally[]): string {
  const rows = tallies.flatMap((tally, place) =>
    tally.answers.map(({ student, number, value, text, right }) =>
      [
        student,
        number === 0 ? '' : number,
        place + 1,
        tally.title,
        tally.question,
        value,
        text,
        right ? 1 : 0,
      ]
        .map(csvCell)
        .join(','),
    ),
  );
  return [
    `# strobewright ${VERSION}`,
    `# lesson ${title.replaceAll(/\s+/gu, ' ')}`,
    'student,number,step,title,question,value,answer,right',
    ...rows,
    '',
  ].join('\n');
}
