import { atTemperature } from '../../engine/index.ts';
import { loopChart } from '../chart/loop-chart.ts';
import { put } from '../dom.ts';
import type { Run } from '../run.ts';
import { coreSummary } from '../summaries.ts';
import { createFigure } from './figure.ts';

export interface CoreView {
  readonly node: HTMLElement;
  /** `at`: the sample shown. */
  update(run: Run, bit: 0 | 1, at: number, em: number): void;
}

/** The selected core: its static loop and the path it takes through the cycle. */
export function createCoreView(tools: readonly Node[]): CoreView {
  const figure = createFigure({ title: 'The selected core', level: 'h2', tools });
  return {
    node: figure.node,
    update(run, bit, at, em) {
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
