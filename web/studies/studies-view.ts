import { signal, type ReadonlySignal, type Signal } from '@preact/signals-core';
import { html } from 'lit-html';
import type { Json } from '../../engine/base/json-patch.ts';
import type { StudyKind, StudyResult } from '../../engine/studies/shared/shape.ts';
import { MAX_STUDIES, type DoneStudy } from '../state/atoms.ts';
import { h } from '../ui/dom.ts';
import { mount } from '../ui/mount.ts';
import { statusRow, type Said, type WorkState } from '../ui/status.ts';
import type { RawDesign } from '../model/pointer.ts';
import './studies.css';
import { studyCards } from './study-cards.ts';
import { STUDY_FORMS } from './study-fields.ts';
import { createStudyForm } from './study-form.ts';
import { createStudyResult } from './study-result.ts';
import { createStudyRunner } from './study-runner.ts';

export interface StudiesViewOptions {
  /** The design on the stage. */
  readonly raw: ReadonlySignal<RawDesign>;
  /** What came out so far, newest first. */
  readonly done: Signal<readonly DoneStudy[]>;
  /** Opens a design in the planning view. */
  readonly onOpen: (raw: RawDesign) => void;
}

/** The studies: those that came out, which to compute next, with what, how far it is, and what came out of the one looked at. */
export function createStudiesView({ raw, done, onOpen }: StudiesViewOptions): HTMLElement {
  const work = signal<WorkState>({ running: false });
  const looked = signal<DoneStudy | undefined>(undefined);
  const result = createStudyResult(onOpen, (said) => {
    work.value = { running: false, said };
  });
  const look = (item: DoneStudy): void => {
    looked.value = item;
    result.show(item.study, item.title);
    result.node.scrollIntoView({ block: 'nearest' });
  };
  const form = createStudyForm({
    onStart: (kind, options) => start(kind, options),
    onCancel: () => runner.cancel(),
  });
  let of = raw.peek();
  const start = (kind: StudyKind, options: { [name: string]: Json }): void => {
    form.running(true);
    result.doubt();
    work.value = { running: true, said: { sign: 'busy', text: 'Planning.' } };
    of = raw.peek();
    runner.start({ kind, design: of as Json, options });
  };
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
    onProgress: (count, total, left, part) => {
      const text = progressText(count, total, part, left);
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
      const title = STUDY_FORMS.find(({ kind }) => kind === study.kind)?.title ?? study.kind;
      const item = { study, title, raw: of };
      done.value = [item, ...done.value].slice(0, MAX_STUDIES);
      look(item);
    },
    onStopped: () => end({ sign: 'warning', text: 'Cancelled before anything was computed.' }),
  });
  const node = h('div', { class: 'studies' });
  mount(
    node,
    () => html`
      ${studyCards({
        done: done.value,
        now: raw.value,
        looked: looked.value,
        running: work.value.running,
        onLook: look,
        onAgain: ({ study }) => start(study.kind, study.plan.options as { [name: string]: Json }),
      })}
      <p class="note">
        Of the design on the stage, computed here in your browser, by as many workers as it has processors to
        spare. A study ends with this page; one that must outlive it runs on the command line or on a server.
      </p>
      ${form.node} ${statusRow({ work: work.value, name: 'Points computed' })} ${result.node}
    `,
  );
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
