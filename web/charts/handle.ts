import { h } from '../ui/dom.ts';

export interface HandleOptions {
  readonly label: string;
  readonly orientation: 'horizontal' | 'vertical';
  readonly className: string;
  /** Value under a pointer, SI. */
  readonly valueAt: (event: PointerEvent) => number;
  /** One arrow key, SI; Page keys move ten. */
  readonly step: () => number;
  /** `gesture` names the drag or the held key, so that it can be undone as one step. */
  readonly onMove: (value: number, gesture: string) => void;
  readonly onEnd: () => void;
  /** For aria-valuenow, which takes no exponents: 1e9 tells nanoseconds, 1e3 millivolts. */
  readonly scale: number;
}

interface HandleState {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** What a screen reader says: "780 ns, margin 21 mV". */
  readonly text: string;
  /** px within the chart. */
  readonly x: number;
  readonly y: number;
  readonly hidden: boolean;
}

export interface Handle {
  readonly node: HTMLElement;
  update(state: HandleState): void;
  /** Starts or carries on a drag that began elsewhere on the plot. */
  dragFrom(event: PointerEvent): void;
}

let gestures = 0;

/** A grip of at least 24 px that is a slider for keyboard and screen reader. */
export function createHandle(options: HandleOptions): Handle {
  let state: HandleState | undefined;
  let gesture = '';
  const clamp = (value: number) => (state ? Math.min(Math.max(value, state.low), state.high) : value);
  const node = h('div', {
    class: `handle ${options.className}`,
    role: 'slider',
    tabindex: 0,
    'aria-label': options.label,
    'aria-orientation': options.orientation,
    hidden: true,
  });

  function dragFrom(event: PointerEvent): void {
    if (event.button !== 0) return;
    event.preventDefault();
    gesture = `drag-${++gestures}`;
    node.focus({ preventScroll: true });
    node.setPointerCapture(event.pointerId);
    options.onMove(clamp(options.valueAt(event)), gesture);
  }

  function moveByKey(event: KeyboardEvent): void {
    const target = keyTarget(event.key, state, options.step());
    if (target === undefined) return;
    event.preventDefault();
    if (state) state = { ...state, value: clamp(target) };
    if (!event.repeat) gesture = `key-${++gestures}`;
    options.onMove(clamp(target), gesture);
  }

  node.addEventListener('pointerdown', (event) => dragFrom(event));
  node.addEventListener('pointermove', (event) => {
    if (node.hasPointerCapture(event.pointerId)) options.onMove(clamp(options.valueAt(event)), gesture);
  });
  node.addEventListener('lostpointercapture', () => options.onEnd());
  node.addEventListener('keydown', moveByKey);
  node.addEventListener('keyup', () => options.onEnd());

  const plain = (value: number) => String(Number((value * options.scale).toFixed(3)));

  return {
    node,
    dragFrom,
    update(next) {
      state = next;
      node.hidden = next.hidden;
      node.style.transform = `translate(${next.x}px, ${next.y}px)`;
      node.setAttribute('aria-valuemin', plain(next.low));
      node.setAttribute('aria-valuemax', plain(next.high));
      node.setAttribute('aria-valuenow', plain(next.value));
      node.setAttribute('aria-valuetext', next.text);
    },
  };
}

/** The value an arrow, Page, Home or End key asks for; undefined for any other key. */
export function keyTarget(
  key: string,
  state: { readonly value: number; readonly low: number; readonly high: number } | undefined,
  step: number,
): number | undefined {
  if (!state) return undefined;
  switch (key) {
    case 'ArrowRight':
    case 'ArrowUp':
      return state.value + step;
    case 'ArrowLeft':
    case 'ArrowDown':
      return state.value - step;
    case 'PageUp':
      return state.value + 10 * step;
    case 'PageDown':
      return state.value - 10 * step;
    case 'Home':
      return state.low;
    case 'End':
      return state.high;
    default:
      return undefined;
  }
}
