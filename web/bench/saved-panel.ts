import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import { SavedError, type SavedEntry, type SavedKind, type SavedWork } from './saved-work.ts';

export interface SavedPanelCallbacks {
  /** The design in the planning view. */
  readonly raw: () => RawDesign;
  readonly onDesign: (raw: RawDesign) => void;
  readonly onCapture: (name: string, content: Uint8Array) => void;
}

const TITLES: Readonly<Record<SavedKind, string>> = { designs: 'Designs', captures: 'Captures' };

/** What the server keeps: designs and captures with their versions, to open, to add to, to remove. */
export function createSavedPanel(
  saved: SavedWork,
  { raw, onDesign, onCapture }: SavedPanelCallbacks,
): { readonly node: HTMLElement; refresh(): void } {
  const status = h('p', { class: 'status', role: 'status' });
  const lists = { designs: h('div', {}), captures: h('div', {}) };
  const body = h(
    'div',
    { class: 'bench-body', hidden: true },
    ...(['designs', 'captures'] as const).map((kind) =>
      h('div', { class: 'bench-saved' }, h('h3', {}, TITLES[kind]), lists[kind]),
    ),
  );
  const name = h('input', { id: 'saved-name', type: 'text', maxlength: 100, autocomplete: 'off' });
  const keep = h(
    'form',
    {
      class: 'place',
      'aria-label': 'Keep the design',
      submit: (event: Event) => {
        event.preventDefault();
        void keepDesign();
      },
    },
    h(
      'div',
      { class: 'field bench-name' },
      h('label', { for: name.id }, 'Keep the design of the planning view as'),
      name,
    ),
    h('button', { type: 'submit' }, 'Keep the design'),
    h('button', { type: 'button', click: () => void look() }, 'Look what is kept'),
  );
  const node = h(
    'section',
    { class: 'bench-section', 'aria-labelledby': 'bench-saved' },
    h('h2', { id: 'bench-saved' }, 'Kept by the server'),
    h(
      'p',
      { class: 'note' },
      'In a plain folder on the machine that serves this page. Keeping under a name that is there adds a version; nothing is written over.',
    ),
    keep,
    h('div', { class: 'status-row' }, status),
    body,
  );

  /** Does something with the server and tells how it went. */
  async function tell(work: () => Promise<string>): Promise<void> {
    put(status, icon('busy'), 'Asking the server.');
    try {
      put(status, icon('ok'), await work());
    } catch (error) {
      if (!(error instanceof SavedError)) throw error;
      put(status, icon('error'), error.message);
    }
  }

  async function fill(): Promise<void> {
    for (const kind of ['designs', 'captures'] as const)
      put(lists[kind], listOf(kind, await saved.list(kind)));
    body.hidden = false;
  }

  const look = (): Promise<void> =>
    tell(async () => {
      await fill();
      return 'This is what is kept now.';
    });

  const keepDesign = (): Promise<void> =>
    tell(async () => {
      const title = name.value.trim() || String(rawAt(raw(), '/name') ?? 'design');
      const version = await saved.save('designs', title, JSON.stringify(raw()));
      await fill();
      return `The design is kept as ${title}, version ${version}.`;
    });

  function listOf(kind: SavedKind, entries: readonly SavedEntry[]): HTMLElement {
    if (entries.length === 0)
      return h(
        'p',
        { class: 'note' },
        kind === 'designs' ? 'None yet.' : 'None yet: read a capture above, then keep its file.',
      );
    return h(
      'div',
      { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': `${TITLES[kind]} kept` },
      h(
        'table',
        {},
        h(
          'thead',
          {},
          h(
            'tr',
            {},
            ...['Name', 'Version', 'kept'].map((text) => h('th', { scope: 'col' }, text)),
            h('td', {}),
          ),
        ),
        h('tbody', {}, ...entries.map((entry) => rowOf(kind, entry))),
      ),
    );
  }

  function rowOf(kind: SavedKind, entry: SavedEntry): HTMLElement {
    const version = h(
      'select',
      { 'aria-label': `Version of ${entry.name}` },
      ...entry.versions.toReversed().map((number) => h('option', { value: number }, String(number))),
    );
    const button = (text: string, act: () => Promise<void>) =>
      h('button', { type: 'button', 'aria-label': `${text}: ${entry.name}`, click: () => void act() }, text);
    const open = (): Promise<void> =>
      tell(async () => {
        const number = Number(version.value);
        const content = await saved.read(kind, entry.name, number);
        if (kind === 'captures') onCapture(entry.name, content);
        else onDesign(JSON.parse(new TextDecoder().decode(content)) as RawDesign);
        return kind === 'captures'
          ? `${entry.name}, version ${number}, is read: see Capture.`
          : `${entry.name}, version ${number}, is in the planning view; Undo there brings back the one before.`;
      });
    const remove = (): Promise<void> =>
      tell(async () => {
        await saved.remove(kind, entry.name);
        await fill();
        return `${entry.name} is removed with all its versions.`;
      });
    const sure = h('button', { type: 'button', hidden: true, click: () => void remove() }, 'Remove for good');
    return h(
      'tr',
      {},
      h('th', { scope: 'row' }, entry.name),
      h('td', {}, version),
      h('td', {}, `${momentWords(entry.saved)}, ${sizeWords(entry.bytes)}`),
      h(
        'td',
        {},
        h(
          'span',
          { class: 'button-row' },
          button('Open', open),
          button('Remove', async () => {
            sure.hidden = false;
            sure.setAttribute('aria-label', `Remove for good: ${entry.name}`);
            sure.focus();
          }),
          sure,
        ),
      ),
    );
  }

  return {
    node,
    refresh() {
      name.placeholder = String(rawAt(raw(), '/name') ?? 'design');
    },
  };
}

/** In the reader's own time. */
const momentWords = (saved: string): string =>
  new Date(saved).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });

const sizeWords = (bytes: number): string =>
  bytes < 1024 ? `${bytes} bytes` : `${Math.ceil(bytes / 1024)} kB`;
