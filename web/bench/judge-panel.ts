import { effect, signal, untracked } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit-html';
import type { Judgement } from '../../engine/fitting/judge/judgement.ts';
import { createWork } from '../compute/work.ts';
import type { BenchCapture } from '../model/bench-capture.ts';
import type { RawDesign } from '../model/pointer.ts';
import { boxOf } from '../ui/mount.ts';
import { statusLine, type Said } from '../ui/status.ts';
import { createBenchClient } from './bench-client.ts';
import { chosenCapture, type BenchState, type DesignNow } from './bench-state.ts';
import { createSection, withCaptures } from './section.ts';

/** What the chosen capture is good for, before it is laid over anything: what is believed of it, why, and what to do. */
export function createJudgePanel(bench: BenchState, now: DesignNow): HTMLElement {
  const work = createWork(createBenchClient());
  const found = signal<Judgement | undefined>(undefined);
  let asked: readonly unknown[] = [];

  function judge(raw: RawDesign, capture: BenchCapture | undefined): void {
    if (asked[0] === raw && asked[1] === capture) return;
    asked = [raw, capture];
    found.value = undefined;
    if (!capture) return work.cancel();
    work.ask(
      'judge',
      { raw, capture },
      {
        busy: 'Judging it.',
        onAnswer: (judgement) => {
          found.value = judgement;
          return judgedSaid(capture.label, judgement);
        },
        onFailed: ({ message }) => message,
      },
    );
  }

  const node = createSection('bench-judge', 'Judge', () =>
    withCaptures(
      chosenCapture(bench) !== undefined,
      'Take a capture first: it is then judged before anything is made of it.',
      html`<div class="status-row">${statusLine(work.state.value.said)}</div>
        ${found.value && found.value.findings.length > 0 ? findingsView(found.value) : nothing}`,
    ),
  );
  effect(() => {
    const shown = boxOf(node).value.width > 0;
    const [raw, capture, design] = [now.raw.value, chosenCapture(bench), now.design.value];
    if (shown && design !== undefined) untracked(() => judge(raw, capture));
  });
  return node;
}

/** The verdict on a capture. */
export function judgedSaid(label: string, { verdict, statement }: Judgement): Said {
  const sign = verdict === 'good enough' ? 'ok' : verdict === 'not usable' ? 'error' : 'warning';
  return { sign, text: `${label}: ${statement}` };
}

const findingsView = ({ findings }: Judgement): TemplateResult =>
  html`<dl class="bench-findings">
    ${findings.map(
      ({ belief, evidence, remedy }) =>
        html`<dt>${belief}</dt>
          <dd>${evidence} ${remedy}</dd>`,
    )}
  </dl>`;
