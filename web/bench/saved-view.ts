import { html, nothing, type TemplateResult } from 'lit-html';
import { keyed } from 'lit-html/directives/keyed.js';
import { statusLine, type Said } from '../ui/status.ts';
import { scrollTable } from '../ui/table.ts';
import type { SavedEntry, SavedKind } from './saved-work.ts';
import { formView } from './section.ts';

export type SavedLists = Readonly<Record<SavedKind, readonly SavedEntry[]>>;

export interface SavedViewOptions {
  /** Name of the design in the planning view. */
  readonly designName: string;
  readonly said: Said | undefined;
  /** Undefined until the server was asked. */
  readonly lists: SavedLists | undefined;
  /** What the reader said to remove and has not yet confirmed. */
  readonly doubted: SavedEntry | undefined;
  readonly onLook: () => void;
  readonly onKeep: (name: string) => void;
  readonly onOpen: (kind: SavedKind, entry: SavedEntry, version: number) => void;
  readonly onDoubt: (entry: SavedEntry) => void;
  readonly onRemove: (kind: SavedKind, entry: SavedEntry) => void;
}

const TITLES: Readonly<Record<SavedKind, string>> = { designs: 'Designs', captures: 'Captures' };

export const savedView = (options: SavedViewOptions): TemplateResult =>
  html`<p class="note">
      In a plain folder on the machine that serves this page. Keeping under a name that is there adds a
      version; nothing is written over.
    </p>
    ${keepForm(options)}
    <div class="status-row">${statusLine(options.said)}</div>
    ${
      options.lists
        ? html`<div class="bench-body">
            ${(['designs', 'captures'] as const).map(
              (kind) =>
                html`<div class="bench-saved">
                  <h3>${TITLES[kind]}</h3>
                  ${listView(kind, options.lists![kind], options)}
                </div>`,
            )}
          </div>`
        : nothing
    }`;

const keepForm = ({ designName, onLook, onKeep }: SavedViewOptions): TemplateResult =>
  formView({
    name: 'Keep the design',
    onSubmit: (form) => onKeep(form.querySelector('input')!.value),
    content: html`<div class="field bench-name">
        <label for="saved-name">Keep the design of the planning view as</label>
        <input id="saved-name" type="text" maxlength="100" autocomplete="off" placeholder=${designName} />
      </div>
      <button type="submit">Keep the design</button>
      <button type="button" @click=${onLook}>Look what is kept</button>`,
  });

function listView(
  kind: SavedKind,
  entries: readonly SavedEntry[],
  options: SavedViewOptions,
): TemplateResult {
  if (entries.length === 0)
    return html`<p class="note">
      ${kind === 'designs' ? 'None yet.' : 'None yet: read a capture above, then keep its file.'}
    </p>`;
  return scrollTable({
    name: `${TITLES[kind]} kept`,
    heads: ['Name', 'Version', 'kept', ''],
    rows: entries.map((entry) => [
      entry.name,
      // Listed anew, the newest version stands first.
      html`${keyed(entry, versionSelect(entry))}`,
      `${momentWords(entry.saved)}, ${sizeWords(entry.bytes)}`,
      entryButtons(kind, entry, options),
    ]),
  });
}

const versionSelect = ({ name, versions }: SavedEntry): TemplateResult =>
  html`<select aria-label="Version of ${name}">
    ${versions.toReversed().map((number) => html`<option value=${number}>${number}</option>`)}
  </select>`;

function entryButtons(kind: SavedKind, entry: SavedEntry, options: SavedViewOptions): TemplateResult {
  const { doubted, onOpen, onDoubt, onRemove } = options;
  const chosenVersion = (event: Event): number =>
    Number((event.currentTarget as HTMLElement).closest('tr')!.querySelector('select')!.value);
  const doubt = (event: Event): void => {
    const sure = (event.currentTarget as HTMLElement).nextElementSibling as HTMLElement;
    onDoubt(entry);
    // Once it is drawn.
    requestAnimationFrame(() => sure.focus());
  };
  return html`<span class="button-row"
    ><button
      type="button"
      aria-label="Open: ${entry.name}"
      @click=${(event: Event) => onOpen(kind, entry, chosenVersion(event))}
    >
      Open</button
    ><button type="button" aria-label="Remove: ${entry.name}" @click=${doubt}>Remove</button
    ><button
      type="button"
      aria-label="Remove for good: ${entry.name}"
      ?hidden=${doubted !== entry}
      @click=${() => onRemove(kind, entry)}
    >
      Remove for good
    </button></span
  >`;
}

/** In the reader's own time. */
const momentWords = (saved: string): string =>
  new Date(saved).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });

const sizeWords = (bytes: number): string =>
  bytes < 1024 ? `${bytes} bytes` : `${Math.ceil(bytes / 1024)} kB`;
