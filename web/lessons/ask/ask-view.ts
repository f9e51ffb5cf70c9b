import type { Step, StepResult } from '../step.ts';
import type { AskView } from './ask.ts';
import { chooseView } from './choose-view.ts';
import { drawView } from './draw-view.ts';
import { numberView } from './number-view.ts';
import { placeView } from './place-view.ts';

/** The view that a step's question asks for. `result` is computed once. */
export function askView(step: Step, result: () => StepResult): AskView {
  const { ask } = step;
  switch (ask.kind) {
    case 'choose':
      return chooseView({ step, ask, result });
    case 'number':
      return numberView({ step, ask, result });
    case 'place':
      return placeView({ step, ask, result });
    case 'draw':
      return drawView({ step, ask, result });
  }
}
