import { effect, untracked } from '@preact/signals-core';
import { LESSON_PART } from '../state/lesson-board.ts';
import type { Place } from '../state/place.ts';
import type { Page } from '../state/page.ts';
import { fetchedView } from '../ui/fetched.ts';

type Other = Exclude<Place['name'], 'plan'>;

/** The places beside Plan, each fetched when it is first opened. */
async function load(name: Other, page: Page): Promise<HTMLElement> {
  if (name === 'bench') return (await import('../bench/bench-view.ts')).createBenchView(page);
  const { toldPlace } = await import('../lessons/told-place.ts');
  if (name === 'learn') {
    const { createLearnPlace } = await import('../lessons/learn-place.ts');
    const callbacks = {
      place: page.atoms.place,
      onOpen: page.act.openBoard,
      onPlay: (step: string) => page.act.go({ name: 'plan', part: LESSON_PART, id: step }),
      onStep: (part: string, id: string) => page.act.go({ name: 'learn', part, id }),
      planned: () => page.now.raw.value,
    };
    return toldPlace(page.atoms.language, createLearnPlace(callbacks));
  }
  const { createTermsView } = await import('../lessons/terms.ts');
  return toldPlace(page.atoms.language, createTermsView);
}

/** Shows the place that the reader is at in `host`; Plan itself stands beside it. */
export function showPlaces(page: Page, host: HTMLElement): void {
  const opened = new Map<Other, HTMLElement>();
  const show = (name: Place['name']): void => {
    document.title =
      name === 'plan' ? 'Strobewright' : `${name.charAt(0).toUpperCase()}${name.slice(1)}: Strobewright`;
    if (name === 'plan') return host.replaceChildren();
    if (!opened.has(name))
      opened.set(
        name,
        fetchedView('This place', () => load(name, page)),
      );
    host.replaceChildren(opened.get(name)!);
  };
  effect(() => {
    const { name } = page.atoms.place.value;
    untracked(() => show(name));
  });
}
