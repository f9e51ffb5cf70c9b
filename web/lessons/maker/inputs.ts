import { designJsonSchema } from '../../../engine/design/schema/design-schema.ts';
import type { Unit } from '../../../engine/base/units.ts';
import { designFieldGroups, type SchemaNode } from '../../model/design-fields.ts';

/** An input of a board that a lesson can set or vary. */
export interface BoardInput {
  /** Pointers, joined: names it in a list. */
  readonly key: string;
  readonly title: string;
  readonly pointers: readonly string[];
  readonly unit: Unit;
}

/** Whatever their order. */
export const keyOf = (pointers: readonly string[]): string => [...pointers].sort().join(' ');

/** All four currents of the two lines go together in a lesson: one of them alone is rarely what is asked about. */
const BOTH_LINES = ['x', 'y'].flatMap((line) =>
  ['readAmplitude', 'writeAmplitude'].map((name) => `/drive/${line}/${name}`),
);
const BOTH_RISES = ['/drive/x/rise', '/drive/y/rise'];

let inputs: readonly BoardInput[] | undefined;

/** Every quantity of a design with its unit, and those that go together first. */
export function boardInputs(titles: {
  readonly currents: string;
  readonly rises: string;
}): readonly BoardInput[] {
  inputs ??= [
    inputOf(titles.currents, BOTH_LINES, 'A'),
    inputOf(titles.rises, BOTH_RISES, 's'),
    ...designFieldGroups().flatMap(({ title, fields }) =>
      fields.flatMap(({ pointer, label, kind }) => {
        const unit = kind === 'quantity' ? unitAt(pointer) : undefined;
        return unit === undefined ? [] : [inputOf(`${title}: ${label.toLowerCase()}`, [pointer], unit)];
      }),
    ),
  ];
  return inputs;
}

const inputOf = (title: string, pointers: readonly string[], unit: Unit): BoardInput => ({
  key: keyOf(pointers),
  title,
  pointers,
  unit,
});

function unitAt(pointer: string): Unit | undefined {
  const node = pointer
    .split('/')
    .slice(1)
    .reduce<SchemaNode | undefined>((at, name) => at?.properties?.[name], designJsonSchema() as SchemaNode);
  return node?.['x-unit'] as Unit | undefined;
}
