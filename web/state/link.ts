import type { RawDesign } from '../model/pointer.ts';

/** What a link restores, besides what follows from it. */
export interface LinkState {
  readonly raw: RawDesign;
  readonly view: string;
  readonly span?: readonly [number, number];
  readonly bit?: 0 | 1;
  readonly cursors?: readonly [number, number];
}

export type LinkReading =
  { readonly ok: true; readonly state: LinkState } | { readonly ok: false; readonly message: string };

/** Marks the way of packing, so that a later one can tell old links from new. */
const PREFIX = 's1-';
/** Longest fragment that is read, characters. */
const LIMIT = 200_000;

/** The exact state as a URL fragment without '#': JSON, deflated, in URL-safe base 64. */
export async function writeLink(state: LinkState): Promise<string> {
  const packed = await through(
    new TextEncoder().encode(JSON.stringify(state)),
    new CompressionStream('deflate-raw'),
  );
  let text = '';
  for (const byte of packed) text += String.fromCharCode(byte);
  return PREFIX + btoa(text).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** Reads a fragment without '#'. A bad link is an answer with one sentence, never a throw. */
export async function readLink(fragment: string): Promise<LinkReading> {
  const remedy = 'the demo design is shown instead; ask for the link again or open the design file.';
  if (!fragment.startsWith(PREFIX))
    return { ok: false, message: `The link does not hold a Strobewright state; ${remedy}` };
  if (fragment.length > LIMIT)
    return { ok: false, message: `The link is longer than ${LIMIT} characters; ${remedy}` };
  try {
    const text = atob(fragment.slice(PREFIX.length).replaceAll('-', '+').replaceAll('_', '/'));
    const bytes = Uint8Array.from(text, (character) => character.charCodeAt(0));
    const json: unknown = JSON.parse(
      new TextDecoder('utf-8', { fatal: true }).decode(
        await through(bytes, new DecompressionStream('deflate-raw')),
      ),
    );
    if (isLinkState(json)) return { ok: true, state: json };
  } catch {
    // Falls through to the notice: cut off, mistyped or not one of ours.
  }
  return { ok: false, message: `The link is damaged (cut off or mistyped); ${remedy}` };
}

function isLinkState(value: unknown): value is LinkState {
  if (typeof value !== 'object' || value === null) return false;
  const { raw, span, cursors } = value as Record<string, unknown>;
  const pair = (item: unknown) =>
    item === undefined || (Array.isArray(item) && item.length === 2 && item.every((n) => Number.isFinite(n)));
  return typeof raw === 'object' && raw !== null && !Array.isArray(raw) && pair(span) && pair(cursors);
}

/** Most bytes that a link may unpack to. */
const UNPACKED_LIMIT = 2_000_000;

async function through(
  bytes: Uint8Array<ArrayBuffer>,
  stream: CompressionStream | DecompressionStream,
): Promise<Uint8Array> {
  const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader();
  const chunks: Uint8Array[] = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > UNPACKED_LIMIT) throw new RangeError('too long');
    chunks.push(value);
  }
  const all = new Uint8Array(size);
  let at = 0;
  for (const chunk of chunks) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return all;
}
