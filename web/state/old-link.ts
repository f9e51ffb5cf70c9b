import type { RawDesign } from '../model/pointer.ts';
import { unpack } from './packing.ts';
import type { UrlState } from './url.ts';

/** Links of before began so; all their state was packed. */
export const OLD_PREFIX = 's1-';

/** A link of before; undefined where it is damaged. */
export async function readOldLink(
  fragment: string,
): Promise<{ readonly raw: RawDesign; readonly state: UrlState } | undefined> {
  const json = await unpack(fragment.slice(OLD_PREFIX.length));
  if (!isObject(json) || !isObject(json['raw'])) return undefined;
  const { raw, span, cursors, bit, view } = json;
  const pair = (value: unknown): readonly [number, number] | undefined =>
    Array.isArray(value) && value.length === 2 && value.every((n) => Number.isFinite(n))
      ? (value as unknown as readonly [number, number])
      : undefined;
  const shown = pair(span);
  return {
    raw: raw as RawDesign,
    state: {
      place: placeOf(view),
      span: shown && { from: shown[0], to: shown[1] },
      marks: pair(cursors),
      bit: bit === 0 ? 0 : 1,
    },
  };
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function placeOf(view: unknown): UrlState['place'] {
  if (view === 'bench' || view === 'learn') return { name: view, part: '', id: '' };
  if (view === 'terms') return { name: 'words', part: '', id: '' };
  return { name: 'plan', part: view === 'studies' ? 'studies' : '', id: '' };
}
