import { html, nothing, type TemplateResult } from 'lit-html';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Design } from '../../engine/design/design.ts';
import { rivalWords } from '../../engine/fitting/align/line-up-words.ts';
import { causeWords, changeWords, misfitWords } from '../../engine/fitting/misfit-words.ts';
import type { BenchCapture } from '../model/bench-capture.ts';
import type { ChartData } from '../sharing/chart-data.ts';
import type { View } from '../ui/mount.ts';
import { statusLine, type Said, type WorkState } from '../ui/status.ts';
import { scrollTable } from '../ui/table.ts';
import type { Laid } from './bench-messages.ts';
import { percent, worthTelling } from './bench-words.ts';
import { withCaptures } from './section.ts';

/** A capture laid over the prediction of a design. */
export interface LaidCapture {
  readonly answer: Laid;
  readonly capture: BenchCapture;
  readonly design: Design;
}

export interface LineUpViewOptions {
  readonly conditions: View;
  /** There is a capture. */
  readonly some: boolean;
  readonly work: WorkState;
  readonly laid: LaidCapture | undefined;
  /** The design does not hold as it is now. */
  readonly old: boolean;
  readonly figure: HTMLElement;
  readonly onKeep: (laid: LaidCapture) => void;
}

export const lineUpView = ({ conditions, some, work, laid, old, figure, onKeep }: LineUpViewOptions) =>
  withCaptures(
    some,
    'Take a capture first: it is then laid over what the design in the planning view predicts.',
    html`${conditions}
      <div class="status-row">${statusLine(work.said)}</div>
      <div class=${old || work.running ? 'bench-output stale' : 'bench-output'} ?hidden=${!laid}>
        ${
          laid
            ? html`${factsView(laid)} ${figure}
                ${worthTelling(laid.answer.comparison).length > 0 ? causesTable(laid.answer) : nothing}
                <button type="button" @click=${() => onKeep(laid)}>Keep it in the planning view</button>`
            : nothing
        }
      </div>`,
  );

/** How well it lies there, and what is left. */
export function laidSaid({ comparison, line }: Laid): Said {
  const good = comparison.verdict === 'noise alone' && !line.rival;
  const text = [comparison.statement, misfitWords(comparison), rivalWords(line)].join(' ').trim();
  return { sign: good ? 'ok' : 'warning', text };
}

const factsView = ({ answer, capture }: LaidCapture): TemplateResult =>
  html`<dl class="readouts">
    ${factsOf(answer, capture).map(
      ([name, value]) =>
        html`<div>
          <dt>${name}</dt>
          <dd>${value}</dd>
        </div>`,
    )}
  </dl>`;

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

const causesTable = ({ comparison }: Laid): TemplateResult =>
  scrollTable({
    name: 'What the difference looks like',
    caption: 'What the difference looks like: each cause alone, and what changing it would remove',
    heads: ['Cause', 'Would have to be', 'Removes'],
    rows: worthTelling(comparison).map((misfit) => [
      causeWords(misfit),
      changeWords(misfit),
      percent(misfit.share),
    ]),
  });

export const differenceFigure = (difference: SVGSVGElement): TemplateResult =>
  html`<figure class="small-panel">
    <figcaption>Measured minus predicted; dotted: three times the capture’s own noise</figcaption>
    ${difference}
  </figure>`;

/** What stands behind the two charts. */
export const comparisonData = (
  { answer: { comparison }, capture }: LaidCapture,
  designName: string,
  design: Design,
  { both, difference }: { readonly both: SVGSVGElement; readonly difference: SVGSVGElement },
): ChartData => ({
  file: 'measured-over-predicted',
  title: `${capture.label} over the prediction of ${designName}`,
  summary: `${comparison.statement} ${misfitWords(comparison)}`,
  design,
  pictures: [{ svg: both }, { svg: difference, title: 'Measured minus predicted' }],
  columns: [
    { title: 'time / s', values: comparison.time },
    { title: 'measured / V', values: comparison.measured },
    { title: 'predicted / V', values: comparison.predicted },
    { title: 'difference / V', values: comparison.difference },
  ],
});
