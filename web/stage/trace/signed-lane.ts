import type { Design } from '../../../engine/design/design.ts';
import { strobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { sampleAt, type Samples } from '../../charts/decimate.ts';
import type { ValueSpan } from '../../charts/spaces.ts';
import type { DrawTrace } from '../../charts/trace-chart.ts';
import type { Run } from '../../model/run.ts';
import { samplesOf, samplesOn } from '../../model/traces.ts';
import type { Page } from '../../state/page.ts';
import { laneMargins } from './lane-plan.ts';
import { bandOfCases, signedReads } from './signed-reads.ts';

/** Both reads of this design with their signs, before the latch; the strobe stands where the latch looks, one delay earlier. */
export function drawSigned(
  draw: DrawTrace,
  run: Run,
  heard: 'wire' | 'amplifier',
  page: Page,
  value: ValueSpan,
  width: number,
  height: number,
  em: number,
): SVGSVGElement {
  const { now } = page;
  const { detector } = run.design;
  const band = bandOfCases(page);
  const [one, zero] = signedReads(run, heard).map((values) => samplesOf(run, values)) as [Samples, Samples];
  const span = now.span.value;
  const strobe = now.strobe.value;
  return draw({
    id: 'signed',
    width,
    height,
    em,
    margins: laneMargins(em, { top: 22 }),
    timeLabels: false,
    name: `ONE and ZERO of this design, ${heard === 'wire' ? 'on the sense wire' : 'after the amplifier'}, signed`,
    time: span,
    value,
    quantity: { symbol: 'u', unit: 'V' },
    bands: band
      ? (['one', 'zero'] as const).map((style) => ({
          style,
          low: samplesOn(band.time, band[style].low),
          high: samplesOn(band.time, band[style].high),
        }))
      : [],
    lines: [
      { style: 'one', samples: one },
      { style: 'zero', samples: zero },
    ],
    labels: [
      { text: 'ONE', style: 'one', samples: one, side: 'above' },
      { text: 'ZERO', style: 'zero', samples: zero, side: 'below' },
    ],
    strobe: strobe && strobe.time - detector.delay,
    thresholdZone: thresholdBand(
      run.design,
      strobeUncertainties(run.design),
      strobe ? sampleAt(one, strobe.time - detector.delay) : 0,
    ),
  }).node;
}

/** On the side to which the ONE of this core goes, where the amplifier turns it over before it is held against it. */
function thresholdBand({ detector }: Design, of: { readonly threshold: number }, one: number): ValueSpan {
  const [near, far] = [detector.threshold - of.threshold, detector.threshold + of.threshold];
  return one < 0 ? { low: -far, high: -near } : { low: near, high: far };
}
