import { referToWire } from '../../../engine/sense-amplifier/referred.ts';
import type { Design } from '../../../engine/design/design.ts';
import { strobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { extent, type Samples } from '../../charts/decimate.ts';
import { paddedSpan } from '../../charts/spaces.ts';
import { traceChart } from '../../charts/trace-chart.ts';
import { measuredIn } from '../../model/measured-trace.ts';
import type { FirstTrace, Run } from '../../model/run.ts';
import { samplesOf } from '../../model/traces.ts';
import { createBehind } from '../../sharing/behind.ts';
import type { Page } from '../../state/page.ts';
import { h, put } from '../../ui/dom.ts';
import { mainData } from './lane-data.ts';
import { laneMargins } from './lane-plan.ts';
import type { Fresh, Judged } from './main-chart.ts';
import { createMainPanel } from './main-panel.ts';

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
  return {
    behind: behind.node,
    node(width, height, em) {
      const run = now.run.value;
      const heard = atoms.heard.value;
      if (heard !== 'latch' && run) {
        put(plain, drawSigned(run, heard, page, width, height, em));
        return plain;
      }
      const judged = now.judged.value;
      const strobe = now.strobe.value;
      const pair = judged && strobe ? { run: judged, strobe } : undefined;
      const fresh = freshOf(page);
      if (!pair && !fresh) return panel.node;
      const measured = pair && measuredIn(pair.run, atoms.measured.value);
      const chart = panel.update({
        judged: pair,
        fresh,
        step: judged?.design.numerics.output ?? 1e-9,
        span: now.span.value,
        scale: atoms.scale.value,
        marks: atoms.marks.value,
        measured,
        failed: judged?.reason !== undefined,
        old: now.judgedIsOld.value,
        follows: now.strobeFollows.value,
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

/** What stood before the last change, once there is something to hold against it. */
function beforeOf({ now }: Page): Judged | undefined {
  const before = now.before.value;
  return before?.strobe && !now.judgedIsOld.value ? { run: before.run, strobe: before.strobe } : undefined;
}

/** The design's own reads where no analysis of it is at hand. */
export function freshOf({ atoms, now }: Page): Fresh | undefined {
  const run = now.run.value;
  const judged = now.judged.value;
  if (run && !now.runIsOld.value) return judged?.one === run.one && judged.ensemble ? undefined : run;
  const first = atoms.first.value;
  const design = now.design.value;
  return first && design && first.key === now.physics.value ? freshFrom(first.value, design) : undefined;
}

const freshFrom = ({ bit, trace }: FirstTrace, design: Design): Fresh => ({
  design,
  one: bit === 1 ? trace : undefined,
  zero: bit === 0 ? trace : undefined,
});

/** Both reads of this design with their signs before the latch, V at the sense wire. */
export function signedReads(
  run: Run,
  heard: 'wire' | 'amplifier',
): readonly [one: Float64Array, zero: Float64Array] {
  const of = (read: Run['one']): Float64Array =>
    heard === 'wire' ? read.senseVoltage : referToWire(run.design.amplifier, read.amplifierOutput);
  return [of(run.one), of(run.zero)];
}

/** Both reads of this design with their signs, before the latch; the strobe stands where the latch looks, one delay earlier. */
function drawSigned(
  run: Run,
  heard: 'wire' | 'amplifier',
  { now }: Page,
  width: number,
  height: number,
  em: number,
): SVGSVGElement {
  const { detector } = run.design;
  const [one, zero] = signedReads(run, heard).map((values) => samplesOf(run, values)) as [Samples, Samples];
  const span = now.span.value;
  const ends = [one, zero].map((samples) => extent(samples, span.from, span.to) ?? [0, 0]);
  const strobe = now.strobe.value;
  return traceChart({
    id: 'signed',
    width,
    height,
    em,
    margins: laneMargins(em, { top: 22 }),
    timeLabels: false,
    name: `ONE and ZERO of this design, ${heard === 'wire' ? 'on the sense wire' : 'after the amplifier'}, signed`,
    time: span,
    value: paddedSpan(Math.min(...ends.map(([low]) => low)), Math.max(...ends.map(([, high]) => high))),
    quantity: { symbol: 'u', unit: 'V' },
    lines: [
      { style: 'one', samples: one },
      { style: 'zero', samples: zero },
    ],
    labels: [
      { text: 'ONE', style: 'one', samples: one, side: 'above' },
      { text: 'ZERO', style: 'zero', samples: zero, side: 'below' },
    ],
    strobe: strobe && strobe.time - detector.delay,
    thresholdZone: thresholdBand(run.design),
  }).node;
}

function thresholdBand(design: Design): { readonly low: number; readonly high: number } {
  const { threshold } = strobeUncertainties(design);
  return { low: design.detector.threshold - threshold, high: design.detector.threshold + threshold };
}
