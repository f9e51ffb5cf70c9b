import { studyCsv } from '../../engine/export/serialise.ts';
import { StudyError, type StudyResult } from '../../engine/studies/shared/shape.ts';
import { mergeStudies } from '../../engine/studies/study.ts';
import { LIMITS } from '../limits.ts';
import { studyText } from '../print/study-text.ts';
import { RequestError } from '../request-error.ts';
import { readStudy, refuseRepeats, studyJson } from '../study-json.ts';
import { readJsonInput } from './files.ts';
import type { OutputOptions } from './simulate.ts';
import type { Terminal } from './terminal.ts';
import { writeOutput } from './write-output.ts';

/** Exit status of a merge that lacks points. */
const INCOMPLETE = 4;

/** `merge`: the shards of one study put together; 4 where points are missing, and the study is marked partial. */
export async function mergeCommand(
  paths: readonly string[],
  flags: OutputOptions,
  terminal: Terminal,
): Promise<number> {
  const shards: StudyResult[] = [];
  for (const path of paths)
    shards.push(readStudy(await readJsonInput(path, 'Study', terminal, LIMITS.captureBytes), path));
  const study = merged(shards, paths);
  await writeStudy(study, flags, terminal);
  const { planned, done } = study.count;
  if (done === planned) return 0;
  terminal.errors.write(
    `${planned - done} of ${planned} points are missing and the study is marked partial: merge the other shards too.\n`,
  );
  return INCOMPLETE;
}

/** Shards come from files: what cannot be put together was changed since a study wrote it. */
function merged(shards: readonly StudyResult[], paths: readonly string[]): StudyResult {
  try {
    const study = mergeStudies(shards);
    refuseRepeats(shards, paths);
    return study;
  } catch (error) {
    if (error instanceof StudyError || error instanceof RequestError) throw error;
    throw new RequestError(422, {
      code: 'no-study',
      message:
        'The results to merge must be those of their plan and are not: write them again with study --format json.',
    });
  }
}

/** A study in the form asked for. */
export async function writeStudy(
  study: StudyResult,
  { format, output }: OutputOptions,
  terminal: Terminal,
): Promise<void> {
  const write = { text: studyText, json: studyJson, csv: studyCsv }[format];
  await writeOutput(write(study), output, terminal);
}
