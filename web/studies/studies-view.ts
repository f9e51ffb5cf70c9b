import type { Json } from '../../engine/base/json-patch.ts';
import type { MapPlace, StudyResult } from '../../engine/studies/shared/shape.ts';
import { openDesign } from '../../engine/studies/study.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import type { RawDesign } from '../model/pointer.ts';
import './studies.css';
import { createStudyFigure, rankingTable } from './study-figure.ts';
import { STUDY_FORMS } from './study-fields.ts';
import { createStudyForm } from './study-form.ts';
import { createStudyRunner } from './study-runner.ts';

export interface StudiesViewOptions {
  readonly raw: () => RawDesign;
  /** Opens a design in the planning view. */
  readonly onOpen: (raw: RawDesign) => void;
}

/** The studies: which, with what, how far it is, and what came out. */
export function createStudiesView({ raw, onOpen }: StudiesViewOptions): HTMLElement {
  let shown: StudyResult | undefined;
  let showAgain: (() => void) | undefined;
  const status = h('p', { class: 'status', role: 'status' });
  const bar = h('progress', { 'aria-label': 'Points computed', hidden: true });
  const output = h('div', { class: 'study-output' });
  const form = createStudyForm({
    onStart: (kind, options) => {
      form.running(true);
      bar.hidden = false;
      bar.removeAttribute('value');
      output.classList.toggle('stale', shown !== undefined);
      put(status, icon('busy'), 'Planning.');
      runner.start({ kind, design: raw() as Json, options });
    },
    onCancel: () => runner.cancel(),
  });
  const runner = createStudyRunner({
    onPlanned: (plan) => put(status, icon('busy'), `${plan.points.length} points, about ${plan.runs} runs.`),
    onProgress: (done, total, left, part) => {
      bar.max = total;
      bar.value = part;
      put(status, icon('busy'), progressText(done, total, part, left));
    },
    onRefused: (message, field) => {
      ended();
      put(status, icon('error'), 'Not computed.');
      form.refuse(message, field);
    },
    onResult: (study) => {
      ended();
      show(study);
    },
    onStopped: () => {
      ended();
      put(status, icon('warning'), 'Cancelled before anything was computed.');
    },
  });

  function ended(): void {
    form.running(false);
    bar.hidden = true;
    output.classList.remove('stale');
  }

  function show(study: StudyResult): void {
    shown = study;
    const title = STUDY_FORMS.find(({ kind }) => kind === study.kind)?.title ?? study.kind;
    const open = (point: number, at?: MapPlace) => {
      try {
        onOpen(openDesign(study.plan, point, at) as RawDesign);
      } catch (error) {
        put(status, icon('error'), error instanceof Error ? error.message : String(error));
      }
    };
    const figure = createStudyFigure({ title, onOpen: open });
    put(status, ...statusOf(study));
    put(
      output,
      h('ul', { class: 'findings' }, ...study.findings.map((finding) => h('li', {}, finding))),
      failures(study),
      figure.node,
      rankingTable(study),
      openList(study, open),
    );
    figure.show(study);
    showAgain = () => figure.show(study);
  }

  const node = h(
    'div',
    { class: 'studies' },
    h(
      'p',
      { class: 'note' },
      'Of the design in the planning view, computed here in your browser, by as many workers as it has processors to spare. A study ends with this page; one that must outlive it runs on the command line or on a server.',
    ),
    form.node,
    h('div', { class: 'status-row' }, status, bar),
    output,
  );
  let width = 0;
  new ResizeObserver(() => {
    if (node.clientWidth === 0 || node.clientWidth === width) return;
    width = node.clientWidth;
    showAgain?.();
  }).observe(node);
  return node;
}

function progressText(done: number, total: number, part: number, left: number): string {
  const seconds = Math.ceil(left / 1000);
  const time =
    part === 0
      ? ''
      : seconds >= 90
        ? `, about ${Math.round(seconds / 60)} min left`
        : `, about ${seconds} s left`;

  const inAll = part > done ? `, ${Math.floor((100 * part) / total)} % in all` : '';
  return `${done} of ${total} points${time}${inAll}.`;
}

function statusOf(study: StudyResult): Node[] {
  const { done, planned, failed } = study.count;
  const seed = `seed ${study.seed}`;
  if (study.partial)
    return [
      icon('warning'),
      text(`Partial: ${done} of ${planned} points were computed and are kept, ${seed}.`),
    ];
  if (failed > 0)
    return [icon('warning'), text(`${planned} points, ${failed} of them could not be computed, ${seed}.`)];
  return [icon('ok'), text(`All ${planned} points computed, ${seed}.`)];
}

const text = (words: string): Text => document.createTextNode(words);

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
