import { html, nothing, type TemplateResult } from 'lit-html';
import { setSentence } from '../../../engine/strobe/verdict-words.ts';
import { CELLS } from '../../model/verdict-cells.ts';
import { certaintyText } from '../../model/summaries.ts';
import type { Evidence } from '../../state/atoms.ts';
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

function cornersView(page: Page): TemplateResult {
  const { now, act } = page;
  const corners = now.strobe.value?.corners;
  if (!corners) return html`<p class="note">The corners are being computed.</p>`;
  return html`
    ${toldView(page, 'corners')}
    <p>Least ONE: ${corners.one}. ${showCase(page, corners.one)}</p>
    <p>Greatest ZERO: ${corners.zero}. ${showCase(page, corners.zero)}</p>
    ${corners.reason === undefined ? nothing : html`<p class="note">${corners.reason}</p>`}
    <div class="button-row">
      <button type="button" @click=${() => act.go({ name: 'plan', part: 'cases' })}>All cases</button>
    </div>
  `;
}

/** Opens the design with which a case can be run by itself; one step of undo takes it back. */
function showCase({ now, act }: Page, name: string): TemplateResult | typeof nothing {
  const run = now.judged.value;
  const found = now.strobe.value?.cases.find((item) => item.name === name);
  if (!run || !found?.overrides || now.judgedIsOld.value) return nothing;
  const { overrides } = found;
  const open = async (): Promise<void> => {
    const { openCase } = await import('../../model/open-case.ts');
    act.change((raw) => openCase(raw, run.design, overrides));
  };
  return html`<button type="button" @click=${() => void open()}>Show this case</button>`;
}

/** What the engine says of a set, in the words of every other door. */
function toldView({ now }: Page, set: Evidence): TemplateResult {
  const [run, strobe] = [now.judged.value, now.strobe.value];
  if (!run || !strobe) return html`<p class="note">Being computed.</p>`;
  const told = setSentence(run.design, strobe.verdict, set);
  return html`<p>
    ${now.judgedIsOld.value ? html`<strong>Before this change:</strong> ` : nothing}${told[0]!.toUpperCase()}${told.slice(1)}.
  </p>`;
}

const askView = (page: Page, set: 'parts' | 'core'): TemplateResult => html`
  ${toldView(page, set)}
  <p class="note">
    ${
      set === 'parts'
        ? 'How many mats of parts as they come would read every bit is a study of its own.'
        : 'Readings of single cores on the bench narrow it.'
    }
  </p>
  <div class="button-row">
    ${
      set === 'parts'
        ? html`<button type="button" @click=${() => page.act.go({ name: 'plan', part: 'studies' })}>
            To the studies
          </button>`
        : html`<button type="button" @click=${() => page.act.go({ name: 'bench' })}>To the bench</button>`
    }
  </div>
`;
