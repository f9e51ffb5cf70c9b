import { judgeAgain, readOne, readZero } from './run-job.ts';
import type { RunTasks } from './run-messages.ts';
import { serve } from './serve.ts';

serve<RunTasks>({ one: readOne, zero: readZero, judge: judgeAgain });
