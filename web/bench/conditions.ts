import { readQuantity } from '../../engine/base/units.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Observed } from '../../engine/fitting/compare.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { createChoice } from './view-tools.ts';
import type { BenchCapture, WriteAfter } from '../model/bench-capture.ts';
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
  update(design: Design): void;
} {
  const list = h('select', {
    id: 'bench-chosen',
    change: () => {
      state.chosenCapture.value = Number(list.value);
    },
  });
  const remove = h(
    'button',
    {
      type: 'button',
      click: () => {
        const id = state.chosenCapture.value;
        if (id !== undefined) removeCapture(state, id);
      },
    },
    'Take it off',
  );
  const change = (part: Partial<BenchCapture>): void => {
    const id = state.chosenCapture.value;
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
  const polarity = createChoice(
    'Its polarity',
    [
      ['either', 'is to be found'],
      ['as-predicted', 'is right'],
      ['reversed', 'is turned round'],
    ],
    (value) => change({ polarity: value as BenchCapture['polarity'] }),
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
  const current = h('input', {
    id: 'bench-current',
    type: 'text',
    autocomplete: 'off',
    change: () => {
      const text = current.value.trim();
      const reading = text === '' ? undefined : readQuantity(text, 'A');
      const wrong = reading !== undefined && !reading.ok ? reading.why : undefined;
      error.hidden = wrong === undefined;
      current.setAttribute('aria-invalid', String(!error.hidden));
      put(
        error,
        icon('error'),
        `The read current must be a current with its unit, but it ${wrong}: write it like 340 mA.`,
      );
      if (wrong === undefined) change({ readCurrent: text });
    },
  });
  const error = h('p', { class: 'field-error', id: 'bench-current-error', role: 'alert', hidden: true });
  current.setAttribute('aria-describedby', error.id);
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
    h('div', { class: 'choice-row' }, bit.node, part.node, observed.node, gain.node, polarity.node),
    h(
      'div',
      { class: 'place' },
      h('div', { class: 'field narrow' }, h('label', { for: 'bench-row' }, 'Row read'), row),
      h('div', { class: 'field narrow' }, h('label', { for: 'bench-column' }, 'Column'), column),
      h('div', { class: 'field bench-name' }, h('label', { for: 'bench-write' }, 'Then written'), write),
      h(
        'div',
        { class: 'field bench-current' },
        h('label', { for: current.id }, 'Read current of X and Y'),
        current,
        error,
      ),
    ),
  );
  return {
    node,
    update({ mat, selected, drive }) {
      const capture = chosenCapture(state);
      if (!capture) return;
      put(list, ...state.captures.value.map(({ id, label }) => h('option', { value: id }, label)));
      list.value = String(capture.id);
      bit.update(String(capture.bit));
      observed.update(capture.observed);
      part.update(capture.part);
      gain.update(capture.probeGain);
      polarity.update(capture.polarity);
      current.disabled = drive.x.source.kind !== 'current' || drive.y.source.kind !== 'current';
      current.placeholder = current.disabled ? 'as the voltage gives' : 'as the design says';
      if (error.hidden) current.value = capture.readCurrent;
      write.value = capture.write;
      for (const [input, most, value, own] of [
        [row, mat.rows, capture.row, selected.row],
        [column, mat.columns, capture.column, selected.column],
      ] as const) {
        input.max = String(most - 1);
        input.placeholder = String(own);
        input.value = value === undefined ? '' : String(value);
      }
    },
  };
}
