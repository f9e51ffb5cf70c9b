import { panSpan, type Spaces, type TimeSpan } from '../../charts/spaces.ts';

/** s: the narrowest that the bracket is drawn together to. */
const LEAST = 20e-9;
/** px beside an end of the bracket from which it is that end that is dragged. */
const END = 7;
/** Shares of its width that an arrow and a Page key move it by. */
const STEPS: Readonly<Record<string, number>> = {
  ArrowRight: 0.1,
  ArrowUp: 0.1,
  ArrowLeft: -0.1,
  ArrowDown: -0.1,
  PageUp: 1,
  PageDown: -1,
};

export interface BracketOptions {
  readonly cycle: TimeSpan;
  readonly span: TimeSpan;
  readonly x: Spaces['x'];
  readonly onSpan: (span: TimeSpan) => void;
}

/** Dragged by an end that end moves, by its middle all of it; a press beside it brings its middle there first. */
export function bracketDrag({ cycle, span, x, onSpan }: BracketOptions): (event: PointerEvent) => void {
  return (event) => {
    if (event.button !== 0) return;
    event.preventDefault();
    const strip = event.currentTarget as SVGSVGElement;
    const at = ({ clientX }: PointerEvent): number => clientX - strip.getBoundingClientRect().left;
    const [pressed, from, to] = [at(event), x(span.from), x(span.to)];
    const end = Math.abs(pressed - to) <= END ? 'to' : Math.abs(pressed - from) <= END ? 'from' : undefined;
    const inside = pressed > from && pressed < to;
    const middle = (span.from + span.to) / 2;
    const held = inside ? x.invert(pressed) - middle : 0;
    const move = (next: PointerEvent): void => {
      const time = x.invert(at(next));
      if (end) onSpan(withEnd(span, end, time, cycle));
      else onSpan(panSpan(span, (time - held - middle) / (span.to - span.from), cycle));
    };
    if (!end && !inside) move(event);
    strip.focus({ preventScroll: true });
    strip.setPointerCapture(event.pointerId);
    const ended = new AbortController();
    strip.addEventListener('pointermove', move, { signal: ended.signal });
    strip.addEventListener('lostpointercapture', () => ended.abort(), { once: true });
  };
}

/** What a key makes of the bracket; undefined where it means nothing. */
export function bracketKey(
  { key, shiftKey }: Pick<KeyboardEvent, 'key' | 'shiftKey'>,
  span: TimeSpan,
  cycle: TimeSpan,
): TimeSpan | undefined {
  const width = span.to - span.from;
  if (key === 'Home') return { from: cycle.from, to: cycle.from + width };
  if (key === 'End') return { from: cycle.to - width, to: cycle.to };
  const by = STEPS[key];
  if (by === undefined) return undefined;
  return shiftKey ? withEnd(span, 'to', span.to + by * width, cycle) : panSpan(span, by, cycle);
}

const withEnd = (span: TimeSpan, end: 'from' | 'to', time: number, cycle: TimeSpan): TimeSpan =>
  end === 'to'
    ? { ...span, to: Math.min(Math.max(time, span.from + LEAST), cycle.to) }
    : { ...span, from: Math.max(Math.min(time, span.to - LEAST), cycle.from) };
