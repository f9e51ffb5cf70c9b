import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createAtoms, EVIDENCE, HEARD, MAT_SHOWS, NARROW_VIEWS, PARTS } from '../../web/state/atoms.ts';
import { PLACES } from '../../web/state/place.ts';
import { readUrl, writeUrl, type UrlState } from '../../web/state/url.ts';
import { takeUrlState, urlStateOf } from '../../web/state/url-state.ts';

const maybe = <T>(made: fc.Arbitrary<T>) => fc.option(made, { nil: undefined });
/** s: whole picoseconds up to some microseconds, as the page places them. */
const time = fc.integer({ min: 0, max: 5_000_000 }).map((ps) => ps * 1e-12);
const pair = fc.tuple(time, time).filter(([a, b]) => a < b);
const state = fc.record({
  place: fc.record({
    name: fc.constantFrom(...PLACES),
    part: fc.constantFrom('', 'studies', 'inputs', 'strobe-waits'),
    id: fc.constant(''),
  }),
  core: maybe(fc.record({ row: fc.nat(127), column: fc.nat(127) })),
  bit: maybe(fc.constant(0 as const)),
  instant: maybe(time),
  span: maybe(pair.map(([from, to]) => ({ from, to }))),
  scale: maybe(fc.constantFrom(0.08, 0.32)),
  heard: maybe(fc.constantFrom(...HEARD)),
  marks: maybe(pair),
  open: maybe(fc.constantFrom(...PARTS)),
  evidence: maybe(fc.constantFrom(...EVIDENCE)),
  matShows: maybe(fc.constantFrom(...MAT_SHOWS)),
  find: maybe(fc.constantFrom('inhibit', 'a & b = ?')),
  narrowView: maybe(fc.constantFrom(...NARROW_VIEWS)),
  design: maybe(
    fc.constantFrom(
      { kind: 'demo' as const, id: 'tide-recorder-16x16' },
      { kind: 'kept' as const, id: 'k3f9' },
    ),
  ),
});

const near = (a: unknown, b: unknown): void => {
  const round = (value: unknown): unknown =>
    JSON.parse(JSON.stringify(value), (_, item: unknown) =>
      typeof item === 'number' ? Number(item.toPrecision(6)) : item,
    );
  expect(round(a)).toEqual(round(b));
};

describe('addresses', () => {
  it('say all that they were given, in a form that is read back the same', () => {
    fc.assert(
      fc.property(state, (said) => {
        const { state: read, bad } = readUrl(writeUrl(said as UrlState));
        expect(bad).toEqual([]);
        near(read, said);
      }),
    );
  });

  it('are short and plain to read', () => {
    const url = writeUrl({
      place: { name: 'plan', part: '', id: '' },
      design: { kind: 'demo', id: 'tide-recorder-16x16' },
      core: { row: 5, column: 9 },
      instant: 30e-9,
      span: { from: 0, to: 640e-9 },
      scale: 0.08,
    });
    expect(url).toBe('/plan?d=@tide-recorder-16x16&core=5.9&t=30ns&span=0..640ns&scale=80mV');
  });

  it('hold a span that starts between two nanoseconds to its last digit, in the unit of its end or its own', () => {
    const span = { from: 87.5e-9 + 2 ** -60, to: 640e-9 };
    const plan = { name: 'plan', part: '', id: '' } as const;
    expect(readUrl(writeUrl({ place: plan, span })).state.span).toEqual(span);
    for (const text of ['87.5..640ns', '87.5ns..640ns', '0.0875us..640ns'])
      expect(readUrl(`/plan?span=${text}`).state.span).toEqual({ from: 87.5e-9, to: 640e-9 });
  });

  it('lose only the part that cannot be read', () => {
    const { state: read, bad } = readUrl(
      '/plan/studies?core=5&t=30&at=roof&bit=1&span=9..3ns&d=%7E../x&show=corners',
    );
    expect(bad).toEqual(['d=~../x', 'core=5', 't=30', 'span=9..3ns', 'at=roof']);
    expect(read).toEqual({ place: { name: 'plan', part: 'studies', id: '' }, bit: 1, evidence: 'corners' });
  });

  it('never throw, whatever they hold', () => {
    fc.assert(fc.property(fc.string(), (text) => void readUrl(text)));
    fc.assert(fc.property(fc.webQueryParameters(), (text) => void readUrl(`/plan?${text}&t=${text}`)));
  });

  it('bring every atom that they hold back, and the others to how they were at first', () => {
    const there = createAtoms({});
    there.place.value = { name: 'plan', part: 'cases', id: '' };
    there.instant.value = 42e-9;
    there.heard.value = 'wire';
    there.view.value = { ...there.view.value, paper: 'dark' };
    const here = createAtoms({});
    here.open.value = 'mat';
    takeUrlState(here, readUrl(writeUrl(urlStateOf(there))).state);
    near(urlStateOf(here), urlStateOf(there));
    expect(here.open.value).toBeUndefined();
  });
});
