import { createLongWork } from './long-work.ts';
import { VERSION } from '../../engine/base/version.ts';
import { toJsonDocument } from '../../engine/export/serialise.ts';
import type { FitResult } from '../../engine/fitting/fit-design.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import type { RawDesign } from '../model/pointer.ts';
import { saveFile } from '../sharing/save.ts';
import { checkNow } from '../model/check-now.ts';
import type { BenchCapture } from '../model/bench-capture.ts';
import { createBenchClient } from './bench-client.ts';
import type { BenchState } from './bench-state.ts';
import { unknownWords } from './bench-words.ts';
import { fitResultNodes, fitStatus } from './fit-result.ts';
import { createUnknownsTable } from './unknowns-table.ts';

export interface FitPanelCallbacks {
  readonly raw: () => RawDesign;
  /** Puts the fitted design into the planning view. */
  readonly onUse: (raw: RawDesign) => void;
  readonly onPlan: () => void;
}

export interface FitPanel {
  readonly node: HTMLElement;
  refresh(): void;
}

interface Finished {
  readonly fit: FitResult;
  readonly raw: RawDesign;
  readonly captures: readonly BenchCapture[];
}

/** Which unknowns to find from which captures; then what was found. */
export function createFitPanel(state: BenchState, { raw, onUse, onPlan }: FitPanelCallbacks): FitPanel {
  const lane = createBenchClient();
  let finished: Finished | undefined;
  const left = new Set<number>();
  const table = createUnknownsTable(() => refresh());
  const sources = h('fieldset', { class: 'choices' });
  const start = h('button', { type: 'button', click: () => run() }, 'Fit');
  const work = createLongWork({
    lane,
    start,
    name: 'Fitting',
    cancelled: 'Cancelled; nothing was changed.',
    onEnd: () => refresh(),
  });
  const output = h('div', { class: 'bench-output', hidden: true });
  const used = h('p', { class: 'status', role: 'status' });
  const chosen = h('p', { class: 'note' });
  const body = h(
    'div',
    { class: 'bench-body' },
    sources,
    table.node,
    chosen,
    h('div', { class: 'button-row' }, start, work.cancel),
    work.row,
    output,
  );
  const empty = h(
    'p',
    { class: 'note' },
    'Take a capture first: a fit finds what the design does not know from what was measured.',
  );
  const node = h(
    'section',
    { class: 'bench-section', 'aria-labelledby': 'bench-fit' },
    h('h2', { id: 'bench-fit' }, 'Fit what is not known'),
    empty,
    body,
  );
  const using = (): readonly BenchCapture[] => state.captures.value.filter(({ id }) => !left.has(id));

  function run(): void {
    const [design, captures, unknowns] = [raw(), using(), table.chosen()];
    const ranges = table.ranges();
    if (ranges === undefined) return;
    output.classList.toggle('stale', finished !== undefined);
    work.begin('Fitting.');
    lane.ask(
      'fit',
      { raw: design, captures, unknowns, ranges },
      {
        onPiece: ({ done, planned, runs }) =>
          work.advance(
            done,
            planned,
            `Fitting: iteration ${done} of at most ${planned}, ${runs} runs so far.`,
          ),
        onAnswer: (fit) => {
          work.end();
          finished = { fit, raw: design, captures };
          show();
        },
        onFailed: ({ message, field }) => {
          work.end();
          work.say('error', table.refuse(field, message) ? 'Not fitted: see the bounds.' : message);
        },
      },
    );
  }

  function show(): void {
    const { fit, captures } = finished!;
    const told = fitStatus(fit);
    work.say(told.icon, told.text);
    const samples = fit.captures.reduce((sum, { comparison }) => sum + comparison.time.length, 0);
    output.hidden = false;
    output.classList.remove('stale');
    put(used);
    put(
      output,
      ...fitResultNodes(fit, samples),
      h(
        'div',
        { class: 'button-row' },
        h(
          'button',
          {
            type: 'button',
            click: () => {
              onUse(fit.design as RawDesign);
              put(
                used,
                icon('ok'),
                'The planning view holds the fitted design; Undo there brings back the one before. ',
                h('button', { type: 'button', click: onPlan }, 'Go to the planning view'),
              );
            },
          },
          'Use the fitted design',
        ),
        h(
          'button',
          {
            type: 'button',
            click: () =>
              saveFile('fitted-design.json', 'application/json', `${JSON.stringify(fit.design, null, 2)}\n`),
          },
          'Save the fitted design',
        ),
        h(
          'button',
          { type: 'button', click: () => saveFile('fit.json', 'application/json', fitFile(fit, captures)) },
          'Save the fit',
        ),
      ),
      used,
    );
  }

  function refresh(): void {
    const captures = state.captures.value;
    empty.hidden = captures.length > 0;
    body.hidden = captures.length === 0;
    if (captures.length === 0) return;
    const { design } = checkNow(raw());
    if (design) table.update(raw());
    put(
      sources,
      h('legend', {}, 'From'),
      ...captures.map(({ id, label }) => {
        const box = h('input', {
          type: 'checkbox',
          id: `bench-from-${id}`,
          change: () => {
            if (box.checked) left.delete(id);
            else left.add(id);
            refresh();
            document.getElementById(box.id)?.focus();
          },
        });
        box.checked = !left.has(id);
        return h('label', {}, box, label);
      }),
    );
    const names = table.chosen().map(unknownWords);
    put(
      chosen,
      names.length > 0 ? `To find: ${names.join(', ')}.` : 'Nothing is chosen yet: tick what is not known.',
    );
    start.disabled = lane.busy || !design || using().length === 0 || table.chosen().length === 0;
    const stale =
      finished !== undefined &&
      (finished.captures.length !== using().length || finished.captures.some((c, i) => c !== using()[i]));
    output.classList.toggle('stale', stale);
    if (stale && !lane.busy) work.say('stale', 'Stale: of the captures before. Fit again.');
  }

  return { node, refresh };
}

/** The whole answer as a file: what was asked, of what, and what came out. */
export function fitFile(fit: FitResult, captures: readonly BenchCapture[]): string {
  return toJsonDocument({
    version: VERSION,
    captures: captures.map(
      ({ label, bit, observed, row, column, write, readCurrent, part, polarity, probeGain, trace }) => ({
        label,
        bit,
        observed,
        row,
        column,
        write,
        readCurrent,
        part,
        polarity,
        probeGain,
        samples: trace.time.length,
      }),
    ),
    outcome: fit.outcome,
    statements: fit.statements,
    undetermined: fit.undetermined,
    unknowns: fit.unknowns,
    correlations: fit.correlations,
    lineUps: fit.captures.map(({ label, lineUp }) => ({ label, ...lineUp })),
    reducedChiSquare: fit.reducedChiSquare,
    design: fit.design,
  });
}
