import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { h, put } from '../ui/dom.ts';
import { differences, rawAt, type RawDesign } from '../model/pointer.ts';
import { MAX_PINS, type Pin } from '../state/atoms.ts';
import { strobeStateAt } from '../model/strobe-state.ts';

export interface PinsCallbacks {
  readonly onPin: () => void;
  readonly onRestore: (raw: RawDesign) => void;
  readonly onRemove: (index: number) => void;
}

export interface Pins {
  readonly node: HTMLElement;
  update(pins: readonly Pin[]): void;
}

/** Up to four runs side by side: what came out, and only the inputs in which they differ. */
export function createPins(callbacks: PinsCallbacks): Pins {
  const pin = h('button', { type: 'button', click: callbacks.onPin }, 'Pin this run');
  const body = h('div', { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': 'Pinned runs' });
  const node = h(
    'section',
    { class: 'panel pins' },
    h('div', { class: 'panel-head' }, h('h2', {}, 'Compare'), pin),
    body,
  );
  return {
    node,
    update(pins) {
      pin.disabled = pins.length >= MAX_PINS;
      if (pins.length === 0)
        return put(
          body,
          h(
            'p',
            { class: 'note' },
            `Pin up to ${MAX_PINS} runs; the inputs in which they differ stand beside their results.`,
          ),
        );
      put(body, pinTable(pins, callbacks));
    },
  };
}

/** JSON pointers at which any of the designs differs from the first. */
export function differingInputs(designs: readonly RawDesign[]): string[] {
  const [first, ...others] = designs;
  return [...new Set(others.flatMap((other) => differences(first, other)))].filter(
    (at) => at !== '/name' && at !== '/note',
  );
}

function pinTable(pins: readonly Pin[], callbacks: PinsCallbacks): HTMLTableElement {
  const inputs = differingInputs(pins.map((pin) => pin.raw));
  const line = (title: string, cell: (pin: Pin) => string) =>
    h('tr', {}, h('th', { scope: 'row' }, title), ...pins.map((pin) => h('td', {}, cell(pin))));
  const results = pins.map((pin) =>
    strobeStateAt(pin.run, pin.run.design.strobe.time, pin.run.design.detector.threshold),
  );
  const result = (title: string, text: (i: number) => string) =>
    line(title, (pin) => text(pins.indexOf(pin)));
  const volts = (value: number | undefined) => (value === undefined ? 'none' : formatQuantity(value, 'V', 3));
  return h(
    'table',
    {},
    h('caption', { class: 'visually-hidden' }, 'Pinned runs: results, and the inputs that differ'),
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        h('td', {}),
        ...pins.map((pin, i) =>
          h(
            'th',
            { scope: 'col' },
            `${i + 1}. ${pin.name}`,
            h(
              'div',
              { class: 'button-row' },
              h('button', { type: 'button', click: () => callbacks.onRestore(pin.raw) }, 'Go back to it'),
              h(
                'button',
                { type: 'button', 'aria-label': `Remove run ${i + 1}`, click: () => callbacks.onRemove(i) },
                'Remove',
              ),
            ),
          ),
        ),
      ),
    ),
    h(
      'tbody',
      {},
      result('Margin total', (i) => volts(results[i]?.margin.total)),
      result('Margin ONE', (i) => volts(results[i]?.margin.one)),
      result('Margin ZERO', (i) => volts(results[i]?.margin.zero)),
      result('Window width', (i) =>
        results[i]?.here ? formatQuantity(results[i].here.end - results[i].here.start, 's', 3) : 'none',
      ),
      result('Strobe', (i) => (results[i] ? formatQuantity(results[i].time, 's', 4) : 'none')),
      ...(inputs.length === 0 && pins.length > 1 ? [line('Inputs', () => 'all the same')] : []),
      ...inputs.map((pointer) =>
        line(pointer.slice(1).replaceAll('/', ' › '), (pin) => shownValue(rawAt(pin.raw, pointer))),
      ),
    ),
  );
}

function shownValue(value: unknown): string {
  if (value === undefined) return 'default';
  const text = typeof value === 'object' ? JSON.stringify(value) : String(value);
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}
