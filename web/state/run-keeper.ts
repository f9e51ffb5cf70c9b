import { batch, computed, effect, untracked } from '@preact/signals-core';
import { createRunClient } from '../compute/run-client.ts';
import type { Shown } from '../compute/run-messages.ts';
import { judgedUntil } from '../model/envelopes.ts';
import { physicsKey, wholeKey } from '../model/physics-key.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { Run } from '../model/run.ts';
import { createAtRest } from './at-rest.ts';
import type { Atoms } from './atoms.ts';
import type { Derived } from './derived.ts';
import { keepRuns, type KeptRun } from './kept-runs.ts';
import type { Page } from './page.ts';

/**
 * Recomputes whenever the design changes. A change of strobe or threshold is answered at once from the runs at
 * hand; when it has come to rest worse cases for its new place are looked for among them, so that what is shown depends
 * on the inputs alone and not on the way to them. A design that was judged a moment ago is not run again.
 */
export function keepComputed(atoms: Atoms, now: Derived): Page['runs'] {
  const kept = keepRuns();
  /** The full judgement that stands: what is less than that would only take it back. */
  let full: KeptRun | undefined;
  let asked: { readonly raw: RawDesign; readonly key: string; readonly whole: string } = NOTHING;
  const held = computed(() => atoms.history.value.gesture !== undefined);
  const rest = createAtRest(() => held.value);

  const stand = (next: KeptRun): void =>
    batch(() => {
      if (full && full.key !== next.key) {
        atoms.before.value = { raw: full.raw, run: full.run };
        atoms.beforeOn.value = true;
      }
      full = next;
      atoms.first.value = undefined;
      atoms.run.value = atoms.judged.value = { value: next.run, key: next.key };
    });
  const keep = (raw: RawDesign, run: Run, complete: boolean): KeptRun => {
    const one = { raw, run, complete, key: physicsKey(raw) };
    kept.set(wholeKey(raw), one);
    return one;
  };
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
      if (value.grade === 'full' && value.ensemble) return stand(keep(raw, value, false));
      if (key === full?.key && value.reason === undefined) return;
      batch(() => {
        atoms.first.value = undefined;
        atoms.run.value = { value, key };
        if (value.ensemble || value.reason !== undefined) atoms.judged.value = { value, key };
      });
    },
    onFinished: (raw) => {
      if (full?.key === physicsKey(raw)) full = keep(raw, full.run, true);
      atoms.work.value = { kind: 'idle' };
    },
    onFailed: ({ message, field }) => {
      void atoms.checks.fetch().then((fetched) => {
        // Of a refused design the field itself says what is wrong with it.
        atoms.work.value = fetched && field !== '' ? { kind: 'idle' } : { kind: 'failed', message };
      });
    },
  });
  const running = (): void => {
    atoms.work.value = { kind: 'running', since: performance.now(), stage: 'starting' };
  };
  const run = (raw: RawDesign): void => {
    running();
    client.run(raw, shownOn(atoms));
  };
  const judge = (raw: RawDesign, { run: base }: KeptRun): void => {
    const { cases, envelope } = base.ensemble!;
    running();
    client.judge(base, { raw, shown: shownOn(atoms), atHand: { cases, time: envelope.time } });
  };

  const consider = (raw: RawDesign): void => {
    const next = { raw, key: physicsKey(raw), whole: wholeKey(raw) };
    const checked = atoms.checks.of(raw);
    const refused = checked !== undefined && checked.design === undefined;
    if (refused || next.whole === asked.whole) return;
    rest.wait(undefined);
    const moved = next.key === asked.key;
    asked = next;
    const known = kept.get(next.whole);
    if (known) {
      client.stand(known.run, raw, known.key === full?.key);
      stand(known);
      if (known.complete) atoms.work.value = { kind: 'idle' };
      else judge(raw, known);
      return;
    }
    if (moved) rest.wait(() => (full?.key === next.key ? judge(raw, full) : run(raw)));
    else
      batch(() => {
        if (atoms.first.value?.key !== next.key) atoms.first.value = undefined;
        run(raw);
      });
  };
  effect(() => {
    const raw = now.raw.value;
    untracked(() => consider(raw));
  });
  effect(() => {
    void held.value;
    untracked(rest.again);
  });
  // The lanes go beyond the worst cases that are at hand.
  effect(() => {
    const end = now.span.value.to;
    untracked(() => {
      if (full?.key !== asked.key || goesTo(full.run, end)) return;
      rest.wait(() => {
        if (full?.key === asked.key) judge(asked.raw, full);
      });
    });
  });
  return {
    cancel() {
      rest.wait(undefined);
      client.cancel();
      atoms.work.value = { kind: 'cancelled' };
    },
    again() {
      asked = NOTHING;
      consider(now.raw.value);
    },
  };
}

const NOTHING = { raw: {}, key: '', whole: '' };

/** The worst cases were followed to `end`, s, but for the last step. */
const goesTo = (run: Run, end: number): boolean => judgedUntil(run) > end - 2 * run.design.numerics.output;

const shownOn = ({ span, marks, instant }: Atoms): Shown => ({
  spanEnd: span.value?.to,
  marked: [...(marks.value ?? []), instant.value ?? 0],
});
