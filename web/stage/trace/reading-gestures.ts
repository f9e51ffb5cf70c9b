import type { Page } from '../../state/page.ts';
import { laneTimes } from './lane-plan.ts';

/** What a pointer over the lanes does: it carries the reading line, and a click below the signal sets the clock. */
export function readingGestures({ now, act }: Page): {
  point(event: PointerEvent): void;
  leave(): void;
  set(event: MouseEvent): void;
} {
  const timeAt = (event: MouseEvent): number | undefined => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    const em = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
    const times = laneTimes(now.span.value, { width: box.width, em });
    const x = event.clientX - box.left;
    if (x < times.left || x > times.right) return undefined;
    const step = now.inForce.value?.numerics.output ?? 1e-9;
    return Math.round(times.time(x) / step) * step;
  };
  return {
    point: (event) => act.setReading(timeAt(event)),
    leave: () => act.setReading(undefined),
    set: (event) => {
      const target = event.target as Element;
      // In the signal lane a click places the strobe.
      if (target.closest('.lane-signal, .lane-title, button, .clock-ring')) return;
      const time = timeAt(event);
      if (time !== undefined) act.setInstant(time);
    },
  };
}
