import { createHandle, type Handle } from '../../charts/handle.ts';
import type { Spaces } from '../../charts/spaces.ts';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { thresholdStep } from '../../state/gestures.ts';
import type { MainPanelData } from './main-data.ts';
import type { MainPanelCallbacks } from './main-data.ts';

export type Grips = Readonly<Record<'strobe' | 'threshold' | 'a' | 'b', Handle>>;

export interface GripPlaces {
  readonly timeAt: (event: PointerEvent) => number;
  readonly valueAt: (event: PointerEvent) => number;
  readonly data: () => MainPanelData | undefined;
}

/** Grips of strobe, threshold and the two marks; each a slider of its own for keys. */
export function createGrips(callbacks: MainPanelCallbacks, { timeAt, valueAt, data }: GripPlaces): Grips {
  const step = () => data()?.step ?? 1e-9;
  const mark = (which: 'a' | 'b') =>
    createHandle({
      label: `Mark ${which.toUpperCase()}`,
      orientation: 'horizontal',
      className: 'handle-cursor',
      valueAt: timeAt,
      step,
      scale: 1e9,
      onMove: (time) => callbacks.onMark(which, time),
      onEnd: callbacks.onGestureEnd,
    });
  return {
    strobe: createHandle({
      label: 'Strobe',
      orientation: 'horizontal',
      className: 'handle-strobe',
      valueAt: timeAt,
      step,
      scale: 1e9,
      onMove: callbacks.onStrobe,
      onEnd: callbacks.onGestureEnd,
    }),
    threshold: createHandle({
      label: 'Threshold',
      orientation: 'vertical',
      className: 'handle-threshold',
      valueAt,
      step: () => thresholdStep(data()?.judged?.run.design.detector.threshold),
      scale: 1e3,
      onMove: callbacks.onThreshold,
      onEnd: callbacks.onGestureEnd,
    }),
    a: mark('a'),
    b: mark('b'),
  };
}

export function placeGrips(grips: Grips, data: MainPanelData, spaces: Spaces): void {
  const { margins, width, height } = spaces;
  const { judged, fresh, span, marks } = data;
  const strobe = judged?.strobe;
  const cycleEnd = (fresh?.design ?? judged!.run.design).cycle.period;
  // Out of view, a grip waits at the edge, where keys and pointer still find it.
  const held = (time: number) => Math.min(Math.max(time, span.from), span.to);
  const lower = height - margins.bottom;
  const time = strobe?.time ?? 0;
  const level = strobe?.level ?? 0;
  const volts = (name: string, value: number) =>
    `${name} ${fresh ? 'being computed' : formatQuantity(value, 'V', 3)}`;
  const told = (...margins: readonly string[]): readonly string[] => (data.marginCovered ? [] : margins);
  const { one = 0, zero = 0 } = strobe?.margin ?? {};
  grips.strobe.update({
    value: time,
    low: 0,
    high: cycleEnd,
    text: [formatQuantity(time, 's', 5), ...told(volts('margin', Math.min(one, zero)))].join(', '),
    x: spaces.x(held(time)),
    y: lower,
    hidden: !strobe,
  });
  const [low, high] = spaces.y.domain() as [number, number];
  grips.threshold.update({
    value: level,
    low,
    high,
    text: [formatQuantity(level, 'V', 4), ...told(volts('margin ONE', one), volts('margin ZERO', zero))].join(
      ', ',
    ),
    x: width - margins.right,
    y: spaces.y(Math.min(Math.max(level, low), high)),
    hidden: !strobe,
  });
  for (const which of ['a', 'b'] as const) {
    const at = marks?.[which === 'a' ? 0 : 1] ?? 0;
    grips[which].update({
      value: at,
      low: 0,
      high: cycleEnd,
      text: formatQuantity(at, 's', 5),
      x: spaces.x(held(at)),
      y: margins.top,
      hidden: !marks,
    });
  }
}
