import { signal } from '@preact/signals-core';
import { html } from 'lit-html';
import type { Json } from '../../engine/base/json-patch.ts';
import type { MapPlace, StudyResult } from '../../engine/studies/shared/shape.ts';
import { openDesign } from '../../engine/studies/study.ts';
import { h, put } from '../ui/dom.ts';
import { mount } from '../ui/mount.ts';
import { statusRow, type Said, type WorkState } from '../ui/status.ts';
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
  const work = signal<WorkState>({ running: false });
  const result = createStudyResult(onOpen, (said) => {
    work.value = { running: false, said };
  });
  const form = createStudyForm({
    onStart: (kind, options) => {
      form.running(true);
      result.doubt();
      work.value = { running: true, said: { sign: 'busy', text: 'Planning.' } };
      runner.start({ kind, design: raw() as Json, options });
    },
    onCancel: () => runner.cancel(),
  });
  const end = (said: Said): void => {
    form.running(false);
    result.trust();
    work.value = { running: false, said };
  };
  const runner = createStudyRunner({
    onPlanned: (plan) => {
      const text = `${plan.points.length} points, about ${plan.runs} runs.`;
      work.value = { running: true, said: { sign: 'busy', text } };
    },
    onProgress: (done, total, left, part) => {
      const text = progressText(done, total, part, left);
      work.value = {
        running: true,
        progress: { done: part, planned: total, text },
        said: { sign: 'busy', text },
      };
    },
    onRefused: (message, field) => {
      end({ sign: 'error', text: 'Not computed.' });
      form.refuse(message, field);
    },
    onResult: (study) => {
      end(saidOf(study));
      result.show(study);
    },
    onStopped: () => end({ sign: 'warning', text: 'Cancelled before anything was computed.' }),
  });
  const node = h('div', { class: 'studies' });
  mount(
    node,
    () =>
      html`<h1>Studies</h1>
        <p class="note">
          Of the design in the planning view, computed here in your browser, by as many workers as it has
          processors to spare. A study ends with this page; one that must outlive it runs on the command line
          or on a server.
        </p>
        ${form.node} ${statusRow({ work: work.value, name: 'Points computed' })} ${result.node}`,
  );
  return node;
}

/** What the last study found. `say` tells why the design of a point cannot be opened. */
function createStudyResult(onOpen: StudiesViewOptions['onOpen'], say: (said: Said) => void) {
  const node = h('div', { class: 'study-output' });
  let drawAgain = (): void => undefined;
  let shown = false;

  function show(study: StudyResult): void {
    shown = true;
    const title = STUDY_FORMS.find(({ kind }) => kind === study.kind)?.title ?? study.kind;
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

function saidOf({ count: { done, planned, failed }, seed, partial }: StudyResult): Said {
  if (partial)
    return {
      sign: 'warning',
      text: `Partial: ${done} of ${planned} points were computed and are kept, seed ${seed}.`,
    };
  if (failed > 0)
    return {
      sign: 'warning',
      text: `${planned} points, ${failed} of them could not be computed, seed ${seed}.`,
    };
  return { sign: 'ok', text: `All ${planned} points computed, seed ${seed}.` };
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
