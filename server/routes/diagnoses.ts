import type { Router } from 'express';
import { checkDesign } from '../../engine/check/check-design.ts';
import { diagnosisRequestSchema } from '../capture-input.ts';
import type { Context } from '../context.ts';
import { priceDiagnosis } from '../price.ts';
import { readFrame } from '../study-request.ts';
import { withContents } from './capture-content.ts';
import { jobRoutes, oneTask } from './job-routes.ts';

/** Diagnoses as jobs: single faults ranked by how well each explains the captures. */
export function diagnoses(context: Context): Router {
  return jobRoutes(context, '/api/v1/diagnoses', async (body) => {
    const frame = readFrame(diagnosisRequestSchema, body);
    const design = checkDesign(frame.design);
    const captures = await withContents(context, frame.captures);
    priceDiagnosis(
      design,
      captures.map(({ content }) => content),
      context.limits,
    );
    return { kind: 'diagnose', body: oneTask({ kind: 'diagnose', diagnosis: { frame, captures } }) };
  });
}
