import { html, type TemplateResult } from 'lit-html';
import { readJsonText } from '../../engine/base/json-text.ts';
import { DEMO_DESIGNS } from '../model/demo-designs.ts';
import type { RawDesign } from '../model/pointer.ts';
import type { Page } from '../state/page.ts';
import { menu } from '../ui/menu.ts';
import { fileButton } from '../ui/file-button.ts';

/** Bytes: a design file is some kilobytes; what is far longer is something else. */
const MAX_DESIGN_FILE = 5_000_000;

/** The design's name, which opens what else can be opened: demo designs and files. */
export function designMenu(page: Page): (name: string) => TemplateResult {
  const { atoms, act } = page;
  return (name) => {
    const heading =
      atoms.place.value.name === 'plan' ? html`<h1>${name}</h1>` : html`<strong>${name}</strong>`;
    return menu(
      heading,
      html`
        <p class="menu-title">Demo designs, invented</p>
        ${DEMO_DESIGNS.map(
          (demo) =>
            html`<button type="button" data-demo=${demo.id} @click=${() => act.open(demo.raw)}>
              ${demo.name}
            </button>`,
        )}
        <p class="menu-title">A file of your own</p>
        ${fileButton({
          id: 'open-file',
          text: 'Open a design…',
          accept: '.json,application/json',
          onFile: (file) => void openFile(page, file),
        })}
      `,
      'design-menu',
    );
  };
}

async function openFile({ act }: Page, chosen: File): Promise<void> {
  const left = 'The design on the page was left as it is.';
  if (chosen.size > MAX_DESIGN_FILE) {
    const size = Math.round(chosen.size / 1e6);
    return act.say(
      `${chosen.name} must be a design file of at most ${MAX_DESIGN_FILE / 1e6} MB; it has ${size} MB. ${left}`,
    );
  }
  const reading = readJsonText(await chosen.text(), chosen.name);
  const raw = reading.ok ? reading.value : undefined;
  if (typeof raw === 'object' && raw !== null && !Array.isArray(raw)) return act.open(raw as RawDesign);
  const why = reading.ok
    ? `${chosen.name} is not a design file: a design is a JSON object in braces.`
    : reading.message;
  act.say(`${why} ${left}`);
}
