import { serve } from '../../compute/serve.ts';
import { evaluate } from './evaluate.ts';
import type { LessonTasks } from './lesson-messages.ts';

serve<LessonTasks>({ evaluate: (step) => evaluate(step) });
