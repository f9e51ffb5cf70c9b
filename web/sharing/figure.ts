import { h } from '../ui/dom.ts';
import { createBehind, type Behind } from './behind.ts';

export interface Figure {
  readonly node: HTMLElement;
  readonly body: HTMLElement;
  readonly update: Behind['update'];
}

export interface FigureOptions {
  readonly title: string;
  readonly level?: 'h2' | 'h3';
  /** Controls beside the title. */
  readonly tools?: readonly Node[];
  readonly className?: string;
}

/** A chart with its title, and what stands behind it. */
export function createFigure({ title, level = 'h3', tools = [], className = '' }: FigureOptions): Figure {
  const body = h('div', { class: 'plot' });
  const behind = createBehind(title);
  const head = h('div', { class: 'panel-head' }, h(level, {}, title), ...tools);
  const node = h('section', { class: `panel ${className}`, 'aria-label': title }, head, body, behind.node);
  return { node, body, update: behind.update };
}
