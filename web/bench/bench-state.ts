import type { Derived } from '../state/derived.ts';
import type { Atoms } from '../state/atoms.ts';
import type { BenchCapture } from '../model/bench-capture.ts';

/** What the reader put on the bench. */
export type BenchState = Pick<Atoms, 'captures' | 'chosenCapture'>;

/** The design in the planning view: as typed, as checked, and the last one that held. */
export type DesignNow = Pick<Derived, 'raw' | 'design' | 'inForce'>;

export const chosenCapture = (state: BenchState): BenchCapture | undefined =>
  state.captures.value.find(({ id }) => id === state.chosenCapture.value);

/** Captures on the bench at most, as many as one fit takes. */
export const MOST_ON_BENCH = 8;

/** Puts a capture on the bench and chooses it; the oldest leaves when the bench is full. */
export function addCapture(state: BenchState, capture: Omit<BenchCapture, 'id'>): void {
  const captures = state.captures.value;
  const id = Math.max(0, ...captures.map((each) => each.id)) + 1;
  state.captures.value = [...captures, { ...capture, id }].slice(-MOST_ON_BENCH);
  state.chosenCapture.value = id;
}

export function changeCapture(state: BenchState, id: number, change: Partial<BenchCapture>): void {
  state.captures.value = state.captures.value.map((each) =>
    each.id === id ? { ...each, ...change, id } : each,
  );
}

export function removeCapture(state: BenchState, id: number): void {
  const left = state.captures.value.filter((each) => each.id !== id);
  if (state.chosenCapture.value === id) state.chosenCapture.value = left.at(-1)?.id;
  state.captures.value = left;
}
