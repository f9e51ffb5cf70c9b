import { expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { CoreOrigin } from '../../engine/design/core.ts';
import { coreSource } from '../../web/model/core-source.ts';

const { core } = checkDesign({ core: { preset: 'ferrite-20-mil' } });
const names = Object.keys(core.range) as (keyof typeof core.range)[];
const from = (...origins: CoreOrigin[]) =>
  coreSource({
    core: {
      ...core,
      range: Object.fromEntries(
        names.map((name, i) => [name, { ...core.range[name], from: origins[i % origins.length]! }]),
      ) as typeof core.range,
    },
  });

it('says where a core comes from, and calls it measured only where it is', () => {
  expect(coreSource({ core })).toBe('preset, not measured');
  expect(from('measured')).toBe('measured');
  expect(from('measured', 'assumed')).toBe('measured in part');
  expect(from('handbook', 'assumed')).toBe('from a handbook');
  expect(from('given')).toBe('as given');
  expect(from('assumed', 'given')).toBe('assumed, not measured');
});
