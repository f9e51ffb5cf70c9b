import {
  DELIMITERS,
  TIME_UNITS,
  VALUE_UNITS,
  type CaptureOptions,
  type CapturePreview,
} from '../../engine/capture/capture.ts';
import { h } from '../ui/dom.ts';
import { DELIMITER_WORDS, ENCODING_WORDS } from './capture-words.ts';

type Choice = readonly [value: string, text: string];

interface Override {
  readonly name: keyof CaptureOptions;
  readonly label: string;
  readonly choices: readonly Choice[];
  readonly read: (text: string) => unknown;
}

const asText = (text: string): unknown => text;
const same = (names: readonly string[]): Choice[] => names.map((name) => [name, name.replace(/^u/u, 'µ')]);

/** Everything that can be told about a text which it does not say itself, or says wrongly. */
function overridesFor(preview: CapturePreview): readonly Override[] {
  const columns = preview.columns.map(({ name }, i): Choice => [
    String(i + 1),
    `${i + 1}${name.startsWith('column ') ? '' : `, ${name}`}`,
  ]);
  return [
    {
      name: 'delimiter',
      label: 'Columns set apart by',
      choices: DELIMITERS.map((d) => [d, DELIMITER_WORDS[d]]),
      read: asText,
    },
    { name: 'decimal', label: 'Decimal mark', choices: same(['point', 'comma']), read: asText },
    { name: 'encoding', label: 'Encoding', choices: Object.entries(ENCODING_WORDS), read: asText },
    {
      name: 'timeColumn',
      label: 'Column of times',
      choices: [...columns, ['0', 'there is none']],
      read: Number,
    },
    { name: 'timeUnit', label: 'Unit of the times', choices: same(Object.keys(TIME_UNITS)), read: asText },
    {
      name: 'valueUnit',
      label: 'Unit of traces that name none',
      choices: same(Object.keys(VALUE_UNITS)),
      read: asText,
    },
    {
      name: 'missingTimes',
      label: 'Samples without a time',
      choices: [
        ['fill', 'place evenly'],
        ['drop', 'leave out'],
      ],
      read: asText,
    },
    {
      name: 'repeatedTimes',
      label: 'Samples at one time',
      choices: [
        ['spread', 'place evenly'],
        ['average', 'average'],
      ],
      read: asText,
    },
  ];
}

/** Fields to read a text another way; empty choices leave it to the text. */
export function createOverrides(onChange: (options: CaptureOptions) => void): {
  readonly node: HTMLElement;
  update(preview: CapturePreview | undefined, options: CaptureOptions): void;
} {
  const fields = h('div', { class: 'bench-fields' });
  const node = h('details', {}, h('summary', {}, 'Read it another way'), fields);
  return {
    node,
    update(preview, options) {
      if (!preview) return fields.replaceChildren(firstLineField(options, onChange));
      const selects = overridesFor(preview).map(({ name, label, choices, read }) => {
        const id = `bench-${name}`;
        const select = h(
          'select',
          {
            id,
            change: () =>
              onChange({ ...options, [name]: select.value === '' ? undefined : read(select.value) }),
          },
          h('option', { value: '' }, 'as the text says'),
          ...choices.map(([value, text]) => h('option', { value }, text)),
        );
        select.value = String(options[name] ?? '');
        return h('div', { class: 'field' }, h('label', { for: id }, label), select);
      });
      const focused = document.activeElement?.id;
      fields.replaceChildren(...selects, firstLineField(options, onChange));
      if (focused) fields.querySelector<HTMLElement>(`#${CSS.escape(focused)}`)?.focus();
    },
  };
}

function firstLineField(options: CaptureOptions, onChange: (options: CaptureOptions) => void): HTMLElement {
  const input = h('input', {
    id: 'bench-firstLine',
    type: 'number',
    min: 1,
    value: options.firstLine === undefined ? undefined : options.firstLine,
    placeholder: 'as the text says',
    change: () => onChange({ ...options, firstLine: input.value === '' ? undefined : Number(input.value) }),
  });
  return h('div', { class: 'field' }, h('label', { for: 'bench-firstLine' }, 'First sample in line'), input);
}
