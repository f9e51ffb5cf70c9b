import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import type { FitResult } from '../../engine/fitting/fit-result.ts';
import { html, nothing, type TemplateResult } from 'lit-html';
import type { Said } from '../ui/status.ts';
import { scrollTable } from '../ui/table.ts';
import { unknownWords, withUnknownWords } from './bench-words.ts';

/** What a fit found, with what stands behind each number. */
export function fitResult(fit: FitResult, samples: number): TemplateResult {
  const names = fit.unknowns.map(({ name }) => name);
  return html`${findings(fit.statements, names)} ${valuesTable(fit, samples)} ${toldApart(fit, names)}
  ${fit.unknowns.length > 1 ? correlations(fit) : nothing}`;
}

const findings = (sentences: readonly string[], names: readonly string[]): TemplateResult =>
  html`<ul class="findings">
    ${sentences.map((text) => html`<li>${withUnknownWords(text, names)}</li>`)}
  </ul>`;

/** Is the answer to be trusted? The icon and the words that begin it. */
export function fitStatus(fit: FitResult): Said {
  const { outcome, good, runs } = fit;
  if (outcome === 'converged' && good)
    return { sign: 'ok', text: `Converged in ${runs} runs; noise alone explains what is left.` };
  if (outcome === 'converged')
    return {
      sign: 'warning',
      text: `Converged in ${runs} runs, but more than noise is left: the model does not hold all of it.`,
    };
  return {
    sign: outcome === 'singular' ? 'error' : 'warning',
    text: `Not converged (${outcome}) after ${runs} runs: do not take the values for found.`,
  };
}

function valuesTable({ unknowns, captures }: FitResult, samples: number): TemplateResult {
  const count = captures.length === 1 ? 'one capture' : `${captures.length} captures`;
  return scrollTable({
    name: 'Fitted values',
    caption: `95 % intervals from ${samples} samples of ${count}: noise, what the model may be wrong by, and what else is not known of the core`,
    heads: ['Unknown', 'before', 'fitted', '95 % interval', ''],
    rows: unknowns.map(valueRow),
    cellClasses: { 2: 'bench-value' },
  });
}

function valueRow({ name, unit, start, value, bounds, interval, atBound }: FitResult['unknowns'][number]) {
  const said = (v: number): string => formatQuantity(v, unit as Unit, 4);
  const known = Number.isFinite(interval.low) && Number.isFinite(interval.high);
  const bound = atBound === 'lower' ? bounds.low : bounds.high;
  return [
    unknownWords(name),
    said(start),
    said(value),
    known ? `${said(interval.low)} to ${said(interval.high)}` : atBound ? 'none' : 'not told',
    atBound ? `held at its ${atBound} bound, ${said(bound)}` : '',
  ];
}

function toldApart({ undetermined }: FitResult, names: readonly string[]): TemplateResult {
  if (undetermined.length === 0)
    return html`<p>Every combination of these unknowns is told by the captures.</p>`;
  return html`<div>
    <h3>What cannot be told</h3>
    ${findings(undetermined, names)}
  </div>`;
}

/** Of two unknowns at this much or more, one stands in for the other. */
const CLOSE = 0.9;

function correlations({ unknowns, correlations: table }: FitResult): TemplateResult {
  const pairs = unknowns.flatMap((a, i) =>
    unknowns.slice(i + 1).flatMap((b, k) => {
      const r = table[i]![i + 1 + k]!;
      return Math.abs(r) >= CLOSE
        ? [`${unknownWords(a.name)} and ${unknownWords(b.name)} (${signed(r)})`]
        : [];
    }),
  );
  return html`<details>
    <summary>
      ${
        pairs.length > 0
          ? `Correlations; hardly told apart: ${pairs.join(', ')}`
          : 'Correlations; none at 0.9 or more'
      }
    </summary>
    ${scrollTable({
      name: 'Correlations of the unknowns',
      caption: 'Correlations of the unknowns',
      heads: ['', ...unknowns.map(({ name }) => unknownWords(name))],
      rows: unknowns.map(({ name }, i) => [
        unknownWords(name),
        ...table[i]!.map((r) => (Number.isFinite(r) ? signed(r) : '')),
      ]),
    })}
  </details>`;
}

/** To two places, with a true minus. */
const signed = (r: number): string => r.toFixed(2).replace('-', '−');
