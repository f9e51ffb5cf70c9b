import { atTemperature, formatQuantity } from '../../../engine/index.ts';
import { loopChart } from '../../charts/loop-chart.ts';
import { h, put } from '../../ui/dom.ts';
import type { Run } from '../../model/run.ts';
import { coreSummary } from '../../model/summaries.ts';
import { createFigure } from '../../sharing/figure.ts';
import { createPlay } from '../clock/play.ts';

export interface CoreViewCallbacks {
  /** s: the reader has stepped to another instant. */
  readonly onInstant: (time: number) => void;
}

export interface CoreView {
  readonly node: HTMLElement;
  /** `at`: the sample shown. */
  update(run: Run, bit: 0 | 1, at: number, em: number): void;
}

/** The selected core: its static loop and the path it takes through the cycle. */
export function createCoreView(callbacks: CoreViewCallbacks): CoreView {
  let axis: Float64Array = new Float64Array(0);
  let now = 0;
  const figure = createFigure({ title: 'The selected core', level: 'h2' });
  const range = h('input', {
    id: 'core-instant',
    type: 'range',
    min: 0,
    step: 1,
    input: () => go(Number(range.value)),
  });
  const step = (text: string, name: string, by: number) =>
    h('button', { type: 'button', 'aria-label': name, title: name, click: () => go(now + by) }, text);
  const stepper = h(
    'div',
    { class: 'stepper' },
    h('label', { for: 'core-instant' }, 'Instant'),
    step('←', '10 samples back', -10),
    range,
    step('→', '10 samples on', 10),
  );
  const play = createPlay({
    // The whole cycle in eight seconds, whatever its length.
    onTick: () => {
      const end = axis.length - 1;
      go(now >= end ? 0 : Math.min(end, now + Math.max(1, Math.round(end / 160))));
    },
  });
  stepper.append(play);
  figure.body.after(stepper);
  const go = (index: number) => callbacks.onInstant(axis[Math.min(Math.max(index, 0), axis.length - 1)] ?? 0);

  return {
    node: figure.node,
    update(run, bit, at, em) {
      axis = run.one.time;
      now = at;
      range.max = String(axis.length - 1);
      range.value = String(at);
      range.setAttribute('aria-valuetext', formatQuantity(axis[at] ?? 0, 's', 4));
      const { design } = run;
      const trace = (bit === 1 ? run.one : run.zero).selected;
      const width = Math.min(figure.body.clientWidth, 560 * em);
      const node = loopChart({
        name: coreSummary(run, bit, at),
        core: atTemperature(design.core.parameters, design.temperature),
        drive: trace.drive,
        state: trace.state,
        at,
        width,
        height: Math.min(width * 0.72, 400 * em),
        em,
      });
      put(figure.body, node);
      figure.update(() => ({
        file: 'selected-core',
        title: 'The selected core',
        summary: coreSummary(run, bit, at),
        design,
        pictures: [{ svg: node }],
        columns: [
          { title: 'time / s', values: run.one.time },
          { title: 'ampere-turns / A', values: trace.drive },
          { title: 'stored flux / Wb', values: trace.state },
          { title: 'flux linkage / Wb', values: trace.flux },
        ],
      }));
    },
  };
}
