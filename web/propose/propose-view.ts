import { effect, signal } from '@preact/signals-core';
import { html, nothing } from 'lit-html';
import type { Json } from '../../engine/base/json-patch.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Proposals } from '../../engine/propose/answer.ts';
import type { Proved } from '../../engine/propose/prove.ts';
import type { Needs } from '../../engine/propose/needs.ts';
import { proposalFileName } from '../../engine/propose/build-words.ts';
import { soFarWords } from '../../engine/propose/answer-words.ts';
import { easedNeeds } from '../../engine/propose/relax.ts';
import { withValueAt, type RawDesign } from '../model/pointer.ts';
import { saveFile } from '../sharing/save.ts';
import { h } from '../ui/dom.ts';
import { mount } from '../ui/mount.ts';
import { statusRow, type WorkState } from '../ui/status.ts';
import { answerView } from './answer-view.ts';
import { needsOf } from './needs-fields.ts';
import { needsForm, type Refusal } from './needs-form.ts';
import { createProposeRunner } from './propose-runner.ts';
import './propose.css';

export interface ProposeViewOptions {
  /** The design on the stage, as typed and as it is (read as a signal: it may come later). */
  readonly raw: () => RawDesign;
  readonly design: () => Design | undefined;
  /** Opens a build in the planning view. */
  readonly onOpen: (raw: RawDesign) => void;
}

interface Known {
  readonly needs: Needs;
  readonly answer: Proposals;
}

/** From needs to builds: what is asked, how far the search is, and what came out. */
export function createProposeView(options: ProposeViewOptions): HTMLElement {
  const state = createState(options);
  const { needs, refusal, work, known } = state;
  const node = h('div', { class: 'propose' });
  mount(node, () => {
    const asked = needs.value;
    if (asked === undefined) return html`<p class="note">Waits for a design that can be computed.</p>`;
    return html`
      <p class="note">
        Say what the memory must do and what there is: builds are sought that do it at the worst corner, each
        shown by the strobe window of its own file, or what stands in the way is told. It is computed here, in
        a minute or more; what is not asked here (detector, strobe, tolerances) is taken from the design.
      </p>
      ${needsForm({
        needs: asked,
        refusal: refusal.value,
        running: work.value.running,
        onSet: state.set,
        onStart: state.start,
        onCancel: state.cancel,
        onReset: state.reset,
        onSave: () => save('needs.json', asked as Json),
      })}
      ${statusRow({ work: work.value, name: 'Part of the search that is done' })}
      ${
        known.value
          ? answerView({
              answer: known.value.answer,
              cores: known.value.needs.cores.length,
              running: work.value.running,
              old: JSON.stringify(known.value.needs.raw) !== JSON.stringify(asked),
              onOpen: ({ design }) => options.onOpen(design as RawDesign),
              onSave: saveBuild,
              onEase: state.ease,
            })
          : nothing
      }
    `;
  });
  return node;
}

const save = (name: string, value: Json): void =>
  saveFile(name, 'application/json', `${JSON.stringify(value, null, 2)}\n`);

const saveBuild = ({ combination, design }: Proved): void => save(proposalFileName(1, combination), design);

/** What was typed, what is refused of it, how far the search is, and what is known. */
function createState({ raw, design }: ProposeViewOptions) {
  const fromDesign = (): RawDesign | undefined => {
    const now = design();
    return now && (needsOf(raw(), now) as RawDesign);
  };
  const needs = signal<RawDesign | undefined>(undefined);
  // The drawer may be there before the first design is.
  effect(() => {
    const first = fromDesign();
    if (needs.peek() === undefined) needs.value = first;
  });
  const refusal = signal<Refusal | undefined>(undefined);
  const work = signal<WorkState>({ running: false });
  const known = signal<Known | undefined>(undefined);

  const runner = createProposeRunner({
    onProgress: (share, left) => {
      work.value = {
        running: true,
        progress: { done: share, planned: 1, text: '' },
        said: { sign: 'busy', text: progressWords(share, left, known.peek()?.answer) },
      };
    },
    onAnswer: (of, answer) => {
      known.value = { needs: of, answer };
    },
    onEnd: (answer) => {
      work.value = {
        running: false,
        said: answer?.complete
          ? { sign: 'ok', text: 'Searched to the end.' }
          : { sign: 'warning', text: 'Stopped; what was found until then stands below.' },
      };
    },
    onRefused: (message, field) => {
      refusal.value = { message, field };
      work.value = { running: false, said: { sign: 'error', text: 'Not searched.' } };
    },
  });

  return {
    needs,
    refusal,
    work,
    known,
    set: (pointer: string, value: unknown) => {
      needs.value = withValueAt(needs.peek()!, pointer, value);
    },
    reset: () => {
      needs.value = fromDesign();
      refusal.value = undefined;
    },
    start: () => {
      refusal.value = known.value = undefined;
      work.value = { running: true, said: { sign: 'busy', text: 'Reading the needs.' } };
      runner.start(needs.peek() as Json);
    },
    cancel: () => runner.cancel(),
    ease: (relaxed: Parameters<typeof easedNeeds>[2]) => {
      const { needs: of, answer } = known.peek()!;
      needs.value = easedNeeds(of, answer.nearest!.combination, relaxed) as RawDesign;
    },
  };
}

function progressWords(share: number, left: number | undefined, answer: Proposals | undefined): string {
  const time =
    left === undefined
      ? ''
      : left >= 90
        ? `, about ${Math.round(left / 60)} min left`
        : `, about ${Math.ceil(left)} s left`;
  const found = answer === undefined ? '' : soFarWords(answer);
  return `About ${Math.floor(100 * share)} %${time}${found === '' ? '' : `; ${found}`}.`;
}
