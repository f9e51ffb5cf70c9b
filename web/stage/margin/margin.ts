import { html, nothing, type TemplateResult } from 'lit-html';
import type { StrobeState } from '../../model/strobe-state.ts';
import { strobeShares } from '../../model/summaries.ts';
import { millivolts } from '../../model/verdict.ts';
import type { Region } from '../../state/page.ts';
import './margin.css';

/** Where the margin goes: the chain of steps where the engine tells it, and what each cause adds at the strobe. */
export const margin: Region =
  ({ now }) =>
  () => {
    const strobe = now.strobe.value;
    return html`
      <div class="region-head"><h2>Where the margin goes</h2></div>
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

function chainList(chain: StrobeState['chain']): TemplateResult | typeof nothing {
  if (chain.length === 0) return nothing;
  return html`<ol class="chain">
    ${chain.map(({ step, volts }) => html`<li><span>${step}</span><strong>${millivolts(volts)}</strong></li>`)}
  </ol>`;
}

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
