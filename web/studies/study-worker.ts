import { evaluatePoint, planStudy, STUDY_TOOLS, type StudyPlan } from '../../engine/index.ts';
import type { FromStudyWorker, ToStudyWorker } from './study-messages.ts';

const post = (message: FromStudyWorker): void => self.postMessage(message, { transfer: [] });
const tools = { ...STUDY_TOOLS, progress: (share: number) => post({ kind: 'share', share }) };
let plan: StudyPlan | undefined;

self.addEventListener('message', (event: MessageEvent<ToStudyWorker>) => {
  const message = event.data;
  if (message.kind === 'take') plan = message.plan;
  else if (message.kind === 'point') {
    if (plan) post({ kind: 'point', result: evaluatePoint(plan, message.index, tools) });
  } else {
    try {
      plan = planStudy(message.request);
      post({ kind: 'planned', plan });
    } catch (error) {
      const { message: text, field } = error as { message?: string; field?: string };
      post({ kind: 'refused', message: text ?? String(error), field: field ?? '' });
    }
  }
});
