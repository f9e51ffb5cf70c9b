import { h } from '../ui/dom.ts';
import { applyDifferences, openCase } from '../model/open-case.ts';
import { physicsKey } from '../model/physics-key.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import type { Run } from '../model/run.ts';
import type { Design } from '../../engine/index.ts';
import type { StrobeState } from '../model/strobe-state.ts';
import { createAdviceView } from '../shelf/advice-view.ts';
import { createChannelView } from '../shelf/channel-view.ts';
import { createCases } from '../shelf/cases.ts';
import '../shelf/more.css';
import { createOpeningView, type OpeningCallbacks } from '../shelf/opening-view.ts';
import { createSpectrumView } from '../shelf/spectrum-view.ts';

export interface PlanMoreCallbacks extends OpeningCallbacks {
  readonly onChange: (turn: (raw: RawDesign) => RawDesign) => void;
}

export interface PlanMore {
  readonly node: HTMLElement;
  /** `design`: of the inputs as they are now; undefined when they are refused. */
  update(raw: RawDesign, design: Design | undefined): void;
  show(run: Run, strobe: StrobeState, em: number): void;
}

/** What the planning view holds one click away: the opening, its cases, advice, the spectrum, the whole channel. */
export function createPlanMore(callbacks: PlanMoreCallbacks): PlanMore {
  const opening = createOpeningView(callbacks);
  const cases = createCases({
    onOpen: (run, item) => callbacks.onChange((raw) => openCase(raw, run.design, item.overrides ?? {})),
  });
  const advice = createAdviceView({
    onTake: (from, to) => callbacks.onChange((raw) => applyDifferences(raw, from, to)),
  });
  const spectrum = createSpectrumView();
  const channel = createChannelView();
  return {
    node: h(
      'div',
      { class: 'plan-more' },
      opening.node,
      cases.node,
      advice.node,
      spectrum.node,
      channel.node,
    ),
    update(raw, design) {
      const place = [rawAt(raw, '/strobe/time'), rawAt(raw, '/detector/threshold')];
      const key = JSON.stringify([physicsKey(raw), ...place]);
      advice.update(design, key);
      channel.update(design, key);
    },
    show(run, strobe, em) {
      opening.update(run, strobe, em);
      cases.update(run, strobe);
      spectrum.update(run, em);
    },
  };
}
