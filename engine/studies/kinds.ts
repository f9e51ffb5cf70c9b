import { pattern } from './pattern/pattern.ts';
import { rate } from './rate/rate.ts';
import { scale } from './scale/scale.ts';
import { sensitivity } from './sensitivity/sensitivity.ts';
import { STUDY_KINDS, StudyError, type StudyKind, type StudyPart } from './shared/shape.ts';
import { shmoo } from './shmoo/shmoo.ts';
import { temperature } from './temperature/temperature.ts';
import { tolerance } from './tolerance/tolerance.ts';

/** Every kind of study; none knows another. */
const PARTS: Readonly<Record<StudyKind, StudyPart>> = {
  scale,
  shmoo,
  tolerance,
  temperature,
  rate,
  pattern,
  sensitivity,
};

/** @throws StudyError for a kind that is none */
export function studyPart(kind: StudyKind): StudyPart {
  if (Object.hasOwn(PARTS, kind)) return PARTS[kind];
  throw new StudyError(
    'unknown-study',
    '/kind',
    `Study kind must be one of ${STUDY_KINDS.join(', ')}; received ${JSON.stringify(kind)}: name one of them.`,
  );
}
