import { signal, type ReadonlySignal } from '@preact/signals-core';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import type { Said } from '../ui/status.ts';
import { SavedError, type SavedEntry, type SavedKind, type SavedWork } from './saved-work.ts';
import { savedView, type SavedLists } from './saved-view.ts';
import { createSection } from './section.ts';

export interface SavedPanelCallbacks {
  readonly onDesign: (raw: RawDesign) => void;
  readonly onCapture: (name: string, content: Uint8Array) => void;
}

/** What the server keeps: designs and captures with their versions, to open, to add to, to remove. */
export function createSavedPanel(
  saved: SavedWork,
  raw: ReadonlySignal<RawDesign>,
  callbacks: SavedPanelCallbacks,
): HTMLElement {
  const said = signal<Said | undefined>(undefined);
  const lists = signal<SavedLists | undefined>(undefined);
  /** What the reader said to remove and has not yet confirmed. */
  const doubted = signal<SavedEntry | undefined>(undefined);
  const designName = (): string => String(rawAt(raw.value, '/name') ?? 'design');

  /** Does something with the server and tells how it went. */
  async function tell(work: () => Promise<string>): Promise<void> {
    said.value = { sign: 'busy', text: 'Asking the server.' };
    try {
      said.value = { sign: 'ok', text: await work() };
    } catch (error) {
      if (!(error instanceof SavedError)) throw error;
      said.value = { sign: 'error', text: error.message };
    }
  }

  async function look(): Promise<string> {
    const [designs, captures] = [await saved.list('designs'), await saved.list('captures')];
    lists.value = { designs, captures };
    return 'This is what is kept now.';
  }

  async function keep(typed: string): Promise<string> {
    const title = typed.trim() || designName();
    const version = await saved.save('designs', title, JSON.stringify(raw.value));
    await look();
    return `The design is kept as ${title}, version ${version}.`;
  }

  async function open(kind: SavedKind, { name }: SavedEntry, version: number): Promise<string> {
    const content = await saved.read(kind, name, version);
    if (kind === 'captures') {
      callbacks.onCapture(name, content);
      return `${name}, version ${version}, is read: see Capture.`;
    }
    callbacks.onDesign(JSON.parse(new TextDecoder().decode(content)) as RawDesign);
    return `${name}, version ${version}, is in the planning view; Undo there brings back the one before.`;
  }

  async function remove(kind: SavedKind, { name }: SavedEntry): Promise<string> {
    await saved.remove(kind, name);
    await look();
    return `${name} is removed with all its versions.`;
  }

  return createSection('bench-saved', 'Kept by the server', () =>
    savedView({
      designName: designName(),
      said: said.value,
      lists: lists.value,
      doubted: doubted.value,
      onLook: () => void tell(look),
      onKeep: (name) => void tell(() => keep(name)),
      onOpen: (kind, entry, version) => void tell(() => open(kind, entry, version)),
      onDoubt: (entry) => {
        doubted.value = entry;
      },
      onRemove: (kind, entry) => void tell(() => remove(kind, entry)),
    }),
  );
}
