import { panSpan, zoomSpan, type TimeSpan } from '../charts/spaces.ts';
import { markBeside } from '../model/clock-marks.ts';
import type { Atoms } from './atoms.ts';
import type { Derived } from './derived.ts';

/** s: the narrowest span. */
const LEAST_SPAN = 20e-9;

/** What a reader can do with the clock, the reading line and the span. */
export function timeGestures(atoms: Atoms, now: Derived) {
  const spanTo = (span: TimeSpan | undefined): void => {
    atoms.span.value = span;
  };
  return {
    /** s; undefined: the clock stands at the strobe. */
    setInstant: (time: number | undefined) => {
      atoms.instant.value = time === undefined ? undefined : within(time, now.cycle.value);
    },
    /** By output steps of the design. */
    stepInstant: (by: number) => {
      const output = now.inForce.value?.numerics.output ?? 1e-9;
      atoms.instant.value = within(now.instant.value + by * output, now.cycle.value);
    },
    /** To the mark before or after; the span follows where it lies outside. */
    toMark: (by: 1 | -1) => {
      const mark = markBeside(now.marks.value, now.instant.value, by);
      if (!mark) return;
      atoms.instant.value = mark.time;
      const { from, to } = now.span.value;
      if (mark.time < from || mark.time > to)
        spanTo(panSpan(now.span.value, (mark.time - (from + to) / 2) / (to - from), now.cycle.value));
    },
    setReading: (time: number | undefined) => {
      atoms.reading.value = time;
    },
    setSpan: spanTo,
    /** About the reading line, else the strobe. */
    zoom: (factor: number) => {
      const about = atoms.reading.value ?? now.shownStrobe.value?.time;
      spanTo(zoomSpan(now.span.value, factor, now.cycle.value, LEAST_SPAN, about));
    },
    pan: (fraction: number) => spanTo(panSpan(now.span.value, fraction, now.cycle.value)),
  };
}

const within = (time: number, { from, to }: TimeSpan): number => Math.min(Math.max(time, from), to);
