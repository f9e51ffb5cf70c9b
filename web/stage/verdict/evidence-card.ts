import { html, nothing, type TemplateResult } from 'lit-html';
import { CELLS } from '../../model/verdict-cells.ts';
import { certaintyText } from '../../model/summaries.ts';
import type { Page, Region } from '../../state/page.ts';
import { createReadouts } from './readouts.ts';

/** What a cell of the verdict rests on. */
export const evidenceCard: Region = (page) => {
  const { atoms, now, act } = page;
  const readouts = createReadouts();
  return () => {
    const set = atoms.evidence.value;
    if (!set) return nothing;
    const title = CELLS.find((cell) => cell.set === set)!.title;
    const [judged, run] = [now.judged.value, now.run.value];
    readouts.update(now.strobe.value, judged?.reason ?? run?.reason);
    if (run) readouts.certainty(certaintyText(run, judged));
    return html`
      <div class="card-head">
        <h2>${title}</h2>
        <button type="button" @click=${() => act.showEvidence(undefined)}>Close</button>
      </div>
      ${set === 'nominal' ? readouts.node : set === 'corners' ? cornersView(page) : askView(page, set)}
    `;
  };
};

function cornersView({ now, act }: Page): TemplateResult {
  const corners = now.strobe.value?.corners;
  if (!corners) return html`<p class="note">The corners are being computed.</p>`;
  return html`
    <p>Least ONE: ${corners.one}.</p>
    <p>Greatest ZERO: ${corners.zero}.</p>
    <p class="note">${corners.reason ?? 'There is a window at the corners.'}</p>
    <div class="button-row">
      <button type="button" @click=${() => act.go({ name: 'plan', part: 'cases' })}>Show the cases</button>
    </div>
  `;
}

const askView = ({ act }: Page, set: 'parts' | 'core'): TemplateResult => html`
  <p>
    ${
      set === 'parts'
        ? 'How many mats of parts as they come would read every bit is a study of its own.'
        : 'What is not known of the core is not yet counted. A reading of single cores on the bench narrows it.'
    }
  </p>
  <div class="button-row">
    ${
      set === 'parts'
        ? html`<button type="button" @click=${() => act.go({ name: 'plan', part: 'studies' })}>
            To the studies
          </button>`
        : html`<button type="button" @click=${() => act.go({ name: 'bench' })}>To the bench</button>`
    }
  </div>
`;
