import { runProposalJob } from '../../engine/propose/jobs.ts';
import { RUNS_OF } from '../../engine/propose/plan.ts';
import { readProposalNeeds } from '../../engine/propose/read-proposal-needs.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { serve } from '../compute/serve.ts';
import type { ProposeTasks } from './propose-messages.ts';

/** Runs between two words of how far a part is. */
const TELL_EVERY = 20;

serve<ProposeTasks>({
  needs: (raw) => readProposalNeeds(raw),
  part: (job, tell) => {
    let runs = 0;
    return runProposalJob(job, {
      simulate: (design, options) => {
        if (++runs % TELL_EVERY === 0) tell(Math.min(0.99, runs / RUNS_OF[job.step]));
        return simulate(design, options);
      },
    });
  },
});
