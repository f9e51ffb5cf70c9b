import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { StrobeWindow } from '../../engine/strobe/window-result.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import type { Run } from '../model/run.ts';
import type { StrobeState } from '../model/strobe-state.ts';
import { createMore } from '../sharing/more.ts';

type Case = StrobeWindow['cases'][number];

export interface CasesCallbacks {
  readonly onOpen: (run: Run, item: Case) => void;
}

/** What a run defines at the strobe in force; undefined: nothing. */
export function whatItSets(item: Case, corners: StrobeState['corners']): string | undefined {
  const end = item.bit === 1 ? 'least ONE' : 'greatest ZERO';
  if (item.defines) return `sets the ${end}`;
  const atCorners = item.bit === 1 ? corners?.one : corners?.zero;
  return item.corner && item.name === atCorners ? `sets the ${end} at the corners` : undefined;
}

/** Worst first: ONEs from the least, then ZEROs from the greatest. */
export const inOrder = (cases: readonly Case[]): readonly Case[] =>
  [...cases].sort((a, b) => b.bit - a.bit || (a.bit === 1 ? 1 : -1) * (a.atStrobe - b.atStrobe));

/** The runs on which the envelope rests, which of them set it, each to be opened as a design. */
export function createCases(callbacks: CasesCallbacks): {
  readonly node: HTMLElement;
  update(run: Run, strobe: StrobeState): void;
} {
  let shown: readonly [Run, StrobeState] | undefined;
  const told = h('p', { class: 'note small' });
  const table = h('table', {});
  const scroll = h(
    'div',
    { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': 'Runs of the envelope' },
    table,
  );
  const more = createMore('The cases behind the envelope', () => draw(), told, scroll);

  function draw(): void {
    if (!shown || !more.node.open) return;
    const [run, strobe] = shown;
    put(told, introduction(run, strobe));
    const row = (item: Case) => {
      const sets = whatItSets(item, strobe.corners);
      return h(
        'tr',
        {},
        h('th', { scope: 'row' }, sentenceCase(item.name)),
        h('td', {}, formatQuantity(item.atStrobe, 'V', 3)),
        h(
          'td',
          { class: 'words' },
          ...(sets ? [h('strong', {}, icon('flag'), sets)] : [item.corner ? 'a corner' : '']),
        ),
        h(
          'td',
          {},
          h(
            'button',
            {
              type: 'button',
              'aria-label': `Open as a design: ${item.name}`,
              click: () => callbacks.onOpen(run, item),
            },
            'Open',
          ),
        ),
      );
    };
    put(
      table,
      h('caption', { class: 'visually-hidden' }, 'Every run, worst first, at the strobe in force'),
      h(
        'thead',
        {},
        h(
          'tr',
          {},
          h('th', { scope: 'col' }, 'Run'),
          h('th', { scope: 'col' }, 'at the strobe'),
          h('th', { scope: 'col', class: 'words' }, 'what it sets'),
          h('th', { scope: 'col' }, h('span', { class: 'visually-hidden' }, 'open it')),
        ),
      ),
      h('tbody', {}, ...inOrder(strobe.cases).map(row)),
    );
  }

  return {
    node: more.node,
    update(...next) {
      shown = next;
      draw();
    },
  };
}

function introduction(run: Run, strobe: StrobeState): string {
  const at = formatQuantity(strobe.time, 's', 4);
  const soFar = run.grade === 'full' ? '' : ' Addresses, history and corners are still being tried.';
  return `${strobe.cases.length} runs, worst first, as they are at the strobe of ${at}. Open makes a run the design of this page; Undo takes it back.${soFar}`;
}

const sentenceCase = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
