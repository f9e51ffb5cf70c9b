import { batch, effect, untracked } from '@preact/signals-core';
import { createRunClient } from '../compute/run-client.ts';
import type { Shown } from '../compute/run-messages.ts';
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
    onDesign: (design, raw) => atoms.checks.learn(raw, design),
    onFirst: (value, raw) => {
      void atoms.checks.fetch();
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
    onFailed: ({ message, field }) => {
      void atoms.checks.fetch().then((fetched) => {
        // Of a refused design the field itself says what is wrong with it.
        atoms.work.value = fetched && field !== '' ? { kind: 'idle' } : { kind: 'failed', message };
      });
    },
  });
  let asked = '';
  let askedPlace = '';
  let timer: ReturnType<typeof setTimeout> | undefined;
  const consider = (raw: RawDesign): void => {
    const key = physicsKey(raw);
    const strobePlace = JSON.stringify([rawAt(raw, '/strobe/time'), rawAt(raw, '/detector/threshold')]);
    const checked = atoms.checks.of(raw);
    const refused = checked !== undefined && checked.design === undefined;
    if (refused || (key === asked && strobePlace === askedPlace)) return;
    clearTimeout(timer);
    const run = (): void => {
      atoms.work.value = { kind: 'running', since: performance.now(), stage: 'starting' };
      client.run(raw, shownOn(atoms));
    };
    const moved = key === asked;
    [asked, askedPlace] = [key, strobePlace];
    if (moved) timer = setTimeout(run, REST);
    else
      batch(() => {
        if (atoms.first.value?.key !== key) atoms.first.value = undefined;
        run();
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

const shownOn = ({ span, marks, instant }: Atoms): Shown => ({
  spanEnd: span.value?.to,
  marked: [...(marks.value ?? []), instant.value ?? 0],
});
