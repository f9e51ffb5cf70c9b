import type { Design } from '../design/design.ts';
import type { CaseSpec } from '../strobe/case-overrides.ts';
import { caseSpace } from '../strobe/cases.ts';

/** The cases that a search starts from: the worst patterns at the ends where they are worst. */
export function firstCases(design: Design): readonly CaseSpec[] {
  const { corners } = caseSpace(design);
  const ends = corners.filter(({ drive, supply }) => same(drive, supply));
  const at = (spec: CaseSpec, low: boolean): CaseSpec[] =>
    ends.flatMap((corner) =>
      (corner.drive ?? corner.supply ?? 1) < 1 === low ? [{ ...spec, ...corner }] : [],
    );
  const { one, zero } = {
    one: { bit: 1, pattern: 'worst-one', state: 'undisturbed' },
    zero: { bit: 0, pattern: 'worst-zero', state: 'disturbed', previous: 'own' },
  } as const;
  return [
    ...at(one, true),
    ...at({ ...one, state: 'disturbed' }, true),
    ...at(zero, false),
    ...at({ ...one, bit: 0, pattern: 'worst-zero' }, false),
  ];
}

/** Both at the same end. */
const same = (a: number | undefined, b: number | undefined): boolean =>
  a === undefined || b === undefined || a < 1 === b < 1;

/** A case of another build of the same combination: its corner moved to where this build has it. */
export function hereOf(corners: ReturnType<typeof caseSpace>['corners'], spec: CaseSpec): CaseSpec {
  if (spec.drive === undefined && spec.supply === undefined && spec.temperature === undefined) return spec;
  const like = corners.find(
    (corner) =>
      side(corner.drive, 1) === side(spec.drive, 1) &&
      side(corner.supply, 1) === side(spec.supply, 1) &&
      corner.temperature === spec.temperature,
  );
  return like ? { ...spec, ...like } : spec;
}

const side = (value: number | undefined, middle: number): number =>
  value === undefined ? 0 : Math.sign(value - middle);
