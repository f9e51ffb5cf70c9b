/** Adds text chunks to PNG files, so that a picture carries what made it. PNG specification, third edition, 11.3.3. */

const table = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

/** CRC-32 of PNG chunks, annex D of the same. */
export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const byte of bytes) c = table[(c ^ byte) & 0xff]! ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

/** Length of signature and IHDR, after which a text chunk may stand. */
const AFTER_HEADER = 33;

/** A copy of the PNG with one iTXt chunk (UTF-8, not compressed) after its header. */
export function withPngText(png: Uint8Array, keyword: string, text: string): Uint8Array<ArrayBuffer> {
  const encoder = new TextEncoder();
  const body = encoder.encode(`iTXt${keyword}\0\0\0\0\0${text}`);
  const chunk = new Uint8Array(body.length + 8);
  const view = new DataView(chunk.buffer);
  view.setUint32(0, body.length - 4);
  chunk.set(body, 4);
  view.setUint32(chunk.length - 4, crc32(body));
  const out = new Uint8Array(png.length + chunk.length);
  out.set(png.subarray(0, AFTER_HEADER));
  out.set(chunk, AFTER_HEADER);
  out.set(png.subarray(AFTER_HEADER), AFTER_HEADER + chunk.length);
  return out;
}
