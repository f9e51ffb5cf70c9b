import type { FieldFault } from '../model/checked.ts';
import { designFieldGroups, typedText, typedValue, type DesignField } from '../model/design-fields.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { listShape } from '../model/list-shape.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import { showValue } from '../ui/typing.ts';
import type { DesignWarning } from '../model/run.ts';
import { createListEditor } from './list-editor.ts';

export interface EditorCallbacks {
  readonly onSet: (pointer: string, value: unknown) => void;
  readonly onFind: (text: string) => void;
}

export interface Editor {
  readonly node: HTMLElement;
  /** `find`: only the inputs that have this text about them. */
  update(
    raw: RawDesign,
    faults: readonly FieldFault[],
    warnings: readonly DesignWarning[],
    find: string,
  ): void;
}

interface Row {
  readonly field: DesignField;
  /** Shows a value, and which parts of it (pointers within it, "" for all) are refused. */
  readonly show: (value: unknown, faulty: readonly string[]) => void;
  readonly message: HTMLElement;
}

/** Every input of the design, made from its own schema: unit, range and help; what is typed is kept as typed. */
export function createEditor(callbacks: EditorCallbacks): Editor {
  let rows: readonly Row[] | undefined;
  const filter = h('input', {
    id: 'editor-filter',
    type: 'text',
    autocomplete: 'off',
    input: () => callbacks.onFind(filter.value),
  });
  const list = h('div', { class: 'editor-groups' });
  const node = h(
    'div',
    { class: 'editor', id: 'editor' },
    h('div', { class: 'field editor-filter' }, h('label', { for: 'editor-filter' }, 'Find an input'), filter),
    list,
  );

  /** What the design states comes first in each group; the rest holds its default. */
  function build(raw: RawDesign): readonly Row[] {
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
            ...statedFirst(group.fields, raw).map((field) => {
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

  function commit(field: DesignField, value: unknown): void {
    callbacks.onSet(field.pointer, value);
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

  function show(
    next: RawDesign,
    faults: readonly FieldFault[],
    warnings: readonly DesignWarning[],
    find: string,
  ): void {
    rows ??= build(next);
    if (filter.value.trim() !== find.trim()) filter.value = find;
    applyFilter();
    for (const { field, show: showRow, message } of rows) {
      const mine = faults.filter(
        (item) => item.field === field.pointer || item.field.startsWith(`${field.pointer}/`),
      );
      const [fault] = mine;
      showRow(
        rawAt(next, field.pointer),
        mine.map((item) => item.field.slice(field.pointer.length)),
      );
      const warning = warnings.find((item) => item.field === field.pointer);
      message.className = fault ? 'field-error' : 'field-warning';
      message.hidden = !fault && !warning;
      if (fault) put(message, icon('error'), fault.message);
      else if (warning) put(message, icon('warning'), `${warning.message} ${warning.remedy}`);
    }
  }

  return {
    node,
    update: show,
  };
}

const statedFirst = (fields: readonly DesignField[], raw: RawDesign): readonly DesignField[] =>
  [...fields].sort(
    (a, b) => Number(rawAt(raw, b.pointer) !== undefined) - Number(rawAt(raw, a.pointer) !== undefined),
  );

function createRow(
  field: DesignField,
  commit: (field: DesignField, value: unknown) => void,
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
  const describedBy = `${help.id} ${message.id}`;
  if (field.node) {
    const name = field.pointer.slice(field.pointer.lastIndexOf('/') + 1);
    const list = createListEditor({
      id,
      label: field.label,
      shape: listShape(field.node, name),
      describedBy,
      onChange: (value) => commit(field, value),
    });
    return {
      row: { field, show: list.update, message },
      node: h(
        'div',
        { class: 'field list-field' },
        h('span', { class: 'label' }, field.label),
        list.node,
        message,
        help,
      ),
    };
  }
  const control = createControl(field, id, describedBy, (text) => commit(field, typedValue(field, text)));
  const show = (value: unknown, faulty: readonly string[]) => {
    showValue(control, typedText(value));
    control.setAttribute('aria-invalid', String(faulty.length > 0));
  };
  return {
    row: { field, show, message },
    node: h('div', { class: 'field' }, h('label', { for: id }, field.label), control, message, help),
  };
}

function createControl(
  field: DesignField,
  id: string,
  describedBy: string,
  commit: (text: string) => void,
): HTMLInputElement | HTMLSelectElement {
  const shared = { id, 'aria-describedby': describedBy, change: () => commit(control.value) };
  const options = field.kind === 'flag' ? ['true', 'false'] : field.options;
  const control: HTMLInputElement | HTMLSelectElement =
    options.length > 0
      ? h(
          'select',
          shared,
          h('option', { value: '' }, 'left out'),
          ...options.map((value) => h('option', { value }, value)),
        )
      : h('input', {
          ...shared,
          type: 'text',
          autocomplete: 'off',
          spellcheck: 'false',
          placeholder: field.start,
        });
  return control;
}
