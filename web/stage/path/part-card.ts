import { html, nothing, type TemplateResult } from 'lit-html';
import type { Design } from '../../../engine/design/design.ts';
import { PATH_TITLES } from '../../model/path-facts.ts';
import type { StrobeState } from '../../model/strobe-state.ts';
import type { Atoms, Part } from '../../state/atoms.ts';
import type { Page, Region } from '../../state/page.ts';
import { gained } from '../trace/before-card.ts';
import { PART_FIELDS } from './part-fields.ts';
import { fieldView, wantedBands } from './part-field.ts';
import { createSoughtBands } from './seek-bands.ts';

/** What stood when the card was opened: sliders keep a mark there, and the change since is told. */
interface Opened {
  readonly part: Part;
  readonly design: Design | undefined;
  readonly strobe: StrobeState | undefined;
}

/** Where what leaves a part can be heard. */
const HEARD: Readonly<Partial<Record<Part, Atoms['heard']['value']>>> = {
  wire: 'wire',
  amplifier: 'amplifier',
  latch: 'latch',
};

/** What finds the inputs of a part among all of them. */
const FOUND_BY: Readonly<Record<Part, string>> = {
  drivers: 'drive,',
  mat: 'mat',
  wire: 'wire',
  amplifier: 'amplifier',
  detector: 'detector',
  latch: 'strobe',
};

/** The inputs of one part of the signal path, beside the trace that they change. */
export const partCard: Region = (page) => {
  const { atoms, now, act } = page;
  const sought = createSoughtBands(page);
  let opened: Opened | undefined;
  return () => {
    const part = atoms.open.value;
    if (!part) {
      opened = undefined;
      sought.seek([]);
      return nothing;
    }
    const judged = now.judgedIsOld.value ? undefined : now.strobe.value;
    // An address can open a card before its design is known.
    if (opened?.part !== part || !opened.design) opened = { part, design: now.inForce.value, strobe: judged };
    // Opened before anything was judged: the first full answer is what the change is told against.
    else if (!opened.strobe?.corners && judged?.corners && now.inForce.value === opened.design)
      opened = { ...opened, strobe: judged };
    const close = (): void => {
      act.openPart(undefined);
      document.querySelector<HTMLElement>(`[data-part=${part}]`)?.focus();
    };
    const heard = HEARD[part];
    const since = { design: opened.design, strobe: opened.strobe?.time };
    const fields = PART_FIELDS[part];
    sought.seek(wantedBands(page, fields, since));
    return html`
      <div @keydown=${(event: KeyboardEvent) => event.key === 'Escape' && close()}>
        <div class="card-head">
          <h2>${PATH_TITLES[part]}</h2>
          <button type="button" @click=${close}>Close</button>
        </div>
        <div class="part-fields">${fields.map((field) => fieldView(page, field, since, sought))}</div>
        ${sinceOpened(page, opened, judged)}
        <p class="button-row">
          <button
            type="button"
            @click=${() => {
              atoms.find.value = FOUND_BY[part];
              act.go({ name: 'plan', part: 'inputs' });
            }}
          >
            More inputs of this part
          </button>
          ${heard === undefined || heard === atoms.heard.value ? nothing : showOnTrace(page, heard)}
        </p>
      </div>
    `;
  };
};

const showOnTrace = ({ atoms }: Page, heard: Atoms['heard']['value']): TemplateResult =>
  html`<button
    type="button"
    @click=${() => {
      atoms.heard.value = heard;
    }}
  >
    Show on the trace
  </button>`;

/** Margins gained since the card was opened. */
function sinceOpened({ now }: Page, opened: Opened, judged: StrobeState | undefined): TemplateResult {
  const before = opened.strobe;
  if (!before) return html`<p class="note small">Margins are being computed.</p>`;
  if (!judged || now.inForce.value === opened.design)
    return html`<p class="note small">
      ${judged ? 'Nothing changed since you opened it.' : 'Since you opened it: being computed.'}
    </p>`;
  const corners =
    judged.corners && before.corners
      ? gained(judged.corners.margin.left - before.corners.margin.left)
      : undefined;
  return html`<p class="note small">
    Since you opened it: as designed <strong>${gained(judged.margin.left - before.margin.left)}</strong>, at
    the corners <strong>${corners ?? 'being computed'}</strong>.
  </p>`;
}
