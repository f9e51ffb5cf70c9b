import { STUDY_KINDS, type StudyKind } from '../../engine/studies/shared/shape.ts';
import { listStudyOptions, studyMeaning } from '../../engine/studies/study-options.ts';

/** Columns that a terminal surely has. */
const WIDTH = 100;

/** Options of a kind: each with what it takes, what holds without it, and its meaning. */
export function studyHelp(kind: StudyKind): string {
  const entries = listStudyOptions(kind).map(({ name, range, default: start, meaning }) => ({
    name,
    lines: [...wrap(meaning), ...wrap(`takes ${range}; left out: ${start}`)],
  }));
  const widest = Math.max(...entries.map(({ name }) => name.length));
  const rows = entries.flatMap(({ name, lines }) =>
    lines.map((line, i) => `  ${(i === 0 ? name : '').padEnd(widest)}  ${line}\n`),
  );
  return `\nOptions of study ${kind} (--option name=value): ${studyMeaning(kind)}\n${rows.join('')}`;
}

/** What each kind studies, and how to see its options. */
export function studyKindsHelp(): string {
  const widest = Math.max(...STUDY_KINDS.map((kind) => kind.length));
  const rows = STUDY_KINDS.map((kind) => `  ${kind.padEnd(widest)}  ${studyMeaning(kind)}\n`);
  return `\nKinds of study, each with options of its own (study --help KIND lists them):\n${rows.join('')}`;
}

function wrap(text: string): string[] {
  return text.split(' ').reduce<string[]>((lines, word) => {
    const last = lines.at(-1);
    if (last === undefined || last.length + 1 + word.length > WIDTH - 16) return [...lines, word];
    return [...lines.slice(0, -1), `${last} ${word}`];
  }, []);
}
