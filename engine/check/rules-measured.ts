import type { BrokenRule } from '../design/design-error.ts';
import type { ReadDesignFile } from '../design/schema/design-schema.ts';

/** A measured pulse may start and end at this part of its greatest current. */
const NEAR_NOTHING = 0.1;

type Points = readonly (readonly [number, number])[];

/** What is wrong with a measured pulse, as the end of a sentence that begins with its path; undefined: nothing. */
export function crooked(points: Points): string | undefined {
  const back = points.findIndex(([t], k) => k > 0 && t <= points[k - 1]![0]);
  if (back > 0)
    return `must have increasing times, but entry ${back} is at ${points[back]![0]} after ${points[back - 1]![0]}; sort the table and leave out doubles`;
  const most = Math.max(...points.map(([, i]) => i));
  if (!(most > 0)) return 'must have a positive current, but has none; give its size whichever way it drives';
  const [first, last] = [points[0]![1], points[points.length - 1]![1]];
  const off = [first, last].find((i) => Math.abs(i) > NEAR_NOTHING * most);
  if (off !== undefined)
    return `must start and end near nothing (under a tenth of its greatest current), but ${off === first ? 'starts' : 'ends'} at ${off} of ${most}; take in the whole pulse, and take an offset of the probe away`;
  return undefined;
}

/** Measured pulses: points are there, in order, and nothing else says the same another way. */
export function measuredRules(file: ReadDesignFile): readonly BrokenRule[] {
  return (['x', 'y'] as const).flatMap((line) =>
    (['read', 'write'] as const).flatMap((what): readonly BrokenRule[] => {
      const table = file.drive[line][what];
      if (table === undefined) return [];
      const name = `drive.${line}.${what}`;
      const broken = (field: string, sentence: string): readonly BrokenRule[] => [
        { path: ['drive', line, ...field.split('/')], sentence },
      ];
      // Units alone are no table.
      if (table.points === undefined)
        return table.file === undefined
          ? []
          : broken(
              `${what}/file`,
              `${name}.file names a file, which only the command line reads; put its numbers into ${name}.points`,
            );
      if (table.file !== undefined)
        return broken(
          `${what}/file`,
          `${name} must have either points or a file, but has both; leave one out`,
        );
      const wrong = crooked(table.points);
      if (wrong !== undefined) return broken(`${what}/points`, `${name}.points ${wrong}`);
      if (file.drive[line].source.kind === 'voltage')
        return broken(
          what,
          `${name} is a current, which a voltage source does not prescribe; leave it out or choose a current source`,
        );
      if (file.drive[line][`${what}Width`] !== undefined)
        return broken(
          `${what}Width`,
          `drive.${line}.${what}Width is read off ${name}; leave one of them out`,
        );
      return [];
    }),
  );
}
