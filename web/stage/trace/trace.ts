import { html, nothing } from 'lit-html';
import { createTraceChart } from '../../charts/trace-chart.ts';
import { createBehind } from '../../sharing/behind.ts';
import type { Region } from '../../state/page.ts';
import { choice } from '../../ui/choice.ts';
import { layout } from '../../ui/layout.ts';
import { beforeCard } from './before-card.ts';
import { causeLane, currentLane, detectorLane } from './lanes.ts';
import { cycleStrip } from './cycle-strip.ts';
import { heardTitle } from './heard-title.ts';
import { laneMargins, planLanes } from './lane-plan.ts';
import { readingGestures } from './reading-gestures.ts';
import { createReadingStop } from './reading-line.ts';
import { readCauses, readCurrents, readDetector, readSignal } from './reading-values.ts';
import { createSignalLane } from './signal-lane.ts';
import { createUprights } from './uprights.ts';
import { zoomButtons } from './zoom-buttons.ts';
import './trace.css';
import './instants.css';
import './trace-heads.css';

/** px for the zoom buttons beside the cycle strip. */
const ZOOM_ROOM = 322;
/** px of the signal lane where the page scrolls. */
const FIXED = { narrow: 260, middle: 300, wide: undefined } as const;
/** px of it on a phone over an open card, so that all of it stays in view. */
const OVER_CARD = 180;

/** The read over time: what is heard, by whom, and why; every lane on one axis. */
export const trace: Region = (page) => {
  const { atoms, now } = page;
  const signal = createSignalLane(page);
  const behind = {
    causes: createBehind('Sense voltage by cause', '⋯'),
    detector: createBehind('Detector output', '⋯'),
    currents: createBehind('Drive currents', '⋯'),
  };
  const readings = {
    signal: createReadingStop(page, 'signal', readSignal, 24),
    causes: createReadingStop(page, 'causes', readCauses, -23),
    detector: createReadingStop(page, 'detector', readDetector, -23),
    currents: createReadingStop(page, 'currents', readCurrents, -23),
  };
  const draw = { causes: createTraceChart(), currents: createTraceChart() };
  const uprights = createUprights(page);
  const { point, leave, set } = readingGestures(page);
  return (box) => {
    const over = layout.value === 'narrow' && (atoms.open.value ?? atoms.evidence.value) !== undefined;
    const plan = planLanes(box, over ? OVER_CARD : FIXED[layout.value]);
    const { em, width } = box;
    const run = now.run.value;
    const design = now.inForce.value;
    const shared = { page, width, em, margins: laneMargins(em) };
    const { title, note } = heardTitle(design, atoms.heard.value);
    return html`
      <div class="region-head">
        <h2>${title}</h2>
        <p class="note small">${note}</p>
        ${choice({
          title: 'Heard at',
          options: [
            ['wire', 'Wire, signed'],
            ['amplifier', 'Amplifier'],
            ['latch', 'At the latch'],
          ],
          chosen: atoms.heard.value,
          onChoose: (value) => {
            atoms.heard.value = value;
          },
        })}
        ${signal.behind}
      </div>
      <div class="lanes" @pointermove=${point} @pointerdown=${point} @pointerleave=${leave} @click=${set}>
        <div class="lane lane-signal ${now.judgedIsOld.value ? 'old' : ''}">
          ${signal.node(width, plan.signal, em)}${readings.signal}${beforeCard(page)}
        </div>
        ${
          run
            ? html`
                ${causeLane({ ...shared, run, draw: draw.causes, height: plan.causes, behind: behind.causes, reading: readings.causes })}
                ${detectorLane({ ...shared, height: plan.detector, behind: behind.detector, reading: readings.detector })}
                ${currentLane({ ...shared, run, draw: draw.currents, height: plan.currents, behind: behind.currents, reading: readings.currents })}
              `
            : nothing
        }
        ${uprights}
      </div>
      ${
        run
          ? html`
              <div class="cycle-row">
                ${cycleStrip({
                  run,
                  span: now.span.value,
                  width: Math.max(120, width - ZOOM_ROOM * em),
                  height: plan.cycle,
                  em,
                  onSpan: page.act.setSpan,
                })}
                ${zoomButtons(page)}
              </div>
            `
          : nothing
      }
    `;
  };
};
