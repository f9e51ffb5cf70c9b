import { effect } from '@preact/signals-core';
import { get, set } from 'idb-keyval';
import { LANGUAGES, type Atoms, type Language } from './atoms.ts';
import { store } from './keep.ts';
import { readUrl } from './url.ts';

const KEY = 'language';

/** Brings back the language that the reader last chose, unless the address names one, and keeps every choice. */
export async function keepLanguage(atoms: Atoms): Promise<void> {
  const kept = await keptLanguage();
  const named = readUrl(location.hash.slice(1)).state.language;
  if (!named && LANGUAGES.some((each) => each === kept)) atoms.language.value = kept!;
  let last = atoms.language.peek();
  effect(() => {
    const chosen = atoms.language.value;
    if (chosen === last) return;
    last = chosen;
    void keepChoice(chosen);
  });
}

/** Undefined where none is kept or storage is refused, which may throw at once. */
async function keptLanguage(): Promise<Language | undefined> {
  try {
    return await get<Language>(KEY, store());
  } catch {
    return undefined;
  }
}

/** Refused storage is told by the work that cannot be kept; the language holds in the address all the same. */
async function keepChoice(chosen: Language): Promise<void> {
  try {
    await set(KEY, chosen, store());
  } catch {
    // As said above.
  }
}
