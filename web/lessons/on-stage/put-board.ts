import type { Page } from '../../state/page.ts';
import { put } from '../../ui/dom.ts';
import type { PlayedStep } from '../step-node.ts';
import type { Found } from './found.ts';
import { standsOn } from './stands-on.ts';

/** Puts a step's board on the stage, covered and locked unless it was answered. */
export function putBoard({ atoms, act }: Page, { lesson, step, told }: Found, answered: boolean): void {
  const { covered, movable, bit = 1, heard = 'wire', span, instant, scale } = standsOn(step.id);
  act.openBoard(step.design, {
    title: told.title,
    question: told.question,
    ...(answered ? {} : { covered, movable }),
    step: step.id,
    back: { name: 'learn', part: lesson.id, id: step.id },
  });
  atoms.bit.value = bit;
  atoms.heard.value = heard;
  atoms.span.value = span;
  atoms.instant.value = instant;
  atoms.scale.value = scale;
  atoms.narrowView.value = 'question';
}

/** What is drawn on stands where the trace will be, until it is answered. */
export function placePlot({ node, plot }: PlayedStep, host: HTMLElement, apart: boolean): void {
  if (!plot) return;
  if (apart) put(host, plot.node);
  else if (plot.node.parentElement === host) {
    plot.home.append(plot.node);
    put(host);
  }
  node.classList.toggle('plot-apart', apart);
}
