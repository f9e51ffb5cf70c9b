import { html, nothing, type TemplateResult } from 'lit-html';
import { BESIDE, PAPERS, type View } from '../state/atoms.ts';
import type { Page } from '../state/page.ts';
import { choice } from '../ui/choice.ts';

const WORDS = { system: 'as the system', light: 'light', dark: 'dark' } as const;

const BESIDE_WORDS = { margin: 'the margin', mat: 'the mat', core: 'the core', nothing: 'nothing' } as const;

/** How the page looks and listens. */
export function viewEntries({ atoms }: Page): () => TemplateResult {
  const change = (part: Partial<View>): void => {
    atoms.view.value = { ...atoms.view.value, ...part };
  };
  const check = (title: string, name: 'projector' | 'keys') =>
    html`<label class="check"
      ><input
        type="checkbox"
        .checked=${atoms.view.value[name]}
        @change=${(event: Event) => change({ [name]: (event.target as HTMLInputElement).checked })}
      />${title}</label
    >`;
  return () => html`
    <div class="field">
      <label for="paper">Paper</label>
      <select
        id="paper"
        .value=${atoms.view.value.paper}
        @change=${(event: Event) =>
          change({ paper: (event.target as HTMLSelectElement).value as View['paper'] })}
      >
        ${PAPERS.map((paper) => html`<option value=${paper} ?selected=${paper === atoms.view.value.paper}>${WORDS[paper]}</option>`)}
      </select>
    </div>
    ${check('Projector: large, two views', 'projector')}
    ${
      atoms.view.value.projector
        ? html`<div class="field">
            <span class="label">Beside the trace</span>
            ${choice({
              title: 'Beside the trace',
              options: BESIDE.map((name) => [name, BESIDE_WORDS[name]] as const),
              chosen: atoms.view.value.beside,
              onChoose: (beside) => change({ beside }),
            })}
          </div>`
        : nothing
    }
    ${check('Single letters are keys on the stage', 'keys')}
  `;
}
