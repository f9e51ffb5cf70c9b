import { advise } from '../../engine/advice/advice.ts';
import { channelReport } from '../../engine/channel/channel-report.ts';
import { makeReport } from '../../engine/report/report.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { serve } from './serve.ts';
import type { SideTasks } from './side-messages.ts';

serve<SideTasks>({
  advice: ({ design, wanted }, tell) =>
    advise(design, { wanted, onProgress: (done, total, next) => tell({ done, total, next }) }),
  channel: (design) => channelReport(design, { simulate }),
  report: (design) => makeReport(design),
  shares: ({ design, at }) => {
    const until = Math.max(...at) + 4 * design.numerics.output;
    const options = { contributions: false, estimateError: false, balance: false, until, sharesAt: [...at] };
    return simulate(design, options).shares!;
  },
});
