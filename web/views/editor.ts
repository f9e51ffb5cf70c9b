import { designFieldGroups, type DesignField } from '../design-fields.ts';
import { h, put } from '../dom.ts';
import { icon } from '../icons.ts';
import { rawAt, withValueAt, type RawDesign } from '../pointer.ts';
import { showValue } from '../typing.ts';
import type { DesignWarning } from '../run.ts';
import type { FieldFault } from './key-inputs.ts';

export interface EditorCallbacks {
  readonly onEdit: (raw: RawDesign) => void;
}

export interface Editor {
  readonly node: HTMLElement;
  update(raw: RawDesign, faults: readonly FieldFault[], warnings: readonly DesignWarning[]): void;
}

interface Row {
  readonly field: DesignField;
  readonly control: HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;
  readonly message: HTMLElement;
}

/** Every input of the design, made from its own schema: unit, range and help; what is typed is kept as typed. */
export function createEditor(callbacks: EditorCallbacks): Editor {
  let raw: RawDesign = {};
  let rows: readonly Row[] | undefined;
  let pending: Parameters<Editor['update']> | undefined;
  const filter = h('input', {
    id: 'editor-filter',
    type: 'text',
    autocomplete: 'off',
    input: () => applyFilter(),
  });
  const list = h('div', { class: 'editor-groups' });
  const node = h(
    'details',
    { class: 'editor', id: 'editor' },
    h('summary', {}, 'Every input of the design'),
    h('div', { class: 'field editor-filter' }, h('label', { for: 'editor-filter' }, 'Find an input'), filter),
    list,
  );
  node.addEventListener('toggle', () => {
    if (node.open && pending) show(...pending);
  });

  function build(): readonly Row[] {
    const made: Row[] = [];
    put(
      list,
      ...designFieldGroups().map((group) =>
        h(
          'fieldset',
          { class: 'editor-group' },
          h('legend', {}, group.title),
          h('p', { class: 'note small' }, group.help),
          h(
            'div',
            { class: 'editor-fields' },
            ...group.fields.map((field) => {
              const { row, node: field_ } = createRow(field, commit);
              made.push(row);
              return field_;
            }),
          ),
        ),
      ),
    );
    return made;
  }

  function commit(field: DesignField, text: string): void {
    callbacks.onEdit(withValueAt(raw, field.pointer, typedValue(field, text)));
  }

  function applyFilter(): void {
    const wanted = filter.value.trim().toLowerCase();
    for (const group of list.querySelectorAll<HTMLElement>('fieldset')) {
      let any = false;
      for (const field of group.querySelectorAll<HTMLElement>('.field')) {
        const hit =
          wanted === '' ||
          `${group.querySelector('legend')?.textContent} ${field.textContent}`.toLowerCase().includes(wanted);
        field.hidden = !hit;
        any ||= hit;
      }
      group.hidden = !any;
    }
  }

  function show(next: RawDesign, faults: readonly FieldFault[], warnings: readonly DesignWarning[]): void {
    raw = next;
    rows ??= build();
    for (const { field, control, message } of rows) {
      const text = typedText(rawAt(raw, field.pointer));
      showValue(control, text);
      const fault = faults.find(
        (item) => item.field === field.pointer || item.field.startsWith(`${field.pointer}/`),
      );
      const warning = warnings.find((item) => item.field === field.pointer);
      control.setAttribute('aria-invalid', String(Boolean(fault)));
      message.className = fault ? 'field-error' : 'field-warning';
      message.hidden = !fault && !warning;
      if (fault) put(message, icon('error'), fault.message);
      else if (warning) put(message, icon('warning'), `${warning.message} ${warning.remedy}`);
    }
  }

  return {
    node,
    update(...next) {
      pending = next;
      raw = next[0];
      if (node.open) show(...next);
    },
  };
}

function createRow(
  field: DesignField,
  commit: (field: DesignField, text: string) => void,
): { row: Row; node: HTMLElement } {
  const id = `field${field.pointer.replaceAll('/', '-')}`;
  const help = h(
    'p',
    { class: 'note small', id: `${id}-help` },
    [field.help, field.range && `Takes ${field.range}.`, field.start && `If left out: ${field.start}.`]
      .filter(Boolean)
      .join(' '),
  );
  const message = h('p', { class: 'field-error', id: `${id}-error`, hidden: true });
  const shared = {
    id,
    'aria-describedby': `${help.id} ${message.id}`,
    change: () => commit(field, control.value),
  };
  const options = field.kind === 'flag' ? ['true', 'false'] : field.options;
  const control: Row['control'] =
    options.length > 0
      ? h(
          'select',
          shared,
          h('option', { value: '' }, 'left out'),
          ...options.map((value) => h('option', { value }, value)),
        )
      : field.kind === 'list'
        ? h('textarea', { ...shared, rows: 2, spellcheck: 'false' })
        : h('input', {
            ...shared,
            type: 'text',
            autocomplete: 'off',
            spellcheck: 'false',
            placeholder: field.start,
          });
  return {
    row: { field, control, message },
    node: h('div', { class: 'field' }, h('label', { for: id }, field.label), control, message, help),
  };
}

/** What a field holds after typing: text with its unit as typed, plain numbers for counts and ratios, JSON for lists. */
export function typedValue(field: Pick<DesignField, 'kind'>, text: string): unknown {
  const trimmed = text.trim();
  if (trimmed === '') return undefined;
  switch (field.kind) {
    case 'count':
    case 'ratio':
      return Number.isFinite(Number(trimmed.replace(',', '.'))) ? Number(trimmed.replace(',', '.')) : trimmed;
    case 'flag':
      return trimmed === 'true';
    case 'list':
      try {
        return JSON.parse(trimmed) as unknown;
      } catch {
        return trimmed;
      }
    default:
      return trimmed;
  }
}

function typedText(value: unknown): string {
  if (value === undefined) return '';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}
