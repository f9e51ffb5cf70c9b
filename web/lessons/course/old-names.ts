/** Names that steps had while their addresses still gave the answers away: what was linked or saved then leads to them. */
const NAMES: readonly (readonly [old: string, now: string])[] = [
  ['find-weak', 'capture-1'],
  ['find-late', 'capture-2'],
  ['find-backwards', 'capture-3'],
  ['one-stays', 'the-one'],
  ['opens-later', 'two-windings'],
  ['less-drive', 'how-much-current'],
];
const now = new Map(NAMES);
const first = new Map(NAMES.map(([old, name]) => [name, old]));

export const OLD_NAMES: readonly string[] = NAMES.map(([old]) => old);

/** A step's name as it is now. */
export const nowNamed = (id: string): string => now.get(id) ?? id;

/** A step's name as it was at first: what codes of answers are numbered by, old ones and new ones alike. */
export const firstNamed = (id: string): string => first.get(id) ?? id;
