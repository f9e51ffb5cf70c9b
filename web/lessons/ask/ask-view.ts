import { signal } from '@preact/signals-core';
import type { RawDesign } from '../../model/pointer.ts';
import type { StepResult } from '../step.ts';
import type { ToldStep } from '../words/shape.ts';
import type { AskView, Stage } from './ask.ts';
import { chooseView } from './choose-view.ts';
import { drawView } from './draw-view.ts';
import { boardView } from './board-view.ts';
import { bitsView } from './bits-view.ts';
import { numberView } from './number-view.ts';
import { placeView } from './place-view.ts';
import { sliderView } from './slider-view.ts';
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
    case 'set':
      return sliderView({ ...told, ask, result }, stage ?? alone(told.step.design));
    case 'bits':
      return bitsView({ ...told, ask, result }, stage ?? alone(told.step.design));
    case 'board':
      return boardView({ ...told, ask, result }, stage);
    case 'draw':
      return drawView({ ...told, ask, result });
  }
}

/** A board beside no stage. */
function alone(design: RawDesign): Pick<Stage, 'raw' | 'change'> {
  const raw = signal(design);
  return {
    raw,
    change: (turn) => {
      raw.value = turn(raw.value);
    },
  };
}
