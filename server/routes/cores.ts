import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Router } from 'express';
import { z } from 'zod';
import { checkHandbook } from '../../engine/core/handbook/check-handbook.ts';
import { coreReport } from '../../engine/core/handbook/core-report.ts';
import { CORE_PRESETS } from '../../engine/design/core-presets.ts';
import { coreJson } from '../../engine/export/serialise.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import type { JigInput } from '../jig-input.ts';
import { jigCapturesSchema } from '../jig-input.ts';
import { inPackage } from '../package-root.ts';
import { readJson } from '../read-body.ts';
import { priceReading } from '../price.ts';
import type { CaptureSource } from '../capture-source.ts';
import { readSession, type SessionInput } from '../session-input.ts';
import { readFrame } from '../study-request.ts';
import { contentOf } from './capture-content.ts';
import { answerTask } from './run-single.ts';

/** The cores to start from, and model parameters from handbook values. */
export function cores(context: Context): Router {
  const list = {
    presets: Object.entries(CORE_PRESETS).map(([id, choice]) => ({ id, ...choice })),
    handbook: readHandbooks(inPackage('fixtures', 'cores')),
  };
  const router = Router();
  router
    .route('/')
    .get((_request, response) => void response.json(list))
    .post(...readJson(context.limits.jsonBytes), async (request, response) => {
      const body: unknown = request.body;
      if (typeof body === 'object' && body !== null && 'captures' in body && Array.isArray(body.captures)) {
        const session = await readCaptures(context, body);
        return answerTask(context, request, response, { kind: 'core-captures', session });
      }
      if (typeof body === 'object' && body !== null && 'captures' in body)
        return answerTask(context, request, response, { kind: 'core', jig: await readJig(context, body) });
      const { handbook, from } = checkHandbook(body);
      response.type('application/json').send(coreJson(coreReport(handbook), from));
    })
    .all(refuseMethod('GET', 'POST'));
  return router;
}

/** Handbook fields with captures in the place of what is read off them. */
async function readJig(context: Context, body: object): Promise<JigInput> {
  const { captures, ...values } = body as { readonly captures: unknown };
  const { captures: frame } = readFrame(z.strictObject({ captures: jigCapturesSchema }), { captures });
  const one = await contentOf(context, frame.one, '/captures/one', 'The capture of a ONE');
  const disturbedZero =
    frame.disturbedZero &&
    (await contentOf(
      context,
      frame.disturbedZero,
      '/captures/disturbedZero',
      'The capture of a disturbed ZERO',
    ));
  priceReading(disturbedZero === undefined ? [one] : [one, disturbedZero], context.limits);
  return { values, frame, one, disturbedZero };
}

/** Captures of a core that are fitted together: in a list. */
async function readCaptures(context: Context, body: object): Promise<SessionInput> {
  const frame = readSession(body);
  const contents: CaptureSource[] = [];
  for (const [i, capture] of frame.captures.entries())
    contents.push(await contentOf(context, capture, `/captures/${i}`, `Capture ${i + 1}`));
  priceReading(contents, context.limits);
  return { frame, contents };
}

/** Handbook files as they are, each value with its source and grade. */
function readHandbooks(folder: string): unknown[] {
  const files = readdirSync(folder).filter((file) => file.endsWith('.json'));
  return files.sort().map((file) => ({
    id: file.slice(0, -'.json'.length),
    values: JSON.parse(readFileSync(join(folder, file), 'utf8')) as unknown,
  }));
}
