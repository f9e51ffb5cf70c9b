import type { MapPlace, StudyResult } from '../../engine/studies/shared/shape.ts';
import { openDesign } from '../../engine/studies/study.ts';
import type { RawDesign } from '../model/pointer.ts';
import { h, put } from '../ui/dom.ts';
import type { Said } from '../ui/status.ts';
import { createStudyFigure } from './study-figure.ts';
import { rankingTable } from './ranking-table.ts';

/** What the last study found. `say` tells why the design of a point cannot be opened. */
export function createStudyResult(onOpen: (raw: RawDesign) => void, say: (said: Said) => void) {
  const node = h('div', { class: 'study-output' });
  let drawAgain = (): void => undefined;
  let shown = false;

  function show(study: StudyResult, title: string): void {
    shown = true;
    const open = (point: number, at?: MapPlace): void => {
      try {
        onOpen(openDesign(study.plan, point, at) as RawDesign);
      } catch (error) {
        say({ sign: 'error', text: error instanceof Error ? error.message : String(error) });
      }
    };
    const figure = createStudyFigure({ title, onOpen: open });
    put(
      node,
      h('ul', { class: 'findings' }, ...study.findings.map((finding) => h('li', {}, finding))),
      failures(study),
      figure.node,
      rankingTable(study),
      openList(study, open),
    );
    drawAgain = () => figure.show(study);
    drawAgain();
  }

  let width = 0;
  new ResizeObserver(() => {
    if (node.clientWidth === 0 || node.clientWidth === width) return;
    width = node.clientWidth;
    drawAgain();
  }).observe(node);
  return {
    node,
    show,
    /** Another study is being computed. */
    doubt: () => node.classList.toggle('stale', shown),
    trust: () => node.classList.remove('stale'),
  };
}

function failures(study: StudyResult): HTMLElement | undefined {
  if (study.failed.length === 0) return undefined;
  return h(
    'details',
    { class: 'behind' },
    h('summary', {}, `Points that could not be computed (${study.failed.length})`),
    h('ul', {}, ...study.failed.slice(0, 50).map(({ name, message }) => h('li', {}, `${name}: ${message}`))),
  );
}

/** A point that sought a limit (the largest mat, the highest rate) stands for no one design. */
const hasDesign = ({ kind, plan }: StudyResult, index: number): boolean =>
  (kind !== 'scale' && kind !== 'rate') || plan.points[index]!.patches.length > 0;

/** Most entries of the list to open a point from, which is the way without a pointer. */
const MOST_OPEN = 200;

function openList(study: StudyResult, open: (point: number) => void): HTMLElement {
  const worth = study.open ?? [];
  const others = study.results
    .filter(
      (result) =>
        result.failed === undefined &&
        hasDesign(study, result.index) &&
        !worth.some(({ point }) => point === result.index),
    )
    .slice(0, MOST_OPEN - worth.length);
  const select = h(
    'select',
    { id: 'study-open' },
    ...worth.map(({ point, why }) =>
      h('option', { value: point }, `${study.plan.points[point]!.name}: ${why}`),
    ),
    ...others.map(({ index, name }) => h('option', { value: index }, name)),
  );
  return h(
    'div',
    { class: 'place study-open' },
    h('div', { class: 'field' }, h('label', { for: 'study-open' }, 'Open the design of a point'), select),
    h('button', { type: 'button', click: () => open(Number(select.value)) }, 'Open'),
  );
}
