import { html, type TemplateResult } from 'lit-html';
import { rawAt } from '../model/pointer.ts';
import { createDocumentButton } from '../sharing/document-button.ts';
import { saveFile } from '../sharing/save.ts';
import { wholeAddress } from '../state/address.ts';
import type { Page } from '../state/page.ts';

/** Everything that leaves the page: link, files, paper. */
export function shareEntries(page: Page): () => TemplateResult {
  const { now, act } = page;
  const fileName = (): string =>
    String(rawAt(now.raw.value, '/name') ?? 'design')
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .toLowerCase();
  const making = { design: () => now.design.value, fileName, onFailed: act.say };
  const report = createDocumentButton({ kind: 'report', ...making });
  const pack = createDocumentButton({ kind: 'pack', ...making });
  const save = (): void =>
    saveFile(`${fileName()}.json`, 'application/json', `${JSON.stringify(now.raw.value, null, 2)}\n`);
  return () => html`
    <button type="button" @click=${() => void copyLink(page)}>Copy link</button>
    <button type="button" @click=${save}>Save design</button>
    ${report} ${pack}
    <button type="button" @click=${() => window.print()}>Print</button>
  `;
}

async function copyLink({ atoms, act }: Page): Promise<void> {
  const address = new URL(`#${await wholeAddress(atoms)}`, location.href).href;
  try {
    await navigator.clipboard.writeText(address);
    act.say('The link is copied; it holds the whole design and how you look at it.');
  } catch {
    history.replaceState(undefined, '', address);
    act.say('The link with the whole design is now in the address line: copy it from there.');
  }
}
