import { h, put } from '../../ui/dom.ts';
import { icon } from '../../ui/icons.ts';
import { showValue } from '../../ui/typing.ts';
import type { DesignWarning } from '../../model/run.ts';
import { rawAt, withValueAt, type RawDesign } from '../../model/pointer.ts';

/** A fault of the design as typed, to be shown beside the field it names. */
export interface FieldFault {
  readonly field: string;
  readonly message: string;
}

export interface KeyInputsCallbacks {
  readonly onEdit: (raw: RawDesign) => void;
}

export interface KeyInputs {
  readonly node: HTMLElement;
  update(
    raw: RawDesign,
    shown: (pointer: string) => string,
    faults: readonly FieldFault[],
    warnings: readonly DesignWarning[],
  ): void;
}

interface KeyField {
  readonly label: string;
  /** The first is read; all are written. */
  readonly pointers: readonly string[];
  /** Written too where the design states them. */
  readonly also?: readonly string[];
  readonly options?: readonly (readonly [string, string])[];
}

const SIZES = [4, 8, 16, 32, 64, 128];

/** The six inputs that matter most; everything else is in the full editor. */
const FIELDS: readonly KeyField[] = [
  {
    label: 'Mat size',
    pointers: ['/mat/rows', '/mat/columns'],
    options: SIZES.map((n) => [String(n), `${n} × ${n}`] as const),
  },
  {
    label: 'Winding',
    pointers: ['/winding/kind'],
    options: [
      ['shared-one-run', 'shared, one run'],
      ['shared-two-halves', 'shared, two halves'],
      ['separate-diagonal', 'separate, diagonal'],
      ['separate-rectangular', 'separate, rectangular'],
    ],
  },
  {
    label: 'Drive current',
    pointers: ['/drive/x/readAmplitude', '/drive/y/readAmplitude'],
    also: ['/drive/x/writeAmplitude', '/drive/y/writeAmplitude'],
  },
  { label: 'Edge time', pointers: ['/drive/x/rise', '/drive/x/fall', '/drive/y/rise', '/drive/y/fall'] },
  { label: 'Temperature', pointers: ['/temperature'] },
  { label: 'Bandwidth', pointers: ['/amplifier/bandwidth'] },
];

export function createKeyInputs(callbacks: KeyInputsCallbacks): KeyInputs {
  let raw: RawDesign = {};
  const rows = FIELDS.map((field, i) => {
    const id = `key-${i}`;
    const commit = (text: string) => {
      const value = field.options && /^\d+$/.test(text) ? Number(text) : text;
      const stated = (field.also ?? []).filter((pointer) => rawAt(raw, pointer) !== undefined);
      callbacks.onEdit(
        [...field.pointers, ...stated].reduce((next, pointer) => withValueAt(next, pointer, value), raw),
      );
    };
    const control = field.options
      ? h(
          'select',
          { id, change: () => commit(control.value) },
          ...field.options.map(([value, text]) => h('option', { value }, text)),
        )
      : h('input', {
          id,
          type: 'text',
          autocomplete: 'off',
          spellcheck: 'false',
          change: () => commit(control.value.trim()),
        });
    const message = h('p', { class: 'field-error', id: `${id}-error`, hidden: true });
    const node = h('div', { class: 'field' }, h('label', { for: id }, field.label), control, message);
    return { field, control, message, node };
  });
  const node = h(
    'form',
    { class: 'key-inputs', 'aria-label': 'The six inputs that matter most' },
    ...rows.map((row) => row.node),
  );
  node.addEventListener('submit', (event) => event.preventDefault());
  return {
    node,
    update(next, shown, faults, warnings) {
      raw = next;
      for (const { field, control, message } of rows) {
        const pointer = field.pointers[0]!;
        const typed = rawAt(raw, pointer);
        const text = typed === undefined ? shown(pointer) : String(typed);
        if (control instanceof HTMLSelectElement) offer(control, text);
        showValue(control, text);
        const mine = faults.find((fault) => field.pointers.includes(fault.field));
        const written = [...field.pointers, ...(field.also ?? [])];
        const warning = mine ? undefined : warnings.find((item) => written.includes(item.field));
        message.hidden = !mine && !warning;
        message.className = mine ? 'field-error' : 'field-warning';
        control.setAttribute('aria-invalid', String(Boolean(mine)));
        if (mine) put(message, icon('error'), ` ${mine.message}`);
        else if (warning) put(message, icon('warning'), ` ${warning.message} ${warning.remedy}`);
        if (message.hidden) control.removeAttribute('aria-describedby');
        else control.setAttribute('aria-describedby', message.id);
      }
    },
  };
}

/** A value that is not among the choices (a mat of 5 rows, a custom winding) is shown as it is. */
function offer(select: HTMLSelectElement, value: string): void {
  if (![...select.options].some((option) => option.value === value))
    select.append(h('option', { value }, value));
}
