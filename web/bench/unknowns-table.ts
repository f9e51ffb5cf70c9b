import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { MOST_UNKNOWNS } from '../../engine/fitting/fit-design.ts';
import { readRanges, type AskedRanges } from '../../engine/fitting/unknown-ranges.ts';
import { rangeOf, UNKNOWNS, type UnknownName } from '../../engine/fitting/unknowns.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import type { RawDesign } from '../model/pointer.ts';
import { unknownWords } from './bench-words.ts';

const NAMES = Object.keys(UNKNOWNS) as UnknownName[];
/** What a first fit usually asks for: the bell's size and speed, and the spike beside it. */
const FIRST: readonly UnknownName[] = ['coreFlux', 'coreRate', 'mutual'];

const GROUPS: readonly (readonly [title: string, starts: readonly string[]])[] = [
  ['Core', ['core']],
  ['Coupling', ['mutual', 'coupling']],
  ['Sense wire and its ends', ['wire', 'termination']],
  ['Amplifier', ['amplifier']],
  ['Drive', ['drive', 'inhibit']],
];

/** Unknowns that move a field which another chosen one moves too. */
export function rivalsOf(name: UnknownName, chosen: readonly UnknownName[]): UnknownName[] {
  const fields: readonly string[] = UNKNOWNS[name].fields;
  return chosen.filter(
    (other) =>
      other !== name && (UNKNOWNS[other].fields as readonly string[]).some((f) => fields.includes(f)),
  );
}

const PARTS = [
  ['start', 'starts from', 'Start'],
  ['low', 'not below', 'Lower bound'],
  ['high', 'not above', 'Upper bound'],
] as const;
type Part = (typeof PARTS)[number][0];

interface Row {
  readonly box: HTMLInputElement;
  readonly inputs: Readonly<Record<Part, HTMLInputElement>>;
  readonly error: HTMLElement;
}

/** Everything that a fit may find out; start and bounds of each may be typed, else they follow the design. */
export interface UnknownsTable {
  readonly node: HTMLElement;
  chosen(): readonly UnknownName[];
  /** Starts and bounds as typed for what is chosen; undefined when one cannot be read, which is then told beside it. */
  ranges(): AskedRanges | undefined;
  /** A refusal beside its field; false when it is about none of them. */
  refuse(field: string, message: string): boolean;
  update(raw: RawDesign): void;
}

export function createUnknownsTable(onChange: () => void): UnknownsTable {
  const rows = new Map<UnknownName, Row>();
  const chosen = (): UnknownName[] => NAMES.filter((name) => rows.get(name)!.box.checked);
  const onTick = (name: UnknownName): void => {
    // Two of one field cannot be told apart: the newer choice stands.
    if (rows.get(name)!.box.checked)
      for (const rival of rivalsOf(name, chosen())) rows.get(rival)!.box.checked = false;
    onChange();
  };
  const groups = GROUPS.map(([title, starts]) =>
    h(
      'tbody',
      {},
      h('tr', {}, h('th', { scope: 'rowgroup', colspan: 4, class: 'bench-group' }, title)),
      ...NAMES.filter((name) => starts.some((start) => name.startsWith(start))).map((name) => {
        const { row, node } = createRow(name, () => onTick(name));
        rows.set(name, row);
        return node;
      }),
    ),
  );
  const node = h(
    'div',
    { class: 'table-scroll bench-unknowns', tabindex: 0, role: 'region', 'aria-label': 'Unknowns to find' },
    h(
      'table',
      {},
      h(
        'caption',
        {},
        `Unknowns to find, at most ${MOST_UNKNOWNS}: of the core, and further down of the coupling, the sense wire, the amplifier and the drive. Start and bounds follow the design unless typed.`,
      ),
      h(
        'thead',
        {},
        h(
          'tr',
          {},
          ...['Unknown', ...PARTS.map(([, text]) => text)].map((text) => h('th', { scope: 'col' }, text)),
        ),
      ),
      ...groups,
    ),
  );
  const clear = (): void => {
    for (const { inputs, error } of rows.values()) {
      error.hidden = true;
      for (const input of Object.values(inputs)) input.removeAttribute('aria-invalid');
    }
  };
  const refuse = (field: string, message: string): boolean => {
    const [, place, name, part] = field.split('/');
    const row = place === 'ranges' ? rows.get(name as UnknownName) : undefined;
    if (!row) return false;
    row.error.hidden = false;
    put(row.error, icon('error'), message);
    const input = row.inputs[part as Part] ?? row.inputs.start;
    input.setAttribute('aria-invalid', 'true');
    input.focus();
    return true;
  };
  return {
    node,
    chosen,
    refuse,
    ranges() {
      clear();
      const typed = chosen().flatMap((name) => {
        const { inputs } = rows.get(name)!;
        const parts = PARTS.flatMap(([part]) => {
          const text = inputs[part].value.trim();
          return text === '' ? [] : [[part, text] as const];
        });
        return parts.length === 0 ? [] : [[name, Object.fromEntries(parts)] as const];
      });
      try {
        return readRanges(Object.fromEntries(typed));
      } catch (error) {
        const { field, message } = error as { field: string; message: string };
        refuse(field, message);
        return undefined;
      }
    },
    update(raw) {
      const design = checkDesign(raw);
      for (const [name, { box, inputs }] of rows) {
        const range = rangeOf(design, name);
        box.disabled = range === undefined;
        if (!range) box.checked = false;
        for (const [part] of PARTS) {
          inputs[part].disabled = !box.checked;
          inputs[part].placeholder = range
            ? formatQuantity(range[part], UNKNOWNS[name].unit as Unit, 4)
            : 'none';
        }
      }
    },
  };
}

function createRow(name: UnknownName, onTick: () => void): { readonly row: Row; readonly node: HTMLElement } {
  const id = `bench-unknown-${name}`;
  const box = h('input', { type: 'checkbox', id, change: onTick });
  box.checked = FIRST.includes(name);
  const error = h('p', { class: 'field-error', id: `${id}-error`, role: 'alert', hidden: true });
  const input = ([part, , title]: (typeof PARTS)[number]): [Part, HTMLInputElement] => [
    part,
    h('input', {
      type: 'text',
      id: `${id}-${part}`,
      autocomplete: 'off',
      spellcheck: 'false',
      'aria-label': `${title} of ${unknownWords(name)}`,
      'aria-describedby': error.id,
    }),
  ];
  const inputs = Object.fromEntries(PARTS.map(input)) as Row['inputs'];
  const node = h(
    'tr',
    {},
    h(
      'th',
      { scope: 'row' },
      h(
        'label',
        { for: id, class: 'check' },
        box,
        h('span', {}, unknownWords(name), h('br'), h('span', { class: 'note' }, UNKNOWNS[name].meaning)),
      ),
      error,
    ),
    ...PARTS.map(([part]) => h('td', {}, inputs[part])),
  );
  return { row: { box, inputs, error }, node };
}
