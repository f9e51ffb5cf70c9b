import { createStore, get, set } from 'idb-keyval';

/** A store of its own database: one database of this library holds one store. */
const store = () => createStore('strobewright-lessons', 'lessons');
const DRAFT = 'draft';

/** The lesson that is being made; undefined where there is none or storage is refused. */
export async function loadDraft(): Promise<unknown> {
  try {
    return await get<unknown>(DRAFT, store());
  } catch {
    return undefined;
  }
}

/** False where storage is refused. */
export async function keepDraft(draft: unknown): Promise<boolean> {
  try {
    await set(DRAFT, draft, store());
    return true;
  } catch {
    return false;
  }
}
