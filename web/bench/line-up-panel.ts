import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { rivalWords } from '../../engine/fitting/align/line-up-words.ts';
import { causeWords, changeWords, misfitWords } from '../../engine/fitting/misfit-words.ts';
import { panSpan, zoomSpan, type TimeSpan } from '../charts/spaces.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import { createFigure } from '../sharing/figure.ts';
import { createViewTools } from './view-tools.ts';
import type { BenchCapture } from '../model/bench-capture.ts';
import { createBenchClient } from './bench-client.ts';
import type { Laid } from './bench-messages.ts';
import { chosenCapture, type BenchState } from './bench-state.ts';
import { percent, worthTelling } from './bench-words.ts';
import { comparisonCharts } from './comparison-charts.ts';
import { createConditions } from './conditions.ts';
import type { MeasuredTrace } from '../model/measured-trace.ts';
import { textSize } from './text-size.ts';

export interface LineUpCallbacks {
  readonly raw: () => RawDesign;
  /** Puts the measured trace into the planning view's main panel. */
  readonly onKeep: (trace: MeasuredTrace) => void;
}

export interface LineUpPanel {
  readonly node: HTMLElement;
  /** The design, the captures or the room changed. */
  refresh(): void;
}

/** The chosen capture over its prediction: how it lies there, what is left, and what that looks like. */
export function createLineUpPanel(state: BenchState, { raw, onKeep }: LineUpCallbacks): LineUpPanel {
  const lane = createBenchClient();
  let laid: { readonly answer: Laid; readonly capture: BenchCapture; readonly design: Design } | undefined;
  let asked: readonly unknown[] = [];
  let span: TimeSpan | undefined;
  let fit: 'signal' | 'all' = 'signal';
  const conditions = createConditions(state);
  const status = h('p', { class: 'status', role: 'status' });
  const facts = h('dl', { class: 'readouts' });
  const whole = (): TimeSpan => {
    const { time } = laid!.answer.comparison;
    return { from: time[0]!, to: time.at(-1)! };
  };
  const view = (): TimeSpan => span ?? whole();
  const look = (next: TimeSpan | undefined): void => {
    span = next;
    draw();
  };
  const tools = createViewTools({
    onZoom: (factor) => look(zoomSpan(view(), factor, whole(), 20e-9)),
    onPan: (fraction) => look(panSpan(view(), fraction, whole())),
    onRead: () => {
      const { from, to } = whole();
      const end = laid!.design.cycle.readWidth;
      look({ from: Math.max(from, -0.1 * end), to: Math.min(to, 1.1 * end) });
    },
    onWhole: () => look(undefined),
    onFit: (next) => {
      fit = next;
      draw();
    },
  });
  const figure = createFigure({ title: 'Measured over predicted', tools: [tools.node] });
  const below = h('figure', { class: 'small-panel' });
  const causes = h('div', {
    class: 'table-scroll',
    tabindex: 0,
    role: 'region',
    'aria-label': 'What the difference looks like',
  });
  const keep = h(
    'button',
    {
      type: 'button',
      click: () => {
        if (!laid) return;
        const { time, measured } = laid.answer.comparison;
        const { label, observed } = laid.capture;
        onKeep({ label, time, value: measured, observed });
        put(
          status,
          icon('ok'),
          `${label} now lies in the main panel of the planning view too; it can be taken out there.`,
        );
      },
    },
    'Keep it in the planning view',
  );
  const output = h('div', { class: 'bench-output', hidden: true }, facts, figure.node, causes, keep);
  const body = h(
    'div',
    { class: 'bench-body' },
    conditions.node,
    h('div', { class: 'status-row' }, status),
    output,
  );
  const empty = h(
    'p',
    { class: 'note' },
    'Take a capture first: it is then laid over what the design in the planning view predicts.',
  );
  const node = h(
    'section',
    { class: 'bench-section', 'aria-labelledby': 'bench-lie' },
    h('h2', { id: 'bench-lie' }, 'Against the prediction'),
    empty,
    body,
  );

  function refresh(): void {
    const capture = chosenCapture(state);
    body.hidden = !capture;
    empty.hidden = capture !== undefined;
    if (!capture) return lane.cancel();
    const now = raw();
    let design: Design;
    try {
      design = checkDesign(now);
    } catch (error) {
      asked = [];
      lane.cancel();
      output.classList.toggle('stale', laid !== undefined);
      put(
        status,
        icon('error'),
        `The design in the planning view does not hold: ${(error as Error).message}`,
      );
      return;
    }
    conditions.update(design);
    if (asked[0] === now && asked[1] === capture) return draw();
    asked = [now, capture];
    output.classList.toggle('stale', laid !== undefined);
    put(status, icon('busy'), 'Lining it up.');
    lane.ask(
      'compare',
      { raw: now, capture },
      {
        onAnswer: (answer) => {
          if (laid?.capture.id !== capture.id) span = undefined;
          laid = { answer, capture, design };
          output.hidden = false;
          output.classList.remove('stale');
          tell();
          draw();
        },
        onFailed: ({ message }) => {
          laid = undefined;
          output.hidden = true;
          put(status, icon('error'), message);
        },
      },
    );
  }

  function tell(): void {
    const { comparison } = laid!.answer;
    const good = comparison.verdict === 'noise alone';
    const { line } = laid!.answer;
    const told = [comparison.statement, misfitWords(comparison), rivalWords(line)].join(' ').trim();
    put(status, icon(good && !line.rival ? 'ok' : 'warning'), told);
    put(
      facts,
      ...factsOf(laid!.answer, laid!.capture).flatMap(([name, value]) => [
        h('div', {}, h('dt', {}, name), h('dd', {}, value)),
      ]),
    );
    put(causes, causesTable(laid!.answer));
    causes.hidden = worthTelling(comparison).length === 0;
  }

  function draw(): void {
    if (!laid || node.clientWidth === 0) return;
    const { answer, capture, design } = laid;
    tools.update(fit, view(), whole());
    const { both, difference } = comparisonCharts({
      ...answer,
      bit: capture.bit,
      span: view(),
      fit,
      width: Math.max(220, figure.body.clientWidth),
      em: textSize(),
    });
    put(
      below,
      h('figcaption', {}, 'Measured minus predicted; dotted: three times the capture’s own noise'),
      difference,
    );
    put(figure.body, both, below);
    figure.update(() => ({
      file: 'measured-over-predicted',
      title: `${capture.label} over the prediction of ${String(rawAt(raw(), '/name') ?? 'the design')}`,
      summary: `${answer.comparison.statement} ${misfitWords(answer.comparison)}`,
      design,
      pictures: [{ svg: both }, { svg: difference, title: 'Measured minus predicted' }],
      columns: [
        { title: 'time / s', values: answer.comparison.time },
        { title: 'measured / V', values: answer.comparison.measured },
        { title: 'predicted / V', values: answer.comparison.predicted },
        { title: 'difference / V', values: answer.comparison.difference },
      ],
    }));
  }

  return { node, refresh };
}

function factsOf({ line, comparison }: Laid, { probeGain }: BenchCapture): (readonly [string, string])[] {
  const chi = comparison.reducedChiSquare;
  return [
    ['Read starts at', `${formatQuantity(line.delay, 's', 4)} of the capture`],
    [
      'Gain',
      `${Number(Math.abs(line.gain).toPrecision(4))}${probeGain === 'fixed' ? ', taken as known' : ''}`,
    ],
    ['Offset', formatQuantity(line.offset, 'V', 3)],
    ['Polarity', line.polarity === 1 ? 'as predicted' : 'turned round'],
    ['Alike', `${Number((Math.abs(line.coefficient) * 100).toPrecision(4))} %`],
    [
      'Difference over noise',
      Number.isFinite(chi) ? `${Number(Math.sqrt(chi).toPrecision(3))}` : 'no noise to compare',
    ],
  ];
}

function causesTable({ comparison }: Laid): HTMLElement {
  return h(
    'table',
    {},
    h('caption', {}, 'What the difference looks like: each cause alone, and what changing it would remove'),
    h(
      'thead',
      {},
      h('tr', {}, ...['Cause', 'Would have to be', 'Removes'].map((text) => h('th', { scope: 'col' }, text))),
    ),
    h(
      'tbody',
      {},
      ...worthTelling(comparison).map((misfit) =>
        h(
          'tr',
          {},
          h('th', { scope: 'row' }, causeWords(misfit)),
          h('td', {}, changeWords(misfit)),
          h('td', {}, percent(misfit.share)),
        ),
      ),
    ),
  );
}
