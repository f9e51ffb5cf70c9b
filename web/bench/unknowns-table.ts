import {
  checkDesign,
  formatQuantity,
  MOST_UNKNOWNS,
  rangeOf,
  UNKNOWNS,
  type Unit,
  type UnknownName,
} from '../../engine/index.ts';
import { h, put } from '../dom.ts';
import type { RawDesign } from '../pointer.ts';
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

/** Everything that a fit may find out, with its value now and how far it may go. */
export function createUnknownsTable(onChange: () => void): {
  readonly node: HTMLElement;
  chosen(): readonly UnknownName[];
  update(raw: RawDesign): void;
} {
  const boxes = new Map<UnknownName, HTMLInputElement>();
  const cells = new Map<UnknownName, readonly [HTMLElement, HTMLElement]>();
  const chosen = (): UnknownName[] => NAMES.filter((name) => boxes.get(name)!.checked);
  const rowOf = (name: UnknownName): HTMLElement => {
    const id = `bench-unknown-${name}`;
    const box = h('input', {
      type: 'checkbox',
      id,
      change: () => {
        // Two of one field cannot be told apart: the newer choice stands.
        if (box.checked) for (const rival of rivalsOf(name, chosen())) boxes.get(rival)!.checked = false;
        onChange();
      },
    });
    box.checked = FIRST.includes(name);
    boxes.set(name, box);
    const now = h('td', {});
    const bounds = h('td', {});
    cells.set(name, [now, bounds]);
    return h(
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
      ),
      now,
      bounds,
    );
  };
  const groups = GROUPS.map(([title, starts]) =>
    h(
      'tbody',
      {},
      h('tr', {}, h('th', { scope: 'rowgroup', colspan: 3, class: 'bench-group' }, title)),
      ...NAMES.filter((name) => starts.some((start) => name.startsWith(start))).map(rowOf),
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
        `Unknowns to find, at most ${MOST_UNKNOWNS}: of the core, and further down of the coupling, the sense wire, the amplifier and the drive`,
      ),
      h(
        'thead',
        {},
        h('tr', {}, ...['Unknown', 'now', 'may go'].map((text) => h('th', { scope: 'col' }, text))),
      ),
      ...groups,
    ),
  );
  return {
    node,
    chosen,
    update(raw) {
      const design = checkDesign(raw);
      for (const name of NAMES) {
        const range = rangeOf(design, name);
        const unit = UNKNOWNS[name].unit as Unit;
        const box = boxes.get(name)!;
        const [now, bounds] = cells.get(name)!;
        box.disabled = range === undefined;
        if (!range) box.checked = false;
        put(now, range ? formatQuantity(range.start, unit, 4) : 'none');
        put(
          bounds,
          range ? `${formatQuantity(range.low, unit, 3)} to ${formatQuantity(range.high, unit, 3)}` : '',
        );
      }
    },
  };
}
