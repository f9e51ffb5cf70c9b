import { atTemperature } from '../../../engine/core/model.ts';
import { loopChart } from '../../charts/loop-chart.ts';
import type { Run } from '../../model/run.ts';
import { coreSummary } from '../../model/summaries.ts';
import { createFigure } from '../../sharing/figure.ts';
import { put } from '../../ui/dom.ts';

export interface CoreViewOptions {
  readonly run: Run;
  readonly bit: 0 | 1;
  /** The sample shown. */
  readonly at: number;
  readonly width: number;
  readonly em: number;
}

/** The selected core: its static loop and the path it takes through the cycle. */
export function createCoreView(): { readonly node: HTMLElement; update(options: CoreViewOptions): void } {
  const figure = createFigure({ title: 'Its loop' });
  return {
    node: figure.node,
    update({ run, bit, at, width: room, em }) {
      const { design } = run;
      const trace = (bit === 1 ? run.one : run.zero).selected;
      const width = Math.min(room, 460 * em);
      const node = loopChart({
        name: coreSummary(run, bit, at),
        core: atTemperature(design.core.parameters, design.temperature),
        drive: trace.drive,
        state: trace.state,
        at,
        width,
        height: Math.min(width * 0.72, 300 * em),
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
