import { batch, effect, untracked } from '@preact/signals-core';
import type { Design } from '../../engine/design/design.ts';
import { createRunClient } from '../compute/run-client.ts';
import { checkNow } from '../model/check-now.ts';
import { physicsKey } from '../model/physics-key.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import type { Run } from '../model/run.ts';
import type { Atoms } from './atoms.ts';
import type { Derived } from './derived.ts';
import type { Page } from './page.ts';

/** ms without a change of strobe or threshold after which the worst cases are looked for anew. */
const REST = 400;

/**
 * Recomputes whenever the design changes. A change of strobe or threshold is answered at once from the runs at
 * hand; when it has come to rest the worst cases for its new place are sought, so that what is shown depends on
 * the inputs alone and not on the way to them.
 */
export function keepComputed(atoms: Atoms, now: Derived): Page['runs'] {
  /** Of the design whose full judgement stands: what is less than that would only take it back. */
  let full: { readonly key: string; readonly raw: RawDesign; readonly run: Run } | undefined;
  const client = createRunClient({
    onStage: (stage) => {
      const work = atoms.work.value;
      if (work.kind === 'running') atoms.work.value = { ...work, stage };
    },
    onFirst: (value, raw) => {
      const key = physicsKey(raw);
      if (key !== full?.key) atoms.first.value = { value, key };
    },
    onRun: (value, raw) => {
      const key = physicsKey(raw);
      if (key === full?.key && value.grade !== 'full' && value.reason === undefined) return;
      batch(() => {
        atoms.first.value = undefined;
        atoms.run.value = { value, key };
        if (!value.ensemble && !value.reason) return;
        if (value.grade === 'full') {
          if (full && full.key !== key) {
            atoms.before.value = { raw: full.raw, run: full.run };
            atoms.beforeOn.value = true;
          }
          full = { key, raw, run: value };
        }
        atoms.judged.value = { value, key };
      });
    },
    onFinished: () => {
      atoms.work.value = { kind: 'idle' };
    },
    onFailed: (message) => {
      atoms.work.value = { kind: 'failed', message };
    },
  });
  let asked = '';
  let askedPlace = '';
  let timer: ReturnType<typeof setTimeout> | undefined;
  const consider = (raw: RawDesign): void => {
    const key = physicsKey(raw);
    const strobePlace = JSON.stringify([rawAt(raw, '/strobe/time'), rawAt(raw, '/detector/threshold')]);
    const { design } = checkNow(raw);
    if (design === undefined || (key === asked && strobePlace === askedPlace)) return;
    clearTimeout(timer);
    const run = (): void => client.run(raw, readFirst(atoms, now, design));
    if (key === asked) timer = setTimeout(run, REST);
    else run();
    [asked, askedPlace] = [key, strobePlace];
    batch(() => {
      if (atoms.first.value?.key !== key) atoms.first.value = undefined;
      atoms.work.value = { kind: 'running', since: performance.now(), stage: 'starting' };
    });
  };
  effect(() => {
    const raw = now.raw.value;
    untracked(() => consider(raw));
  });
  return {
    cancel() {
      clearTimeout(timer);
      client.cancel();
      atoms.work.value = { kind: 'cancelled' };
    },
    again() {
      asked = '';
      consider(now.raw.value);
    },
  };
}

/** s of the cycle that must be read before what is on the screen can be drawn; undefined where that is nearly all of it. */
function readFirst(atoms: Atoms, now: Derived, design: Design): number | undefined {
  const [a = 0, b = 0] = atoms.marks.value ?? [];
  const places = [now.span.value.to, a, b, atoms.instant.value ?? 0, design.strobe.time ?? 0];
  const end = Math.max(...places) + 4 * design.numerics.output;
  return end < 0.6 * design.cycle.period ? end : undefined;
}
