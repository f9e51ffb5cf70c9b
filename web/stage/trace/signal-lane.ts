import { createTraceChart } from '../../charts/trace-chart.ts';
import { measuredIn } from '../../model/measured-trace.ts';
import { createBehind } from '../../sharing/behind.ts';
import type { Evidence } from '../../state/atoms.ts';
import type { Page } from '../../state/page.ts';
import { h, put } from '../../ui/dom.ts';
import { freshOf } from './fresh.ts';
import { mainData } from './lane-data.ts';
import { laneMargins } from './lane-plan.ts';
import type { Judged } from './main-data.ts';
import { createMainPanel } from './main-panel.ts';
import { ladders } from './scale-ladder.ts';
import { drawSigned } from './signed-lane.ts';

/** The lane of what is heard: worst cases at the latch with strobe and threshold, or this design's two reads before it. */
export function createSignalLane(page: Page): {
  readonly behind: HTMLElement;
  node(width: number, height: number, em: number): HTMLElement;
} {
  const { atoms, now, act } = page;
  const behind = createBehind('ONE and ZERO', '⋯');
  const panel = createMainPanel({
    onStrobe: act.setStrobe,
    onThreshold: act.setThreshold,
    onMark: (which, time) => {
      const [a, b] = atoms.marks.value ?? [time, time];
      atoms.marks.value = which === 'a' ? [time, b] : [a, time];
    },
    onGestureEnd: act.endGesture,
    onScale: (volts) => {
      atoms.scale.value = volts;
    },
    onFollow: () => act.setStrobe(undefined),
    onRemoveMeasured: () => {
      atoms.measured.value = undefined;
    },
  });
  const plain = h('div', { class: 'plot' });
  const signed = createTraceChart();
  const axis = ladders(page);
  return {
    behind: behind.node,
    node(width, height, em) {
      const run = now.run.value;
      const heard = atoms.heard.value;
      const signedSpan = axis.signed.value;
      if (heard !== 'latch' && run && signedSpan) {
        const chart = drawSigned(signed, run, heard, page, signedSpan, width, height, em);
        if (plain.firstChild !== chart) put(plain, chart);
        return plain;
      }
      const judged = now.judged.value;
      const strobe = now.strobe.value;
      const pair = judged && strobe ? { run: judged, strobe } : undefined;
      const fresh = freshOf(page);
      const value = axis.latch.value;
      if ((!pair && !fresh) || !value) return panel.node;
      const marginCovered = atoms.lesson.value?.covered?.includes('margin') ?? false;
      const measured = pair && measuredIn(pair.run, atoms.measured.value);
      const chart = panel.update({
        judged: pair,
        fresh,
        step: judged?.design.numerics.output ?? 1e-9,
        span: now.span.value,
        value,
        marks: atoms.marks.value,
        measured,
        failed: judged?.reason !== undefined,
        old: now.judgedIsOld.value,
        follows: now.strobeFollows.value,
        marginCovered,
        evidence: evidenceOf(atoms.evidence.value),
        before: beforeOf(page),
        width,
        height,
        em,
        margins: laneMargins(em, { top: 22 }),
      });
      if (pair && !fresh) behind.update(() => mainData(pair.run, pair.strobe, chart, measured));
      return panel.node;
    },
  };
}

/** Of the cells of the verdict, those whose cases can be drawn. */
const evidenceOf = (set: Evidence | undefined): 'corners' | 'core' | undefined =>
  set === 'corners' || set === 'core' ? set : undefined;

/** What stood before the last change, once there is something to hold against it. */
function beforeOf({ now }: Page): Judged | undefined {
  const before = now.before.value;
  return before?.strobe && !now.judgedIsOld.value ? { run: before.run, strobe: before.strobe } : undefined;
}
