import { h } from '../../ui/dom.ts';
import type { AskContext, AskView } from './ask.ts';
import { createDrawPlot } from './draw-plot.ts';

/** An empty plot with a point at each instant, to be pulled to where the curve is expected. */
export function drawView({ step, told, words, ask }: AskContext<'draw'>): AskView {
  const plot = createDrawPlot({
    id: step.id,
    name: words.learn.points(told.question),
    words,
    at: ask.at,
    most: ask.most,
  });
  return {
    node: h(
      'div',
      { class: 'prediction' },
      h('p', { class: 'question' }, told.question),
      plot.node,
      h('p', { class: 'note small hand-only' }, words.learn.pull),
    ),
    plot: plot.node,
    given: () => {
      const values = plot.values();
      return values ? { kind: 'draw', values } : { missing: words.learn.draw };
    },
  };
}
