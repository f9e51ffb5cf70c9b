/** Longest packed text that is read, characters, and most bytes that it may unpack to. */
const PACKED_LIMIT = 200_000;
const UNPACKED_LIMIT = 2_000_000;

/** Any JSON value as text for an address: deflated, in URL-safe base 64. */
export async function pack(value: unknown): Promise<string> {
  const packed = await through(
    new TextEncoder().encode(JSON.stringify(value)),
    new CompressionStream('deflate-raw'),
  );
  let text = '';
  for (const byte of packed) text += String.fromCharCode(byte);
  return btoa(text).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** What was packed; undefined where the text is cut off, mistyped, too long or not one of ours. */
export async function unpack(text: string): Promise<unknown> {
  if (text.length > PACKED_LIMIT) return undefined;
  try {
    const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
    const bytes = Uint8Array.from(binary, (character) => character.charCodeAt(0));
    const plain = await through(bytes, new DecompressionStream('deflate-raw'));
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(plain));
  } catch {
    return undefined;
  }
}

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
