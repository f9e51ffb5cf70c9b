import { open } from 'node:fs/promises';
import { pipeline } from 'node:stream/promises';
import type { Request, Response } from 'express';
import { Router } from 'express';
import { checkDesign } from '../../engine/check/check-design.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import { readBytes, readJson } from '../read-body.ts';
import { RequestError } from '../request-error.ts';
import type { SavedFiles } from '../saved-files.ts';
import { unknownName } from '../saved-refusals.ts';

/** Designs kept by the server: PUT under a name adds a version, units stay as they were typed. */
export function savedDesigns(context: Context): Router {
  const router = savedRouter(context.designs, 'application/json');
  router.put('/:name', ...readJson(context.limits.jsonBytes), async (request, response) => {
    checkDesign(request.body);
    const text = `${JSON.stringify(request.body, null, 2)}\n`;
    await answerSave(context.designs, request, response, Buffer.from(text));
  });
  router.route('/:name').all(refuseMethod('GET', 'PUT', 'DELETE'));
  return router;
}

/** Captures kept by the server, byte for byte as the instrument wrote them. */
export function savedCaptures(context: Context): Router {
  const router = savedRouter(context.captures, 'text/csv');
  const body = readBytes('text/csv', context.limits.captureBytes);
  router.put('/:name', ...body, async (request, response) => {
    const bytes = Buffer.isBuffer(request.body) ? request.body : Buffer.alloc(0);
    await answerSave(context.captures, request, response, bytes);
  });
  router.route('/:name').all(refuseMethod('GET', 'PUT', 'DELETE'));
  return router;
}

function savedRouter(files: SavedFiles, type: string): Router {
  const router = Router();
  router
    .route('/')
    .get(async (_request, response) => void response.json(await files.list()))
    .all(refuseMethod('GET'));
  // In pieces, as they are taken: a slow reader of a large capture does not keep it in memory.
  const send = async (response: Response, name: string, version?: number): Promise<void> => {
    const found = await files.locate(name, version);
    const file = await open(found.path).catch(() => undefined);
    if (file === undefined) throw unknownName(name, version);
    response.set({ ETag: `"${found.version}"`, 'Content-Disposition': 'attachment' }).type(type);
    await pipeline(file.createReadStream(), response).catch(() => response.destroy());
  };
  router.get('/:name', (request, response) => send(response, request.params.name));
  router.delete('/:name', async (request, response) => {
    await files.remove(request.params.name);
    response.status(204).end();
  });
  router
    .route('/:name/versions/:version')
    .get((request, response) => send(response, request.params.name, wholeVersion(request.params.version)))
    .all(refuseMethod('GET'));
  return router;
}

async function answerSave(
  files: SavedFiles,
  request: Request,
  response: Response,
  content: Buffer,
): Promise<void> {
  const name = String(request.params.name);
  const { version } = await files.save(name, content, expectedVersion(request));
  response
    .status(version === 1 ? 201 : 200)
    .set('ETag', `"${version}"`)
    .json({ name, version });
}

/** `If-Match: "3"` saves only on top of version 3; `If-None-Match: *` only a new name. */
function expectedVersion(request: Pick<Request, 'headers'>): number | undefined {
  if (request.headers['if-none-match'] === '*') return 0;
  const match = request.headers['if-match'];
  if (match === undefined) return undefined;
  return wholeVersion(/^"(.*)"$/.exec(match)?.[1] ?? match);
}

function wholeVersion(text: string): number {
  if (/^[1-9]\d{0,8}$/.test(text)) return Number(text);
  throw new RequestError(400, {
    code: 'bad-version',
    message: 'A version must be a whole number from 1 on: the list says which is the newest.',
  });
}
