import { serve } from '../../compute/serve.ts';
import type { Step } from '../step.ts';
import type { CourseTasks } from './course-messages.ts';
import { LESSONS } from './lessons.ts';

function stepOf(id: string): Step {
  const step = LESSONS.flatMap(({ steps }) => steps).find((each) => each.id === id);
  if (!step) throw new RangeError(`The course has no step named ${id}.`);
  return step;
}

serve<CourseTasks>({
  exhibit: ({ id }) => stepOf(id).exhibit!(),
  result: ({ id }) => stepOf(id).compute(),
  weighed: ({ id, moved }) => stepOf(id).weigh!(moved!),
});
