import type { Router } from 'express';
import { checkDesign } from '../../engine/check/check-design.ts';
import { checkStudyOptions } from '../../engine/studies/study-options.ts';
import type { Context } from '../context.ts';
import { priceDesign } from '../price.ts';
import { studyJob } from '../study-job.ts';
import { readStudyRequest } from '../study-request.ts';
import { jobRoutes } from './job-routes.ts';

/** Studies as jobs. */
export function studies(context: Context): Router {
  return jobRoutes(context, '/api/v1/studies', (body) => {
    const study = readStudyRequest(body);
    checkStudyOptions(study);
    priceDesign(checkDesign(study.design), 'simulate', context.limits);
    return { kind: study.kind, body: studyJob(study, context.limits.jobWork) };
  });
}
