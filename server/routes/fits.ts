import type { Router } from 'express';
import { checkDesign } from '../../engine/index.ts';
import type { CaptureFrame, CaptureInput } from '../capture-input.ts';
import { fitRequestSchema } from '../capture-input.ts';
import type { Context } from '../context.ts';
import { priceFit } from '../price.ts';
import { RequestError } from '../request-error.ts';
import { readFrame } from '../study-request.ts';
import { jobRoutes } from './job-routes.ts';

/** Fits as jobs: captures by name or as text, chosen unknowns. */
export function fits(context: Context): Router {
  return jobRoutes(context, '/api/v1/fits', async (body) => {
    const frame = readFrame(fitRequestSchema, body);
    priceFit(checkDesign(frame.design), frame, context.limits);
    const captures: CaptureInput[] = [];
    for (const [i, capture] of frame.captures.entries()) {
      captures.push({ frame: capture, content: await contentOf(context, capture, i) });
    }
    return {
      kind: 'fit',
      body: async (control) => {
        control.report(0, 1);
        control.keep((await control.run({ kind: 'fit', fit: { frame, captures } })).body);
        control.report(1, 1);
      },
    };
  });
}

async function contentOf(
  context: Context,
  { text, saved }: CaptureFrame,
  i: number,
): Promise<string | Uint8Array> {
  if (text !== undefined && saved === undefined) return text;
  if (saved !== undefined && text === undefined) return (await context.captures.read(saved)).content;
  throw new RequestError(422, {
    code: 'value',
    field: `/captures/${i}`,
    message: `Capture ${i + 1} must have either text or saved (the name of a kept capture): give one of the two.`,
  });
}
