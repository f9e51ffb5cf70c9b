import { computed, effect, signal, type ReadonlySignal } from '@preact/signals-core';
import type { ValueSpan } from '../../charts/spaces.ts';
import { samplesOf, samplesOn } from '../../model/traces.ts';
import type { Page } from '../../state/page.ts';
import { mediaSignal } from '../../ui/media.ts';
import { freshOf } from './fresh.ts';
import { rungFor, spanOnRung, wantedAtLatch, wantedSigned, type Wanted } from './signal-scale.ts';
import { bandOfCases, signedReads } from './signed-reads.ts';

/** What the signal lane and all that stands on its axis show, V; undefined while nothing is known. */
interface Ladders {
  readonly latch: ReadonlySignal<ValueSpan | undefined>;
  /** Before the latch, with signs. */
  readonly signed: ReadonlySignal<ValueSpan | undefined>;
}

/** ms that a change of rung takes to be seen. */
const TWEEN = 160;

const known = new WeakMap<Page, Ladders>();

/** The axis of the signal lane, one for the lane, the stairs beside it and the pinned designs. */
export function ladders(page: Page): Ladders {
  const made = known.get(page) ?? { latch: climb(page, atLatch), signed: climb(page, signed) };
  known.set(page, made);
  return made;
}

function atLatch(page: Page): Wanted | undefined {
  const { now } = page;
  const [run, strobe, fresh] = [now.judged.value, now.strobe.value, freshOf(page)];
  const judged = run && strobe ? { run, strobe } : undefined;
  return judged || fresh ? wantedAtLatch({ judged, fresh, span: now.span.value }) : undefined;
}

function signed(page: Page): Wanted | undefined {
  const { atoms, now } = page;
  const [run, heard] = [now.run.value, atoms.heard.value];
  if (!run || heard === 'latch') return undefined;
  const band = bandOfCases(page);
  const lines = [
    ...signedReads(run, heard).map((values) => samplesOf(run, values)),
    ...(band
      ? [band.one, band.zero]
          .flatMap(({ low, high }) => [low, high])
          .map((values) => samplesOn(band.time, values))
      : []),
  ];
  return wantedSigned(lines, now.span.value, run.design.detector.threshold, run.one);
}

/** Stands on a rung until what is wanted leaves it, never moves under a gesture, and is seen to move afterwards. */
function climb(
  page: Page,
  wanted: (page: Page) => Wanted | undefined,
): ReadonlySignal<ValueSpan | undefined> {
  const { atoms } = page;
  let stood: { readonly rung: number; readonly span: ValueSpan } | undefined;
  const target = computed(() => {
    const held = atoms.scale.value;
    const moving = atoms.history.value.gesture !== undefined;
    const all = wanted(page);
    if (!all) return undefined;
    if (moving && stood) return stood.span;
    const rung = held ?? rungFor(all, stood?.rung);
    const span = spanOnRung(rung, all);
    const same = stood && stood.span.low === span.low && stood.span.high === span.high;
    stood = { rung, span: same ? stood!.span : span };
    return stood.span;
  });
  return seen(target);
}

function seen(target: ReadonlySignal<ValueSpan | undefined>): ReadonlySignal<ValueSpan | undefined> {
  const shown = signal(target.peek());
  const still = mediaSignal('(prefers-reduced-motion: reduce)');
  let frame = 0;
  effect(() => {
    const to = target.value;
    const from = shown.peek();
    cancelAnimationFrame(frame);
    if (!to || !from || still.peek() || from === to) {
      shown.value = to;
      return;
    }
    const begun = performance.now();
    const step = (): void => {
      const part = Math.min(1, (performance.now() - begun) / TWEEN);
      const between = (a: number, b: number): number => a + part * (b - a);
      shown.value = part < 1 ? { low: between(from.low, to.low), high: between(from.high, to.high) } : to;
      if (part < 1) frame = requestAnimationFrame(step);
    };
    step();
  });
  return shown;
}
