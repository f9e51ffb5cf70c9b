/**
 * The worst of a whole product of cases without running all of it. A case is a list of indices, one a factor
 * (pattern, history, address, corner). From the worst case so far every single factor is turned through all its values;
 * what that gives predicts every case of the product as a sum, and those predicted worst are run too, with room for
 * what the sums have missed so far. When none of them is worse than the worst known, that is the answer. It is held
 * against the full product in the tests.
 */

/** Which case, an index a factor. */
export type CaseIndex = readonly number[];

export interface KnownCase {
  readonly index: CaseIndex;
  /** Greater the worse the case is. */
  readonly value: (target: number) => number;
}

export interface CaseSearch {
  /** Runs cases until the worst of the product at a target is among them. */
  settle(target: number): void;
  /** The same from what is known of single factors elsewhere: predicted cases are run, no factor is turned anew. */
  follow(target: number): void;
  /** The same product with the last factor free (corners counted) or held at its first value. */
  free(last: boolean): CaseSearch;
}

/** Predicted cases that are run each time before the worst is taken as found. */
const TRIED = 8;
/** A prediction is allowed to be wrong by so many times the sums' greatest shortfall so far. */
const ROOM = 1;
/** A search that has moved this often has all but run the product. */
const MOST_MOVES = 12;

/**
 * @param sizes values of each factor
 * @param start cases to start from, at least one
 * @param run runs a case
 * @param together cases to be run about a case before single factors are turned: for factors that turn each other's
 *   effect round, so that no single one leads from one to the other
 */
export function searchCases(
  sizes: readonly number[],
  start: readonly CaseIndex[],
  run: (index: CaseIndex) => KnownCase['value'],
  together: (index: CaseIndex) => readonly CaseIndex[] = () => [],
): CaseSearch {
  const known = new Map<string, KnownCase>();
  const at = (index: CaseIndex): KnownCase => {
    const key = index.join();
    let item = known.get(key);
    if (item === undefined) known.set(key, (item = { index, value: run(index) }));
    return item;
  };
  for (const index of start) at(index);
  return within(sizes, known, at, together);
}

function within(
  sizes: readonly number[],
  known: ReadonlyMap<string, KnownCase>,
  at: (index: CaseIndex) => KnownCase,
  together: (index: CaseIndex) => readonly CaseIndex[],
): CaseSearch {
  const inside = (index: CaseIndex): boolean => index.every((value, factor) => value < sizes[factor]!);
  /** Cases about which every single factor was turned. */
  const turned = new Set<KnownCase>();
  const all = (): KnownCase[] => [...known.values()].filter(({ index }) => inside(index));
  const worst = (among: Iterable<KnownCase>, target: number): KnownCase => {
    const [first, ...rest] = among;
    return rest.reduce((most, item) => (item.value(target) > most.value(target) ? item : most), first!);
  };
  /** Runs the cases predicted to be worst; did one of them turn out worse than all before? */
  const tryPredicted = (base: KnownCase, target: number): boolean => {
    const before = worst(all(), target).value(target);
    return predictedWorst(sizes, all(), base, at, target).some((index) => at(index).value(target) > before);
  };
  return {
    settle(target) {
      for (let move = 0; move < MOST_MOVES; move++) {
        const base = worst(all(), target);
        turned.add(base);
        for (const index of together(base.index).filter(inside)) at(index);
        if (worst(all(), target) !== base) continue;
        for (const index of neighbours(sizes, base.index)) at(index);
        if (worst(all(), target) === base && !tryPredicted(base, target)) return;
      }
    },
    follow(target) {
      for (let move = 0; move < MOST_MOVES && turned.size > 0; move++)
        if (!tryPredicted(worst(turned, target), target)) return;
    },
    free: (last) => within(last ? sizes : [...sizes.slice(0, -1), 1], known, at, together),
  };
}

/** Every case that differs in one factor. */
const neighbours = (sizes: readonly number[], index: CaseIndex): CaseIndex[] =>
  sizes.flatMap((size, factor) => Array.from({ length: size }, (_, value) => index.with(factor, value)));

/** Cases not yet run, those first that the sums of single effects about a base make worst. */
function predictedWorst(
  sizes: readonly number[],
  known: readonly KnownCase[],
  base: KnownCase,
  at: (index: CaseIndex) => KnownCase,
  target: number,
): CaseIndex[] {
  const level = base.value(target);
  const effects = sizes.map((size, factor) =>
    Array.from({ length: size }, (_, value) => at(base.index.with(factor, value)).value(target) - level),
  );
  const predict = (index: CaseIndex): number =>
    index.reduce((sum, value, factor) => sum + effects[factor]![value]!, level);
  let missed = 0;
  let worst = -Infinity;
  for (const { index, value } of known) {
    const actual = value(target);
    worst = Math.max(worst, actual);
    missed = Math.max(missed, actual - predict(index));
  }
  const done = new Set(known.map(({ index }) => index.join()));
  return product(sizes)
    .map((index) => ({ index, predicted: predict(index) }))
    .filter(({ index, predicted }) => predicted > worst - ROOM * missed && !done.has(index.join()))
    .sort((a, b) => b.predicted - a.predicted)
    .slice(0, TRIED)
    .map(({ index }) => index);
}

/** Every index of a product, the last factor running fastest. */
export function product(sizes: readonly number[]): CaseIndex[] {
  return sizes.reduce<number[][]>(
    (all, size) => all.flatMap((head) => Array.from({ length: size }, (_, value) => [...head, value])),
    [[]],
  );
}
