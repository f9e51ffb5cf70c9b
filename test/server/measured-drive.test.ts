import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { readRawDesign } from '../../server/commands/read-raw-design.ts';

const folder = mkdtempSync(join(tmpdir(), 'measured-drive-'));
const put = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
const level = (t: number): number => 0.36 * Math.max(0, Math.min(1, t / 50, (450 - t) / 50));
const rows = Array.from({ length: 600 }, (_, k) => `${(k - 50) * 1e-9},${-level(k - 50)}`);
put('x.csv', `time (s),current (A)\n${rows.join('\n')}\n`);
put('volts.csv', `time (s),probe (V)\n${rows.join('\n')}\n`);
const design = (file: string): string =>
  put(`${file}.json`, JSON.stringify({ drive: { x: { read: { file } } } }));

const read = (path: string): Promise<unknown> => readRawDesign(path, { input: Readable.from([]) });

describe('a drive current in a file beside the design', () => {
  it('is read by name and becomes the table of the line', async () => {
    const { drive } = checkDesign(await read(design('x.csv')));
    expect(drive.x.readAmplitude).toBeCloseTo(0.36, 3);
    expect(drive.x.rise / 50e-9).toBeCloseTo(1, 1);
    expect(drive.x.read?.points.length).toBeGreaterThan(400);
  });

  it('is refused in one sentence where there is none, or where it holds no current', async () => {
    await expect(read(design('none.csv'))).rejects.toThrow(/drive\.x\.read\.file .* there is no such file/u);
    await expect(read(design('volts.csv'))).rejects.toThrow(
      /drive\.x\.read\.file: A drive current must be a column in amperes/u,
    );
  });
});
