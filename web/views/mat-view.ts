import { storedBits, wirePath } from '../../engine/index.ts';
import { coreAt, matChart, type MatSpaces } from '../chart/mat-chart.ts';
import { h, put } from '../dom.ts';
import { rawAt, withValueAt, type RawDesign } from '../pointer.ts';
import type { Run } from '../run.ts';
import { matSummary } from '../summaries.ts';
import { showValue } from '../typing.ts';
import { createFigure } from './figure.ts';

export interface MatViewCallbacks {
  readonly onEdit: (change: (raw: RawDesign) => RawDesign) => void;
  readonly onBit: (bit: 0 | 1) => void;
}

export interface MatView {
  readonly node: HTMLElement;
  update(run: Run, bit: 0 | 1, em: number): void;
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
  let em = 1;
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
  const wire = h('input', { id: 'mat-wire', type: 'checkbox', change: () => draw() });
  const told = h('p', { class: 'note', 'aria-live': 'polite' });
  const figure = createFigure({
    title: 'The mat',
    level: 'h2',
    className: 'mat-panel',
    tools: [h('label', { class: 'check', for: 'mat-wire' }, wire, 'wire path')],
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
    'Filled: holds a ONE. Open: ZERO. Tilt: polarity on the wire. Heavy: half-selected. Boxed: selected. Click a core to toggle its bit; hold Shift to select it.',
  );
  figure.body.after(key, controls, told);

  figure.body.addEventListener('click', (event) => {
    if (!spaces || !run) return;
    const box = figure.body.getBoundingClientRect();
    const at = coreAt(spaces, run.design.mat, event.clientX - box.left, event.clientY - box.top);
    if (!at) return;
    focus = at;
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
    const at = { ...focus };
    if (at.row === selected.row && at.column === selected.column) return callbacks.onBit(bit === 1 ? 0 : 1);
    const now = Array.from({ length: mat.rows }, (_, r) =>
      Array.from(bits.subarray(r * mat.columns, (r + 1) * mat.columns)),
    );
    now[at.row]![at.column] = 1 - now[at.row]![at.column]!;
    callbacks.onEdit((raw) =>
      withValueAt(raw, '/stored', { kind: 'custom', rows: now.map((line) => line.join('')) }),
    );
  }

  function selectCore(): void {
    const at = { ...focus };
    callbacks.onEdit((raw) =>
      withValueAt(withValueAt(raw, '/selected/row', at.row), '/selected/column', at.column),
    );
  }

  function setFault(kind: Fault): void {
    const at = { ...focus };
    callbacks.onEdit((raw) => {
      const list = (rawAt(raw, '/exceptions') ?? []) as { row: number; column: number }[];
      const others = list.filter((item) => item.row !== at.row || item.column !== at.column);
      return withValueAt(
        raw,
        '/exceptions',
        kind === 'none'
          ? others.length > 0
            ? others
            : undefined
          : [...others, { ...at, ...FAULT_FIELDS[kind] }],
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
    const chart = matChart({
      name: matSummary(run, bits),
      rows: mat.rows,
      columns: mat.columns,
      bits,
      polarity: path.polarity,
      order: wire.checked ? path.order : undefined,
      selected,
      focus,
      marked: design.exceptions.map((item) => item.row * mat.columns + item.column),
      width: Math.min(figure.body.clientWidth, 480 * em),
      em,
    });
    spaces = chart.spaces;
    put(figure.body, chart.node);
    showValue(row, String(focus.row));
    showValue(column, String(focus.column));
    row.max = String(mat.rows - 1);
    column.max = String(mat.columns - 1);
    fault.value = faultAt(run, focus);
    put(told, describe(run, focus, bits, path.polarity));
    const shown = run;
    figure.update(() => ({
      file: 'mat',
      title: 'The mat',
      summary: matSummary(shown, bits),
      design,
      pictures: [{ svg: chart.node }],
      columns: matColumns(shown, bits, path.polarity),
    }));
  }

  return {
    node: figure.node,
    update(nextRun, nextBit, nextEm) {
      if (nextRun.design !== run?.design && !sameSelected(nextRun, run))
        focus = { ...nextRun.design.selected };
      run = nextRun;
      bit = nextBit;
      em = nextEm;
      draw();
    },
  };
}

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

function matColumns(run: Run, bits: Uint8Array, polarity: Int8Array) {
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
  ];
}
