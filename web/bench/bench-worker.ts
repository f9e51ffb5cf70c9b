import { serve } from '../compute/serve.ts';
import { BENCH_JOBS } from './bench-jobs.ts';
import type { BenchTasks } from './bench-messages.ts';

serve<BenchTasks>(BENCH_JOBS);
