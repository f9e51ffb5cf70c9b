import { createLongWork } from './long-work.ts';
import { readQuantity } from '../../engine/base/units.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Diagnosis, Explanation } from '../../engine/fitting/diagnosis/diagnose.ts';
import { extent } from '../charts/decimate.ts';
import { paddedSpan } from '../charts/spaces.ts';
import { traceChart } from '../charts/trace-chart.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import type { RawDesign } from '../model/pointer.ts';
import { createFigure } from '../sharing/figure.ts';
import { checkNow } from '../model/check-now.ts';
import type { BenchCapture } from '../model/bench-capture.ts';
import { createBenchClient } from './bench-client.ts';
import type { BenchState } from './bench-state.ts';
import { percent } from './bench-words.ts';
import { evenly } from '../model/measured-trace.ts';
import { textSize } from './text-size.ts';

/** Which single fault would give these captures, if any. */
export function createDiagnosePanel(
  state: BenchState,
  raw: () => RawDesign,
): { readonly node: HTMLElement; refresh(): void } {
  const lane = createBenchClient();
  let finished:
    | {
        readonly answer: Diagnosis;
        readonly of: RawDesign;
        readonly design: Design;
        readonly captures: readonly BenchCapture[];
      }
    | undefined;
  let shown = 0;
  const strobe = h('input', {
    id: 'bench-strobe',
    type: 'text',
    autocomplete: 'off',
    placeholder: 'not recorded',
  });
  const error = h('p', { class: 'field-error', id: 'bench-strobe-error', role: 'alert', hidden: true });
  const start = h('button', { type: 'submit' }, 'Look for a fault');
  const work = createLongWork({ lane, start, name: 'Trying faults', cancelled: 'Cancelled.' });
  const figure = createFigure({ title: 'The capture under one explanation' });
  const choose = h('select', {
    id: 'bench-explanation',
    change: () => {
      shown = Number(choose.value);
      draw();
    },
  });
  const chooseRow = h(
    'div',
    { class: 'place' },
    h('div', { class: 'field bench-name' }, h('label', { for: choose.id }, 'Explanation drawn'), choose),
  );
  const ranked = h('div', {
    class: 'table-scroll',
    tabindex: 0,
    role: 'region',
    'aria-label': 'Explanations, best first',
  });
  const notTried = h('p', { class: 'note' });
  const output = h('div', { class: 'bench-output', hidden: true }, ranked, notTried, chooseRow, figure.node);
  const form = h(
    'form',
    {
      class: 'place',
      'aria-label': 'Look for a fault',
      submit: (event: Event) => {
        event.preventDefault();
        run();
      },
    },
    h(
      'div',
      { class: 'field bench-name' },
      h('label', { for: strobe.id }, 'Strobe seen at, on the first capture’s own time'),
      strobe,
      error,
    ),
    start,
    work.cancel,
  );
  const body = h(
    'div',
    { class: 'bench-body' },
    h(
      'p',
      { class: 'note' },
      'Of every capture on the bench, against the design in the planning view as it should be. A read of a ONE and a cycle that writes a ZERO tell most.',
    ),
    form,
    work.row,
    output,
  );
  const empty = h('p', { class: 'note' }, 'Take a capture of the build that fails first.');
  const node = h(
    'section',
    { class: 'bench-section', 'aria-labelledby': 'bench-fault' },
    h('h2', { id: 'bench-fault' }, 'Which single fault?'),
    empty,
    body,
  );

  function run(): void {
    const text = strobe.value.trim();
    const reading = text === '' ? { ok: true as const, value: undefined } : readQuantity(text, 's');
    error.hidden = reading.ok;
    strobe.setAttribute('aria-invalid', String(!reading.ok));
    if (!reading.ok) {
      strobe.setAttribute('aria-describedby', error.id);
      put(error, icon('error'), `This must be a time with its unit, but it ${reading.why}.`);
      return strobe.focus();
    }
    const [of, captures] = [raw(), state.captures.value];
    output.classList.toggle('stale', finished !== undefined);
    work.begin('Trying one fault after another.');
    lane.ask(
      'diagnose',
      { raw: of, captures, strobeAt: reading.value },
      {
        onPiece: ({ done, planned }) =>
          work.advance(done, planned, `Trying one fault after another: ${done} of ${planned} done.`),
        onAnswer: (answer) => {
          finished = { answer, of, design: checkDesign(of), captures };
          shown = 0;
          work.end();
          show();
        },
        onFailed: ({ message }) => {
          work.end();
          work.say('error', message);
        },
      },
    );
  }

  function show(): void {
    const { answer } = finished!;
    work.say(VERDICTS[answer.verdict].icon, verdictWords(answer));
    output.hidden = false;
    output.classList.remove('stale');
    put(ranked, rankedTable(answer.explanations));
    put(
      notTried,
      answer.notTried.length > 0
        ? `Not tried, since these captures could not show them: ${answer.notTried.join('; ')}.`
        : '',
    );
    const drawn = drawable(answer);
    put(choose, ...drawn.map(({ title }, i) => h('option', { value: i }, title)));
    draw();
  }

  function draw(): void {
    if (!finished || node.clientWidth === 0) return;
    const explanation = drawable(finished.answer)[shown];
    const [trace] = explanation?.traces ?? [];
    figure.node.hidden = chooseRow.hidden = trace === undefined;
    if (!explanation || !trace) return;
    const em = textSize();
    const measured = evenly(trace.time, trace.measured);
    const predicted = evenly(trace.time, trace.predicted);
    const span = { from: trace.time[0]!, to: trace.time.at(-1)! };
    const ends = [measured, predicted].map((samples) => extent(samples, span.from, span.to) ?? [0, 0]);
    const svg = traceChart({
      id: 'bench-explained',
      width: Math.max(220, figure.body.clientWidth),
      height: 280 * em,
      em,
      name: `${trace.label} over what "${explanation.title}" would give`,
      time: span,
      value: paddedSpan(Math.min(...ends.map(([low]) => low)), Math.max(...ends.map(([, high]) => high))),
      quantity: { symbol: 'u', unit: 'V' },
      lines: [
        { style: 'selected', samples: predicted },
        { style: 'measured', samples: measured },
      ],
      labels: [
        { text: 'with this fault', samples: predicted, side: 'above' },
        { text: 'measured', samples: measured, side: 'below' },
      ],
    }).node;
    put(figure.body, svg);
    const { design } = finished;
    figure.update(() => ({
      file: 'explanation',
      title: `${trace.label}: ${explanation.title}`,
      summary: explanation.evidence,
      design,
      pictures: [{ svg }],
      columns: [
        { title: 'time / s', values: trace.time },
        { title: 'measured / V', values: trace.measured },
        { title: 'predicted / V', values: trace.predicted },
      ],
    }));
  }

  return {
    node,
    refresh() {
      const captures = state.captures.value;
      empty.hidden = captures.length > 0;
      body.hidden = captures.length === 0;
      start.disabled = lane.busy || checkNow(raw()).design === undefined;
      const stale =
        finished !== undefined && !lane.busy && (finished.of !== raw() || finished.captures !== captures);
      output.classList.toggle('stale', stale);
      if (stale) work.say('stale', 'Stale: of the design or the captures before. Look again.');
      draw();
    },
  };
}

const drawable = ({ explanations }: Diagnosis): Explanation[] =>
  explanations.filter(({ traces }) => traces !== undefined);

/** How each verdict is marked, and how one begins to tell it. */
const VERDICTS = {
  healthy: { icon: 'ok', head: 'Healthy.' },
  fault: { icon: 'error', head: 'One fault explains it.' },
  'none of these': { icon: 'warning', head: 'None of these.' },
} as const;

/** The verdict as one begins to tell it, with its evidence. */
export const verdictWords = ({ verdict, statement }: Diagnosis): string =>
  `${VERDICTS[verdict].head} ${statement}`;

/** Explanations shown at most. */
const MOST = 12;

function rankedTable(explanations: readonly Explanation[]): HTMLElement {
  return h(
    'table',
    { class: 'bench-ranked' },
    h('caption', {}, 'Explanations, best first'),
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        ...['Explanation', 'removes', 'left, in noise', 'Evidence'].map((text) =>
          h('th', { scope: 'col' }, text),
        ),
      ),
    ),
    h(
      'tbody',
      {},
      ...explanations
        .slice(0, MOST)
        .map(({ title, explains, misfit, evidence }) =>
          h(
            'tr',
            {},
            h('th', { scope: 'row' }, title),
            h('td', {}, explains > 0 ? percent(explains) : 'nothing'),
            h('td', {}, String(Number(misfit.toPrecision(2)))),
            h('td', { class: 'note' }, evidence),
          ),
        ),
    ),
  );
}
