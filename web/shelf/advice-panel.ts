import { effect, signal, untracked, type ReadonlySignal } from '@preact/signals-core';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { readQuantity } from '../../engine/base/units.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Requirement } from '../../engine/design/requirement.ts';
import { createSideClient } from '../compute/side-client.ts';
import { createWork } from '../compute/work.ts';
import { createMore } from '../sharing/more.ts';
import { h } from '../ui/dom.ts';
import { mount } from '../ui/mount.ts';
import { adviceView, type Wanted } from './advice-view.ts';
import type { Advised, TakeChange } from './advice-words.ts';

export interface AdviceOptions {
  /** Undefined while an input is refused. */
  readonly design: ReadonlySignal<Design | undefined>;
  /** Equal as long as strobe, threshold and all that is asked about are the same. */
  readonly key: ReadonlySignal<string>;
  readonly onTake: TakeChange;
}

/** What uses the margin up and what single change would bring it back: asked for, since it takes many runs. */
export function createAdvicePanel({ design, key, onTake }: AdviceOptions): HTMLElement {
  const { work, found, start, cancel } = createAsking(key);
  const wanted = createWanted(design);
  const host = h('div', {});
  mount(host, () =>
    adviceView({
      margin: wanted.margin.value,
      width: wanted.width.value,
      work: work.state.value,
      unable: design.value === undefined,
      found: found.value,
      old: found.value !== undefined && found.value.key !== key.value,
      onMargin: (text) => {
        wanted.margin.value = { text };
      },
      onWidth: (text) => {
        wanted.width.value = { text };
      },
      onStart: () => {
        const requirement = wanted.read();
        if (design.value && requirement) start(design.value, requirement);
      },
      onCancel: cancel,
      onTake,
    }),
  );
  return createMore('What uses it up, and what to change', () => undefined, host).node;
}

/** The question, and its answer as long as the inputs are those it was asked of. */
function createAsking(key: ReadonlySignal<string>) {
  const work = createWork(createSideClient(), 0);
  const found = signal<Advised | undefined>(undefined);
  const cancel = (): void => work.cancel('Cancelled.');
  effect(() => {
    void key.value;
    untracked(() => {
      // Work for inputs that are gone is not worth ending.
      if (work.state.value.running) cancel();
      if (found.value) work.say(undefined);
    });
  });

  function start(design: Design, wanted: Requirement): void {
    const asked = { design, key: key.value };
    work.ask(
      'advice',
      { design, wanted },
      {
        busy: 'Starting.',
        onPiece: ({ done, total, next }) => ({
          done,
          planned: total,
          text: `Part ${done + 1} of ${total}: ${next}.`,
        }),
        onAnswer: (advice) => {
          found.value = { ...asked, advice };
        },
      },
    );
  }
  return { work, found, start, cancel };
}

/** What is wanted, as typed; what the design itself requires until something else is typed. */
function createWanted(design: ReadonlySignal<Design | undefined>) {
  const margin = signal<Wanted>({ text: '' });
  const width = signal<Wanted>({ text: '' });
  let before: Requirement | undefined;
  effect(() => {
    const now = design.value?.requirement;
    if (!now || (before?.margin === now.margin && before.width === now.width)) return;
    before = now;
    margin.value = { text: formatQuantity(now.margin, 'V', 6) };
    width.value = { text: formatQuantity(now.width, 's', 6) };
  });
  return {
    margin,
    width,
    /** Undefined when one cannot be read, which is then told beside it. */
    read(): Requirement | undefined {
      margin.value = { text: margin.value.text, fault: faultOf(margin.value.text, 'V') };
      width.value = { text: width.value.text, fault: faultOf(width.value.text, 's') };
      if (margin.value.fault !== undefined || width.value.fault !== undefined) return undefined;
      return { margin: valueOf(margin.value.text, 'V'), width: valueOf(width.value.text, 's') };
    },
  };
}

function faultOf(text: string, unit: 'V' | 's'): string | undefined {
  const reading = readQuantity(text, unit);
  if (!reading.ok)
    return `This must be a ${unit === 's' ? 'time' : 'voltage'} with its unit, but it ${reading.why}.`;
  return reading.value < 0 ? 'This must not be below zero.' : undefined;
}

function valueOf(text: string, unit: 'V' | 's'): number {
  const reading = readQuantity(text, unit);
  return reading.ok ? reading.value : NaN;
}
