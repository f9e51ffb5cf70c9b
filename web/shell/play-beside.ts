import { effect, untracked } from '@preact/signals-core';
import { LESSON_PART } from '../state/lesson-board.ts';
import type { Page } from '../state/page.ts';

const NOT_FETCHED = 'The lesson could not be fetched: look after the connection, then open it again.';

/** While the address names a step of the course, it is played beside the stage; fetched when it is first asked for. */
export function playBeside(page: Page, root: HTMLElement): void {
  const { atoms, act } = page;
  const host = (name: string): HTMLElement => root.querySelector(`.lesson-${name}`)!;
  const hosts = { line: host('line'), rail: host('rail'), plot: host('plot') };
  let fetched: Promise<void> | undefined;
  const fetchIt = (): Promise<void> =>
    import('../lessons/on-stage/play.ts').then(
      ({ playOnStage }) => playOnStage(page, hosts),
      () => {
        fetched = undefined;
        act.say(NOT_FETCHED);
        act.go({ name: 'learn' });
      },
    );
  effect(() => {
    const { name, part } = atoms.place.value;
    const asked = name === 'plan' && part === LESSON_PART;
    untracked(() => {
      if (asked) fetched ??= fetchIt();
      else if (atoms.lesson.value?.step !== undefined) act.leaveLesson();
    });
  });
}
