import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import type { FitResult } from '../../engine/fitting/fit-design.ts';
import { h } from '../ui/dom.ts';
import { unknownWords, withUnknownWords } from './bench-words.ts';

/** What a fit found, with what stands behind each number. */
export function fitResultNodes(fit: FitResult, samples: number): HTMLElement[] {
  const names = fit.unknowns.map(({ name }) => name);
  return [
    h(
      'ul',
      { class: 'findings' },
      ...fit.statements.map((text) => h('li', {}, withUnknownWords(text, names))),
    ),
    scroll('Fitted values', valuesTable(fit, samples)),
    toldApart(fit, names),
    ...(fit.unknowns.length > 1 ? [correlations(fit)] : []),
  ];
}

/** Is the answer to be trusted? The icon and the words that begin it. */
export function fitStatus(fit: FitResult): {
  readonly icon: 'ok' | 'warning' | 'error';
  readonly text: string;
} {
  const { outcome, good, runs } = fit;
  if (outcome === 'converged' && good)
    return { icon: 'ok', text: `Converged in ${runs} runs; noise alone explains what is left.` };
  if (outcome === 'converged')
    return {
      icon: 'warning',
      text: `Converged in ${runs} runs, but more than noise is left: the model does not hold all of it.`,
    };
  return {
    icon: outcome === 'singular' ? 'error' : 'warning',
    text: `Not converged (${outcome}) after ${runs} runs: do not take the values for found.`,
  };
}

const scroll = (label: string, table: HTMLElement): HTMLElement =>
  h('div', { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': label }, table);

function valuesTable({ unknowns, captures }: FitResult, samples: number): HTMLElement {
  const count = captures.length === 1 ? 'one capture' : `${captures.length} captures`;
  return h(
    'table',
    {},
    h(
      'caption',
      {},
      `95 % intervals by Student’s t, from ${samples} samples of ${count}, wider where neighbouring differences are alike`,
    ),
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        ...['Unknown', 'before', 'fitted', '95 % interval', ''].map((text) =>
          text === '' ? h('td', {}) : h('th', { scope: 'col' }, text),
        ),
      ),
    ),
    h(
      'tbody',
      {},
      ...unknowns.map(({ name, unit, start, value, bounds, interval, atBound }) => {
        const said = (v: number): string => formatQuantity(v, unit as Unit, 4);
        const known = Number.isFinite(interval.low) && Number.isFinite(interval.high);
        return h(
          'tr',
          {},
          h('th', { scope: 'row' }, unknownWords(name)),
          h('td', {}, said(start)),
          h('td', { class: 'bench-value' }, said(value)),
          h(
            'td',
            {},
            known ? `${said(interval.low)} to ${said(interval.high)}` : atBound ? 'none' : 'not told',
          ),
          h(
            'td',
            {},
            atBound
              ? `held at its ${atBound} bound, ${said(atBound === 'lower' ? bounds.low : bounds.high)}`
              : '',
          ),
        );
      }),
    ),
  );
}

function toldApart({ undetermined }: FitResult, names: readonly string[]): HTMLElement {
  if (undetermined.length === 0)
    return h('p', {}, 'Every combination of these unknowns is told by the captures.');
  return h(
    'div',
    {},
    h('h3', {}, 'What cannot be told'),
    h('ul', { class: 'findings' }, ...undetermined.map((text) => h('li', {}, withUnknownWords(text, names)))),
  );
}

/** Of two unknowns at this much or more, one stands in for the other. */
const CLOSE = 0.9;

function correlations({ unknowns, correlations: table }: FitResult): HTMLElement {
  const pairs = unknowns.flatMap((a, i) =>
    unknowns.slice(i + 1).flatMap((b, k) => {
      const r = table[i]![i + 1 + k]!;
      return Math.abs(r) >= CLOSE
        ? [`${unknownWords(a.name)} and ${unknownWords(b.name)} (${r.toFixed(2).replace('-', '−')})`]
        : [];
    }),
  );
  return h(
    'details',
    {},
    h(
      'summary',
      {},
      pairs.length > 0
        ? `Correlations; hardly told apart: ${pairs.join(', ')}`
        : 'Correlations; none at 0.9 or more',
    ),
    scroll(
      'Correlations of the unknowns',
      h(
        'table',
        {},
        h('caption', {}, 'Correlations of the unknowns'),
        h(
          'thead',
          {},
          h(
            'tr',
            {},
            h('td', {}),
            ...unknowns.map(({ name }) => h('th', { scope: 'col' }, unknownWords(name))),
          ),
        ),
        h(
          'tbody',
          {},
          ...unknowns.map(({ name }, i) =>
            h(
              'tr',
              {},
              h('th', { scope: 'row' }, unknownWords(name)),
              ...table[i]!.map((r) => h('td', {}, Number.isFinite(r) ? r.toFixed(2).replace('-', '−') : '')),
            ),
          ),
        ),
      ),
    ),
  );
}
