import { observable, type Observable } from '../observable.ts';
import type { BenchCapture } from './bench-capture.ts';

/** What the reader put on the bench. */
export interface BenchState {
  readonly captures: Observable<readonly BenchCapture[]>;
  /** The capture that is laid over the prediction. */
  readonly chosen: Observable<number | undefined>;
}

export const createBenchState = (): BenchState => ({
  captures: observable<readonly BenchCapture[]>([]),
  chosen: observable<number | undefined>(undefined),
});

export const chosenCapture = (state: BenchState): BenchCapture | undefined =>
  state.captures.get().find(({ id }) => id === state.chosen.get());

/** Captures on the bench at most, as many as one fit takes. */
export const MOST_ON_BENCH = 8;

/** Puts a capture on the bench and chooses it; the oldest leaves when the bench is full. */
export function addCapture(state: BenchState, capture: Omit<BenchCapture, 'id'>): void {
  const captures = state.captures.get();
  const id = Math.max(0, ...captures.map((each) => each.id)) + 1;
  state.captures.set([...captures, { ...capture, id }].slice(-MOST_ON_BENCH));
  state.chosen.set(id);
}

export function changeCapture(state: BenchState, id: number, change: Partial<BenchCapture>): void {
  state.captures.set(
    state.captures.get().map((each) => (each.id === id ? { ...each, ...change, id } : each)),
  );
}

export function removeCapture(state: BenchState, id: number): void {
  const left = state.captures.get().filter((each) => each.id !== id);
  if (state.chosen.get() === id) state.chosen.set(left.at(-1)?.id);
  state.captures.set(left);
}
