import { formatQuantity } from '../../../engine/index.ts';
import { sampleAt } from '../../charts/decimate.ts';
import { h, put } from '../../ui/dom.ts';
import { readSpan } from '../../model/read-span.ts';
import type { Run } from '../../model/run.ts';
import type { AppState, ClickPlaces } from '../../state.ts';
import type { StrobeState } from '../../model/strobe-state.ts';
import { plainVolts } from '../../model/summaries.ts';
import { samplesOf } from '../../model/traces.ts';
import { createChoice } from './view-tools.ts';

/** Two cursors on the main panel: times, values, and their difference. */
export function createCursorReadout(state: AppState): {
  readonly node: HTMLElement;
  update(run: Run, strobe: StrobeState): void;
} {
  const toggle = h('input', { id: 'cursors', type: 'checkbox', change: () => setOn(toggle.checked) });
  const places = createChoice(
    'A click places',
    [
      ['strobe', 'the strobe'],
      ['a', 'cursor A'],
      ['b', 'cursor B'],
    ],
    (value) => state.clickPlaces.set(value as ClickPlaces),
  );
  const table = h('table', { class: 'cursor-table' });
  const scroll = h(
    'div',
    { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': 'Cursors' },
    table,
  );
  const node = h(
    'div',
    { class: 'cursor-row' },
    h('label', { class: 'check', for: 'cursors' }, toggle, 'two cursors'),
    places.node,
    scroll,
  );

  function setOn(on: boolean): void {
    const design = state.judged.get()?.design;
    const span = state.span.get() ?? (design ? readSpan(design) : { from: 0, to: 1e-6 });
    const part = (fraction: number) => span.from + (span.to - span.from) * fraction;
    state.cursors.set(on ? { a: part(0.25), b: part(0.4) } : undefined);
    if (!on) state.clickPlaces.set('strobe');
  }

  return {
    node,
    update(run, strobe) {
      const cursors = state.cursors.get();
      toggle.checked = cursors !== undefined;
      places.node.hidden = scroll.hidden = !cursors;
      places.update(state.clickPlaces.get());
      if (!cursors) return;
      const one = (time: number) => sampleAt(samplesOf(run, strobe.envelope.one), time);
      const zero = (time: number) => sampleAt(samplesOf(run, strobe.envelope.zero), time);
      const line = (name: string, time: number, ofOne: number, ofZero: number) =>
        h(
          'tr',
          {},
          h('th', { scope: 'row' }, name),
          h('td', {}, formatQuantity(time, 's', 5)),
          h('td', {}, plainVolts(ofOne)),
          h('td', {}, plainVolts(ofZero)),
        );
      const { a, b } = cursors;
      const heads = ['', 'time', 'least ONE', 'greatest ZERO'].map((text) =>
        text ? h('th', { scope: 'col' }, text) : h('td', {}),
      );
      put(
        table,
        h('caption', { class: 'visually-hidden' }, 'Cursors'),
        h('thead', {}, h('tr', {}, ...heads)),
        h(
          'tbody',
          {},
          line('A', a, one(a), zero(a)),
          line('B', b, one(b), zero(b)),
          line('B − A', b - a, one(b) - one(a), zero(b) - zero(a)),
        ),
      );
    },
  };
}
