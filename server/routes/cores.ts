import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Router } from 'express';
import { checkHandbook, CORE_PRESETS, coreJson, coreReport } from '../../engine/index.ts';
import type { Context } from '../context.ts';
import { refuseMethod } from '../error-handler.ts';
import { inPackage } from '../package-root.ts';
import { readJson } from '../read-body.ts';

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
    .post(...readJson(context.limits.jsonBytes), (request, response) => {
      const { handbook, from } = checkHandbook(request.body);
      response.type('application/json').send(coreJson(coreReport(handbook), from));
    })
    .all(refuseMethod('GET', 'POST'));
  return router;
}

/** Handbook files as they are, each value with its source and grade. */
function readHandbooks(folder: string): unknown[] {
  const files = readdirSync(folder).filter((file) => file.endsWith('.json'));
  return files.sort().map((file) => ({
    id: file.slice(0, -'.json'.length),
    values: JSON.parse(readFileSync(join(folder, file), 'utf8')) as unknown,
  }));
}
