import { signal } from '@preact/signals-core';
import type { Design } from '../../engine/design/design.ts';
import type { Checked } from '../model/checked.ts';
import type { RawDesign } from '../model/pointer.ts';

type Check = (raw: RawDesign) => Checked;

/**
 * Designs as checked. The check itself, with the schema that it reads, is as large as all else that the page starts
 * with: so the first designs are checked by the worker that runs them, and the page fetches its own check afterwards.
 */
export interface Checks {
  /** Undefined where it was not told yet. */
  of(raw: RawDesign): Checked | undefined;
  /** What a worker has found to hold. */
  learn(raw: RawDesign, design: Design): void;
  /** Takes the page's own check. */
  take(check: Check): void;
  /** Fetches it, once; false where it could not be had. */
  fetch(): Promise<boolean>;
}

export function createChecks(): Checks {
  const known = new WeakMap<RawDesign, Checked>();
  const own = signal<Check | undefined>(undefined);
  const learnt = signal(0);
  let fetching: Promise<boolean> | undefined;
  return {
    of(raw) {
      const check = own.value;
      if (!check) void learnt.value;
      const found = known.get(raw) ?? check?.(raw);
      if (found) known.set(raw, found);
      return found;
    },
    learn(raw, design) {
      if (known.has(raw)) return;
      known.set(raw, { design, faults: [] });
      learnt.value++;
    },
    take(check) {
      own.value = check;
    },
    fetch() {
      fetching ??= import('../model/check-now.ts').then(
        ({ checkNow }) => {
          own.value = checkNow;
          return true;
        },
        () => {
          fetching = undefined;
          return false;
        },
      );
      return fetching;
    },
  };
}
