import type { StudyPlan } from '../../engine/studies/shared/shape.ts';
import { evaluatePoint, planStudy, STUDY_TOOLS } from '../../engine/studies/study.ts';
import { serve } from '../compute/serve.ts';
import type { StudyTasks } from './study-messages.ts';

let plan: StudyPlan | undefined;

serve<StudyTasks>({
  plan: (request) => (plan = planStudy(request)),
  take: (taken) => {
    plan = taken;
    return undefined;
  },
  point: (index, tell) => evaluatePoint(plan!, index, { ...STUDY_TOOLS, progress: tell }),
});
