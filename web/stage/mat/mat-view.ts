import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { storedBits } from '../../../engine/mat/stored-pattern.ts';
import { wirePath } from '../../../engine/mat/winding.ts';
import type { CoreShares } from '../../../engine/solver/result.ts';
import { coreAt, matChart, type MatSpaces } from '../../charts/mat-chart.ts';
import { h, put } from '../../ui/dom.ts';
import { rawAt, withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Run } from '../../model/run.ts';
import { matSummary } from '../../model/summaries.ts';
import { showValue } from '../../ui/typing.ts';
import { createFigure } from '../../sharing/figure.ts';
import { render } from 'lit-html';
import { wireSumChart } from '../../charts/mat-gives.ts';
import { choice } from '../../ui/choice.ts';
import { createMatShares } from './mat-shares.ts';

export interface MatViewCallbacks {
  readonly onEdit: (change: (raw: RawDesign) => RawDesign) => void;
  readonly onBit: (bit: 0 | 1) => void;
  readonly onShow: (shows: MatShows) => void;
}

export type MatShows = 'holds' | 'gives';

export interface MatView {
  readonly node: HTMLElement;
  /** `at`: s, the instant of which it is told what each core gives. */
  update(run: Run, bit: 0 | 1, at: number, shows: MatShows, width: number, em: number): void;
}

const FAULTS = [
  ['none', 'as the others'],
  ['missing', 'missing'],
  ['reversed', 'threaded backwards'],
  ['weak', 'weak: half the flux'],
  ['magnet', 'a magnet held to it: +1 A'],
] as const;
type Fault = (typeof FAULTS)[number][0];

/** The mat: which cores are driven how much, what they hold, how the wire runs; every core can be changed here. */
export function createMatView(callbacks: MatViewCallbacks): MatView {
  let run: Run | undefined;
  let bit: 0 | 1 = 1;
  let at = 0;
  let em = 1;
  let room = 0;
  let given: CoreShares | undefined;
  let spaces: MatSpaces | undefined;
  let focus = { row: 0, column: 0 };
  let bits: Uint8Array = new Uint8Array(0);

  const place = (name: 'row' | 'column') =>
    h('input', {
      id: `mat-${name}`,
      type: 'number',
      min: 0,
      step: 1,
      inputmode: 'numeric',
      change: () => movePlace(name),
    });
  const row = place('row');
  const column = place('column');
  const toggle = h('button', { type: 'button', click: () => toggleBit() }, 'Toggle its bit');
  const select = h('button', { type: 'button', click: () => selectCore() }, 'Select it');
  const fault = h(
    'select',
    { id: 'mat-fault', change: () => setFault(fault.value as Fault) },
    ...FAULTS.map(([value, text]) => h('option', { value }, text)),
  );
  let shows: MatShows = 'gives';
  const ways = h('div', {});
  const shares = createMatShares(() => draw());
  const told = h('p', { class: 'note told', 'aria-live': 'polite' });
  const pointed = h('p', { class: 'note small', 'aria-hidden': 'true' });
  const figure = createFigure({
    title: 'The mat',
    level: 'h2',
    className: 'mat-panel',
    tools: [ways],
  });
  const controls = h(
    'div',
    { class: 'place' },
    h('div', { class: 'field narrow' }, h('label', { for: 'mat-row' }, 'Row'), row),
    h('div', { class: 'field narrow' }, h('label', { for: 'mat-column' }, 'Column'), column),
    toggle,
    select,
    h('div', { class: 'field' }, h('label', { for: 'mat-fault' }, 'This core is'), fault),
  );
  const key = h(
    'p',
    { class: 'note small' },
    'Click a core to turn its bit; with Shift, to select it. By keyboard: arrows, Enter, Shift and Enter.',
  );
  const shareKey = h('p', { class: 'note small' });
  const sum = h('div', { class: 'wire-sum-plot' });
  figure.body.after(sum, shareKey, pointed, told, controls, key);
  figure.body.tabIndex = 0;
  figure.body.setAttribute('role', 'group');
  figure.body.setAttribute(
    'aria-label',
    'Cores of the mat: arrow keys go from core to core, Enter toggles the bit',
  );
  figure.body.addEventListener('keydown', (event) => {
    if (!run) return;
    if (event.key === 'Enter' || event.key === ' ') {
      if (event.shiftKey) selectCore();
      else toggleBit();
    } else {
      const next = neighbour(event.key, focus, run.design.mat);
      if (!next) return;
      focus = next;
    }
    event.preventDefault();
    draw();
  });
  figure.body.addEventListener('pointermove', (event) => {
    if (!spaces || !run || !given) return put(pointed);
    const box = figure.body.getBoundingClientRect();
    const core = coreAt(spaces, run.design.mat, event.clientX - box.left, event.clientY - box.top);
    put(pointed, core ? `Row ${core.row}, column ${core.column} ${givesText(run, core, given)}` : '');
  });

  figure.body.addEventListener('click', (event) => {
    if (!spaces || !run) return;
    const box = figure.body.getBoundingClientRect();
    const core = coreAt(spaces, run.design.mat, event.clientX - box.left, event.clientY - box.top);
    if (!core) return;
    focus = core;
    if (event.shiftKey) selectCore();
    else toggleBit();
    draw();
  });

  function movePlace(name: 'row' | 'column'): void {
    if (!run) return;
    const input = name === 'row' ? row : column;
    const size = name === 'row' ? run.design.mat.rows : run.design.mat.columns;
    const value = Math.min(Math.max(Math.round(Number(input.value)) || 0, 0), size - 1);
    focus = { ...focus, [name]: value };
    draw();
  }

  function toggleBit(): void {
    if (!run) return;
    const { mat, selected } = run.design;
    const core = { ...focus };
    if (core.row === selected.row && core.column === selected.column)
      return callbacks.onBit(bit === 1 ? 0 : 1);
    const now = Array.from({ length: mat.rows }, (_, r) =>
      Array.from(bits.subarray(r * mat.columns, (r + 1) * mat.columns)),
    );
    now[core.row]![core.column] = 1 - now[core.row]![core.column]!;
    callbacks.onEdit((raw) =>
      withValueAt(raw, '/stored', { kind: 'custom', rows: now.map((line) => line.join('')) }),
    );
  }

  function selectCore(): void {
    const core = { ...focus };
    callbacks.onEdit((raw) =>
      withValueAt(withValueAt(raw, '/selected/row', core.row), '/selected/column', core.column),
    );
  }

  function setFault(kind: Fault): void {
    const core = { ...focus };
    callbacks.onEdit((raw) => {
      const list = (rawAt(raw, '/exceptions') ?? []) as { row: number; column: number }[];
      const others = list.filter((item) => item.row !== core.row || item.column !== core.column);
      return withValueAt(
        raw,
        '/exceptions',
        kind === 'none'
          ? others.length > 0
            ? others
            : undefined
          : [...others, { ...core, ...FAULT_FIELDS[kind] }],
      );
    });
  }

  function draw(): void {
    if (!run) return;
    const { design } = run;
    const { mat, selected } = design;
    focus = { row: Math.min(focus.row, mat.rows - 1), column: Math.min(focus.column, mat.columns - 1) };
    bits = storedBits({ ...design, selected: { ...selected, bit } });
    const path = wirePath(design);
    given = shows === 'gives' ? shares.of(run, bit, at) : undefined;
    render(waysView(shows, callbacks.onShow), ways);
    const chart = matChart({
      name: matSummary(run, bits),
      rows: mat.rows,
      columns: mat.columns,
      bits,
      polarity: path.polarity,
      order: path.order,
      selected,
      focus,
      marked: design.exceptions.map((item) => item.row * mat.columns + item.column),
      ...(given ? { shares: given.emf } : {}),
      width: Math.min(room, 480 * em),
      em,
    });
    spaces = chart.spaces;
    put(figure.body, chart.node);
    showValue(row, String(focus.row));
    showValue(column, String(focus.column));
    row.max = String(mat.rows - 1);
    column.max = String(mat.columns - 1);
    fault.value = faultAt(run, focus);
    put(told, describe(run, focus, bits, path.polarity), given ? ` It ${givesText(run, focus, given)}` : '');
    put(
      shareKey,
      shows === 'holds' ? HOLDS_KEY : given ? sharesText(given, at) : 'Working out what each core gives.',
    );
    const selectedIndex = selected.row * mat.columns + selected.column;
    if (given)
      put(
        sum,
        wireSumChart({
          emf: given.emf,
          order: path.order,
          selected: selectedIndex,
          width: Math.min(room, 480 * em),
          em,
        }),
      );
    else put(sum);
    if (!given) put(pointed);
    const shown = run;
    const shownShares = given;
    figure.update(() => ({
      file: 'mat',
      title: 'The mat',
      summary: `${matSummary(shown, bits)}${shownShares ? ` ${sharesText(shownShares, shownShares.time)}` : ''}`,
      design,
      pictures: [{ svg: chart.node }],
      columns: matColumns(shown, bits, path.polarity, shownShares),
    }));
  }

  return {
    node: figure.node,
    update(nextRun, nextBit, nextAt, nextShows, width, nextEm) {
      shows = nextShows;
      room = width;
      if (nextRun.design !== run?.design && !sameSelected(nextRun, run))
        focus = { ...nextRun.design.selected };
      run = nextRun;
      bit = nextBit;
      at = nextAt;
      em = nextEm;
      draw();
    },
  };
}

/** Where an arrow, Home, End or Page key leads; undefined for any other key. */
export function neighbour(
  key: string,
  { row, column }: { readonly row: number; readonly column: number },
  mat: { readonly rows: number; readonly columns: number },
): { readonly row: number; readonly column: number } | undefined {
  const [lastRow, lastColumn] = [mat.rows - 1, mat.columns - 1];
  switch (key) {
    case 'ArrowUp':
      return { row: Math.max(0, row - 1), column };
    case 'ArrowDown':
      return { row: Math.min(lastRow, row + 1), column };
    case 'ArrowLeft':
      return { row, column: Math.max(0, column - 1) };
    case 'ArrowRight':
      return { row, column: Math.min(lastColumn, column + 1) };
    case 'Home':
      return { row, column: 0 };
    case 'End':
      return { row, column: lastColumn };
    case 'PageUp':
      return { row: 0, column };
    case 'PageDown':
      return { row: lastRow, column };
    default:
      return undefined;
  }
}

const volts = (value: number): string => formatQuantity(value, 'V', 3);

function givesText(
  run: Run,
  { row, column }: { readonly row: number; readonly column: number },
  { emf, time }: CoreShares,
): string {
  const value = emf[row * run.design.mat.columns + column] ?? 0;
  return `gives ${volts(value)} at ${formatQuantity(time, 's', 4)}.`;
}

/** `at`: s, the instant wanted; an older picture says so. */
function sharesText({ emf, time }: CoreShares, at: number): string {
  const all = emf.reduce((sum, value) => sum + value, 0);
  const most = emf.reduce((size, value) => Math.max(size, Math.abs(value)), 0);
  const following = Math.abs(time - at) > 1e-12 ? ', following the clock' : '';
  return (
    `Rings: what each core gives at ${formatQuantity(time, 's', 4)}${following}; solid adds, broken takes away, heaviest ${volts(most)}, ` +
    `${volts(all)} all together. Wire: over and under as threaded, with its sum from end A.`
  );
}

const HOLDS_KEY =
  'Filled: holds a ONE. Open: ZERO. Tilt: polarity on the wire. Heavy: half-selected. Boxed: selected. Dotted: the sense wire.';

const waysView = (shows: MatShows, onShow: (shows: MatShows) => void) =>
  choice({
    title: 'The mat shows',
    options: [
      ['holds', 'holds'],
      ['gives', 'gives now'],
    ],
    chosen: shows,
    onChoose: onShow,
  });

const sameSelected = (a: Run, b: Run | undefined): boolean =>
  a.design.selected.row === b?.design.selected.row && a.design.selected.column === b.design.selected.column;

const FAULT_FIELDS: Readonly<Record<Exclude<Fault, 'none'>, object>> = {
  missing: { missing: true },
  reversed: { reversed: true },
  weak: { fluxFactor: 0.5 },
  magnet: { bias: '1 A' },
};

function faultAt(run: Run, at: { readonly row: number; readonly column: number }): Fault {
  const found = run.design.exceptions.find((item) => item.row === at.row && item.column === at.column);
  if (!found) return 'none';
  if (found.missing) return 'missing';
  if (found.reversed) return 'reversed';
  return found.bias === 0 ? 'weak' : 'magnet';
}

function describe(
  run: Run,
  at: { readonly row: number; readonly column: number },
  bits: Uint8Array,
  polarity: Int8Array,
): string {
  const { mat, selected } = run.design;
  const index = at.row * mat.columns + at.column;
  const onRow = at.row === selected.row;
  const onColumn = at.column === selected.column;
  const driven =
    onRow && onColumn
      ? 'selected'
      : onRow
        ? 'half-selected by X'
        : onColumn
          ? 'half-selected by Y'
          : 'not selected';
  return `Row ${at.row}, column ${at.column}: holds a ${bits[index] === 1 ? 'ONE' : 'ZERO'}, ${driven}, polarity ${(polarity[index] ?? 1) > 0 ? '+1' : '−1'}.`;
}

function matColumns(run: Run, bits: Uint8Array, polarity: Int8Array, shares: CoreShares | undefined) {
  const { mat, selected } = run.design;
  const index = Array.from(bits, (_, i) => i);
  const rowOf = (i: number) => Math.floor(i / mat.columns);
  return [
    { title: 'row', values: index.map(rowOf) },
    { title: 'column', values: index.map((i) => i % mat.columns) },
    { title: 'bit', values: bits },
    { title: 'polarity', values: polarity },
    {
      title: 'driven by',
      values: index.map(
        (i) =>
          ['none', 'X', 'Y', 'X and Y'][
            Number(rowOf(i) === selected.row) + 2 * Number(i % mat.columns === selected.column)
          ]!,
      ),
    },
    ...(shares ? [{ title: `gives at ${formatQuantity(shares.time, 's', 4)} / V`, values: shares.emf }] : []),
  ];
}
