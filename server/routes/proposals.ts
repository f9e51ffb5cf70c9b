import type { Router } from 'express';
import { readProposalNeeds } from '../../engine/propose/read-proposal-needs.ts';
import type { Context } from '../context.ts';
import { priceProposals } from '../price.ts';
import { proposalJob } from '../proposal-job.ts';
import { jobRoutes } from './job-routes.ts';

/** Builds from needs as jobs: the body is a needs file. */
export function proposals(context: Context): Router {
  return jobRoutes(context, '/api/v1/proposals', (body) => {
    const needs = readProposalNeeds(body);
    priceProposals(needs, context.limits);
    return { kind: 'proposals', body: proposalJob(needs) };
  });
}
