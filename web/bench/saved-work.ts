export type SavedKind = 'designs' | 'captures';

/** One name under which the server keeps something. */
export interface SavedEntry {
  readonly name: string;
  /** The newest. */
  readonly version: number;
  /** Those that are still kept, oldest first. */
  readonly versions: readonly number[];
  /** ISO 8601. */
  readonly saved: string;
  readonly bytes: number;
}

/** Work kept by the server that served this page. Everything rejects with SavedError. */
export interface SavedWork {
  list(kind: SavedKind): Promise<readonly SavedEntry[]>;
  read(kind: SavedKind, name: string, version: number): Promise<Uint8Array>;
  /** Adds a version; the number of it. */
  save(kind: SavedKind, name: string, content: string | Uint8Array): Promise<number>;
  remove(kind: SavedKind, name: string): Promise<void>;
}

/** What cannot be kept or opened, in one sentence. */
export class SavedError extends Error {
  override readonly name = 'SavedError';
}

const NO_SERVER =
  'Nothing can be kept here: this page was opened without the server, or the server has ended. Save designs and captures as files, or start the server (strobewright serve) and open the page from it.';

const PLACES: Readonly<Record<SavedKind, { readonly path: string; readonly type: string }>> = {
  designs: { path: 'api/v1/designs/saved', type: 'application/json' },
  captures: { path: 'api/v1/captures', type: 'text/csv' },
};

export function createSavedWork(base: string, ask: typeof fetch = (...given) => fetch(...given)): SavedWork {
  const addressOf = (kind: SavedKind, name?: string, version?: number): string => {
    const parts = [name, version === undefined ? undefined : `versions/${version}`];
    const rest = parts.flatMap((part, i) =>
      part === undefined ? [] : [i === 0 ? encodeURIComponent(part) : part],
    );
    return new URL([PLACES[kind].path, ...rest].join('/'), base).href;
  };
  const answer = async (address: string, how: RequestInit = {}): Promise<Response> => {
    const response = await ask(address, how).catch(() => undefined);
    if (response === undefined) throw new SavedError(NO_SERVER);
    if (response.ok) return response;
    const refusal = (await response.json().catch(() => undefined)) as { message?: unknown } | undefined;
    throw new SavedError(typeof refusal?.message === 'string' ? refusal.message : NO_SERVER);
  };
  return {
    async list(kind) {
      const response = await answer(addressOf(kind));
      const entries: unknown = await response.json().catch(() => undefined);
      // A host of plain files may answer any address with the page itself.
      if (!Array.isArray(entries)) throw new SavedError(NO_SERVER);
      return entries as readonly SavedEntry[];
    },
    async read(kind, name, version) {
      return new Uint8Array(await (await answer(addressOf(kind, name, version))).arrayBuffer());
    },
    async save(kind, name, content) {
      const response = await answer(addressOf(kind, name), {
        method: 'PUT',
        headers: { 'Content-Type': PLACES[kind].type },
        body: content as BodyInit,
      });
      const { version } = (await response.json()) as { readonly version: number };
      return version;
    },
    async remove(kind, name) {
      await answer(addressOf(kind, name), { method: 'DELETE' });
    },
  };
}
