import type { Json } from '../../engine/base/json-patch.ts';
import type { StudyKind } from '../../engine/studies/shared/shape.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { STUDY_FORMS, type StudyField, type StudyForm } from './study-fields.ts';

export interface StudyFormView {
  readonly node: HTMLElement;
  /** A refusal beside the field it names, or under the form. */
  refuse(message: string, field: string): void;
  running(on: boolean): void;
}

export interface StudyFormCallbacks {
  readonly onStart: (kind: StudyKind, options: { [name: string]: Json }) => void;
  readonly onCancel: () => void;
}

/** Which study, and its options with their starting values. */
export function createStudyForm({ onStart, onCancel }: StudyFormCallbacks): StudyFormView {
  let form = STUDY_FORMS[0]!;
  let controls: ReturnType<typeof control>[] = [];
  const radios = STUDY_FORMS.map((choice) => {
    const input = h('input', {
      type: 'radio',
      name: 'study-kind',
      value: choice.kind,
      change: () => show(choice),
    });
    input.checked = choice === form;
    return h('label', {}, input, choice.title);
  });
  const about = h('p', { class: 'note' });
  const fields = h('div', { class: 'study-fields' });
  const message = h('p', { class: 'field-error', role: 'alert', hidden: true });
  const start = h('button', { type: 'submit' }, 'Compute');
  const cancel = h('button', { type: 'button', hidden: true, click: onCancel }, 'Cancel');
  const node = h(
    'form',
    { class: 'study-form', 'aria-label': 'Study' },
    h('fieldset', { class: 'choices' }, h('legend', {}, 'Study'), ...radios),
    about,
    fields,
    message,
    h('div', { class: 'button-row' }, start, cancel),
  );

  function show(next: StudyForm): void {
    form = next;
    controls = next.fields.map((field, i) => control(field, `study-${next.kind}-${i}`));
    put(about, next.about);
    put(fields, ...controls.map((each) => each.node));
    message.hidden = true;
  }

  node.addEventListener('submit', (event) => {
    event.preventDefault();
    message.hidden = true;
    for (const each of controls) each.refuse(undefined);
    const given = controls.flatMap(({ field, text }) => {
      const value = text();
      return value === '' ? [] : [[field.name, field.read(value)] as const];
    });
    onStart(form.kind, Object.fromEntries(given));
  });
  show(form);

  return {
    node,
    refuse(text, field) {
      const name = /^\/options\/([^/]+)/u.exec(field)?.[1];
      const own = controls.find((each) => each.field.name === name);
      if (own) return own.refuse(text);
      message.hidden = false;
      put(message, icon('error'), text);
    },
    running(on) {
      start.disabled = on;
      cancel.hidden = !on;
    },
  };
}

function control(field: StudyField, id: string) {
  const { choices, start } = field;
  const help = h('p', { class: 'note small', id: `${id}-help` }, field.help);
  const shared = { id, 'aria-describedby': help.id };
  const input =
    choices.length > 0
      ? h('select', shared, ...choices.map(([value, text]) => h('option', { value }, text)))
      : h('input', {
          ...shared,
          type: 'text',
          autocomplete: 'off',
          spellcheck: 'false',
        });
  input.value = start;
  const error = h('p', { class: 'field-error', id: `${id}-error`, hidden: true });
  const node = h('div', { class: 'field' }, h('label', { for: id }, field.label), input, error, help);
  return {
    field,
    node,
    text: (): string => input.value.trim(),
    refuse(text: string | undefined): void {
      error.hidden = text === undefined;
      input.setAttribute('aria-invalid', String(text !== undefined));
      input.setAttribute('aria-describedby', text === undefined ? help.id : `${error.id} ${help.id}`);
      if (text === undefined) return;
      put(error, icon('error'), text);
      input.focus();
    },
  };
}
