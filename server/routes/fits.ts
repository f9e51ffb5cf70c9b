import type { Router } from 'express';
import { checkDesign } from '../../engine/check/check-design.ts';
import { fitRequestSchema } from '../capture-input.ts';
import type { Context } from '../context.ts';
import { priceFit } from '../price.ts';
import { readFrame } from '../study-request.ts';
import { withContents } from './capture-content.ts';
import { jobRoutes, oneTask } from './job-routes.ts';

/** Fits as jobs: captures by name or as text, chosen unknowns. */
export function fits(context: Context): Router {
  return jobRoutes(context, '/api/v1/fits', async (body) => {
    const frame = readFrame(fitRequestSchema, body);
    const design = checkDesign(frame.design);
    const captures = await withContents(context, frame.captures);
    priceFit(
      design,
      frame,
      captures.map(({ content }) => content),
      context.limits,
    );
    return { kind: 'fit', body: oneTask({ kind: 'fit', fit: { frame, captures } }) };
  });
}
