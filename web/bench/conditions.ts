import type { Observed } from '../../engine/index.ts';
import { h, put } from '../dom.ts';
import { createChoice } from '../views/view-tools.ts';
import type { BenchCapture, WriteAfter } from './bench-capture.ts';
import { changeCapture, chosenCapture, removeCapture, type BenchState } from './bench-state.ts';

const WRITE_WORDS: Readonly<Record<WriteAfter, string>> = {
  design: 'as the design says',
  one: 'a ONE, not inhibited',
  zero: 'a ZERO, inhibited',
  none: 'nothing',
};

/** Which captures are on the bench, and what the chosen one was taken of. */
export function createConditions(state: BenchState): {
  readonly node: HTMLElement;
  update(rows: number, columns: number, at: { readonly row: number; readonly column: number }): void;
} {
  const list = h('select', {
    id: 'bench-chosen',
    change: () => state.chosen.set(Number(list.value)),
  });
  const remove = h(
    'button',
    {
      type: 'button',
      click: () => {
        const id = state.chosen.get();
        if (id !== undefined) removeCapture(state, id);
      },
    },
    'Take it off',
  );
  const change = (part: Partial<BenchCapture>): void => {
    const id = state.chosen.get();
    if (id !== undefined) changeCapture(state, id, part);
  };
  const bit = createChoice(
    'The core held',
    [
      ['1', 'a ONE'],
      ['0', 'a ZERO'],
    ],
    (value) => change({ bit: value === '1' ? 1 : 0 }),
  );
  const observed = createChoice(
    'Probe on',
    [
      ['sense', 'the sense wire'],
      ['amplifier', 'the amplifier’s output'],
    ],
    (value) => change({ observed: value as Observed }),
  );
  const gain = createChoice(
    'Its gain',
    [
      ['fixed', 'is known'],
      ['free', 'is to be found'],
    ],
    (value) => change({ probeGain: value as BenchCapture['probeGain'] }),
  );
  const part = createChoice(
    'It holds',
    [
      ['read', 'the read'],
      ['any', 'any part of the cycle'],
    ],
    (value) => change({ part: value as BenchCapture['part'] }),
  );
  const write = h(
    'select',
    { id: 'bench-write', change: () => change({ write: write.value as WriteAfter }) },
    ...Object.entries(WRITE_WORDS).map(([value, text]) => h('option', { value }, text)),
  );
  const side = (name: 'row' | 'column') => {
    const input = h('input', {
      id: `bench-${name}`,
      type: 'number',
      min: 0,
      change: () => {
        const value = Math.round(Number(input.value));
        const inside = input.value !== '' && value >= 0 && value <= Number(input.max);
        change({ [name]: inside ? value : undefined });
        if (!inside) input.value = '';
      },
    });
    return input;
  };
  const row = side('row');
  const column = side('column');
  const node = h(
    'div',
    { class: 'bench-conditions' },
    h(
      'div',
      { class: 'place' },
      h('div', { class: 'field bench-name' }, h('label', { for: 'bench-chosen' }, 'Capture'), list),
      remove,
    ),
    h('div', { class: 'choice-row' }, bit.node, part.node, observed.node, gain.node),
    h(
      'div',
      { class: 'place' },
      h('div', { class: 'field narrow' }, h('label', { for: 'bench-row' }, 'Row read'), row),
      h('div', { class: 'field narrow' }, h('label', { for: 'bench-column' }, 'Column'), column),
      h('div', { class: 'field bench-name' }, h('label', { for: 'bench-write' }, 'Then written'), write),
    ),
  );
  return {
    node,
    update(rows, columns, at) {
      const capture = chosenCapture(state);
      if (!capture) return;
      put(list, ...state.captures.get().map(({ id, label }) => h('option', { value: id }, label)));
      list.value = String(capture.id);
      bit.update(String(capture.bit));
      observed.update(capture.observed);
      part.update(capture.part);
      gain.update(capture.probeGain);
      write.value = capture.write;
      for (const [input, most, value, own] of [
        [row, rows, capture.row, at.row],
        [column, columns, capture.column, at.column],
      ] as const) {
        input.max = String(most - 1);
        input.placeholder = String(own);
        input.value = value === undefined ? '' : String(value);
      }
    },
  };
}
