import type { StepResult } from '../step.ts';
import type { ToldStep } from '../words/shape.ts';
import type { AskView, Stage } from './ask.ts';
import { chooseView } from './choose-view.ts';
import { drawView } from './draw-view.ts';
import { numberView } from './number-view.ts';
import { placeView } from './place-view.ts';
import { stagePlaceView } from './stage-place-view.ts';

/** The view that a step's question asks for. `result` is computed once. */
export function askView(told: ToldStep, result: () => Promise<StepResult>, stage?: Stage): AskView {
  const { ask } = told.step;
  switch (ask.kind) {
    case 'choose':
      return chooseView({ ...told, ask, result });
    case 'number':
      return numberView({ ...told, ask, result });
    case 'place':
      return stage ? stagePlaceView({ ...told, ask, result, stage }) : placeView({ ...told, ask, result });
    case 'draw':
      return drawView({ ...told, ask, result });
  }
}
