import { makePredictor } from '../numerics/predictor.ts';

/**
 * The worst of a whole product of cases without running all of it. About the worst case so far are run those that show
 * what each trait does; from all that were run every case of the product is predicted, with how far that may be off, and
 * those that may be worse than the worst are run too. When none may be, that is the answer. It is held against the full
 * product in the tests.
 */

/** Which set cases are: a case is its place in the product. */
export interface CaseProduct {
  readonly count: number;
  /** Is a case one of those that count as designed, with no corner? */
  readonly asDesigned: (place: number) => boolean;
  /** How much two cases have in common (numerics/predictor.ts). */
  readonly alike: (a: number, b: number) => number;
  /** Cases about one that show what each trait does to it; the second list only where corners count. */
  readonly about: (place: number) => {
    readonly traits: readonly number[];
    readonly corners: readonly number[];
  };
  /** How bad a value is, by each of the ways in which it can be: the greatest counts. */
  readonly badness: readonly ((value: number) => number)[];
  /** Runs a case: its value at a target; undefined where the run failed. */
  readonly run: (place: number) => ((target: number) => number) | undefined;
}

export interface CaseSearch {
  /** Runs cases until the worst of the product at a target is among them. */
  settle(target: number): void;
  /** The same from what is known from elsewhere: only cases that are predicted to be worse are run. */
  follow(target: number): void;
  /** The same product with the corners counted or left out. */
  free(corners: boolean): CaseSearch;
}

/** A case that may be worse by no more than this, V, is not run. */
const TOLD = 50e-6;
/** A prediction is allowed to be wrong by so many of its standard deviations; two cost a tenth more runs on small random mats and a third more on 16 × 16, and found one worse case in 160 searches. */
const ROOM = 1;
/** Cases that are run at most before a new worst case is looked about. */
const TRIED = 40;
/** A search that has moved this often has all but run the product. */
const MOST_MOVES = 12;

/** @param start cases to start from, at least one */
export function searchCases(product: CaseProduct, start: readonly number[]): CaseSearch {
  const predictor = makePredictor(product.count, product.alike);
  const values: ((target: number) => number)[] = [];
  const failed = new Set<number>();
  const add = (place: number): void => {
    if (failed.has(place) || predictor.known.includes(place)) return;
    const value = product.run(place);
    if (value === undefined) failed.add(place);
    else {
      predictor.add(place);
      values.push(value);
    }
  };
  for (const place of start) add(place);
  return within(product, true);

  function within({ count, asDesigned, about, badness }: CaseProduct, corners: boolean): CaseSearch {
    const counts = (place: number): boolean => corners || asDesigned(place);
    const bad = (value: number): number => Math.max(...badness.map((of) => of(value)));
    const worst = (of: (value: number) => number, target: number): { place: number; level: number } => {
      let found = { place: -1, level: -Infinity };
      predictor.known.forEach((place, i) => {
        const level = of(values[i]!(target));
        if (counts(place) && level > found.level) found = { place, level };
      });
      return found;
    };
    /** Runs the case that may be worst, until none may be worse than the worst. */
    const tryPredicted = (target: number): void => {
      const tried = new Set<number>();
      while (tried.size < TRIED && predictor.known.length > 0) {
        const { mean, deviation } = predictor.predict(values.map((value) => value(target)));
        let next = { place: -1, level: worst(bad, target).level + TOLD };
        for (let place = 0; place < count; place++) {
          if (deviation[place] === 0 || !counts(place) || failed.has(place)) continue;
          const room = ROOM * deviation[place]!;
          const level = Math.max(bad(mean[place]! - room), bad(mean[place]! + room));
          if (level > next.level) next = { place, level };
        }
        if (next.place < 0) return;
        tried.add(next.place);
        add(next.place);
      }
    };
    return {
      settle(target) {
        const looked = new Set<number>();
        for (let move = 0; move < MOST_MOVES; move++) {
          const before = looked.size;
          for (const of of badness) {
            const { place } = worst(of, target);
            if (place < 0 || looked.has(place)) continue;
            looked.add(place);
            if (corners) for (const each of about(place).corners) add(each);
            for (const each of about(worst(of, target).place).traits) add(each);
          }
          tryPredicted(target);
          if (looked.size === before) return;
        }
      },
      follow: tryPredicted,
      free: (counted) => within(product, counted),
    };
  }
}
