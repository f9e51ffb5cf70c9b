import { html, nothing, svg, type TemplateResult } from 'lit-html';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import type { StrobeState } from '../../model/strobe-state.ts';
import { strobeShares } from '../../model/summaries.ts';
import type { Region } from '../../state/page.ts';
import './margin.css';
import { stairSpan, stairsOf, type Stair } from './stairs.ts';

/** Where the margin goes: the chain of steps where the engine tells it, and what each cause adds at the strobe. */
export const margin: Region =
  ({ now }) =>
  () => {
    const strobe = now.strobe.value;
    return html`
      <div class="region-head"><h2>${heading(strobe?.chainSide)}</h2></div>
      ${
        strobe
          ? html`<div
              class="margin-body ${now.judgedIsOld.value ? 'old' : ''}"
              tabindex="0"
              role="region"
              aria-label="What takes from the margin"
            >
              ${chainList(strobe.chain)}${sharesTable(strobe)}
            </div>`
          : html`<p class="note">Being computed.</p>`
      }
    `;
  };

/** The stairs are of one side: the lesser one of the set that decides. */
function heading(side: StrobeState['chainSide'] | undefined): string {
  if (side === undefined) return 'Where the margin goes';
  return side === 'one' ? 'Where the ONE’s margin goes' : 'Where the ZERO’s margin goes';
}

/** Each stair as a bar on the sense wire's own scale, from nothing at its zero line; sums are told apart by weight and frame. */
function chainList(chain: StrobeState['chain']): TemplateResult | typeof nothing {
  if (chain.length === 0) return nothing;
  const stairs = stairsOf(chain);
  const [low, high] = stairSpan(stairs);
  const x = (volts: number): number => (100 * (volts - low)) / (high - low);
  return html`<ol class="chain">
    ${stairs.filter(isSeen).map(
      ({ label, volts, from, to, sum }) =>
        html`<li class=${sum ? 'sum' : volts < 0 ? 'takes' : 'adds'}>
          <span>${label}</span><strong>${inMillivolts(volts)}</strong>
          <svg viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
            ${svg`<rect class="bar" x=${x(Math.min(from, to))} width=${Math.max(0.4, Math.abs(x(to) - x(from)))} y="1" height="4"></rect>
            <line class="zero" x1=${x(0)} x2=${x(0)} y1="0" y2="6"></line>`}
          </svg>
        </li>`,
    )}
  </ol>`;
}

/** A tenth of a millivolt is what is known of a margin. */
const rounded = (volts: number): number => Math.round(volts * 1e4) / 1e4;
const inMillivolts = (volts: number): string => formatQuantity(rounded(volts), 'V');
const isSeen = ({ sum, volts }: Stair): boolean => sum || rounded(volts) !== 0;

const sharesTable = (strobe: StrobeState): TemplateResult => html`
  <table class="shares">
    <caption>
      At the strobe, on the sense wire
    </caption>
    <thead>
      <tr>
        <td></td>
        <th scope="col">least ONE</th>
        <th scope="col">greatest ZERO</th>
      </tr>
    </thead>
    <tbody>
      ${strobeShares(strobe).map(
        ([name, one, zero]) =>
          html`<tr>
            <th scope="row">${name}</th>
            <td>${one}</td>
            <td>${zero}</td>
          </tr>`,
      )}
    </tbody>
  </table>
`;
