import { dirname, resolve } from 'node:path';
import { CaptureError } from '../../engine/capture/capture.ts';
import { cutPulse } from '../../engine/capture/cut-pulse.ts';
import { readCapture } from '../../engine/capture/read-capture.ts';
import { LIMITS } from '../limits.ts';
import { RequestError } from '../request-error.ts';
import { readBytes, readJsonInput } from './files.ts';
import type { Terminal } from './terminal.ts';

/**
 * A design file as JSON, measured currents that it names (drive.x.read.file and its like) put in: the engine and the
 * other doors know no files. Names are taken from the folder of the design.
 */
export async function readRawDesign(path: string, terminal: Pick<Terminal, 'input'>): Promise<unknown> {
  const raw = await readJsonInput(path, 'Design', terminal);
  const drive = fieldOf(raw, 'drive');
  for (const line of ['x', 'y'] as const)
    for (const what of ['read', 'write'] as const) {
      const table = fieldOf(fieldOf(drive, line), what);
      const file = table?.file;
      if (table === undefined || typeof file !== 'string' || table.points !== undefined) continue;
      const found = resolve(path === '-' ? '.' : dirname(path), file);
      const { points } = cutFrom(
        await readBytes(found, `drive.${line}.${what}.file`, LIMITS.captureBytes, terminal),
        what,
        line,
      );
      delete table.file;
      Object.assign(table, { points, time: '1 ns', current: '1 mA' });
    }
  return raw;
}

function fieldOf(value: unknown, name: string): Record<string, unknown> | undefined {
  if (value === null || typeof value !== 'object') return undefined;
  const field = (value as Record<string, unknown>)[name];
  return field !== null && typeof field === 'object' ? (field as Record<string, unknown>) : undefined;
}

function cutFrom(bytes: Uint8Array, what: 'read' | 'write', line: string): ReturnType<typeof cutPulse> {
  const name = `drive.${line}.${what}.file`;
  const refuse = (why: string): RequestError =>
    new RequestError(400, {
      code: 'bad-capture',
      field: `/drive/${line}/${what}/file`,
      message: `${name}: ${why}`,
    });
  try {
    const { capture, ambiguities } = readCapture(bytes);
    if (capture) return cutPulse(capture, what);
    throw refuse(
      `${ambiguities.map(({ question }) => question).join(' ')} Write the file so that it is clear.`,
    );
  } catch (error) {
    if (error instanceof CaptureError || error instanceof RangeError) throw refuse(error.message);
    throw error;
  }
}
