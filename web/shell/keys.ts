import type { Page } from '../state/page.ts';
import { EVIDENCE } from '../state/atoms.ts';

/** Keys of the whole page. In a text box these keys belong to the text. */
export function listenToKeys(page: Page): void {
  const { act } = page;
  const letters = stageKeys(page);
  document.addEventListener('keydown', (event) => {
    const { ctrlKey, metaKey, altKey, shiftKey, key } = event;
    if (isTextBox(event.target) || event.defaultPrevented) return;
    const letter = key.toLowerCase();
    if (!ctrlKey && !metaKey && !altKey) {
      const act = onStage(page, event.target) ? letters[letter] : undefined;
      if (!act || (key === ' ' && isControl(event.target))) return;
      act();
    } else if (altKey) return;
    else if (letter === 'z' && !shiftKey) act.undo();
    else if (letter === 'y' || letter === 'z') act.redo();
    else if (letter === 'o') document.querySelector<HTMLElement>('#open-file')?.click();
    else return;
    event.preventDefault();
  });
}

/** Single characters, which act only while the stage has the focus, and can be switched off. */
function stageKeys({ atoms, act }: Page): Readonly<Record<string, () => void>> {
  const focus = (grip: string) => () => document.querySelector<HTMLElement>(`.handle-${grip}`)?.focus();
  const evidence = Object.fromEntries(
    EVIDENCE.map((set, i) => [
      String(i + 1),
      () => act.showEvidence(atoms.evidence.value === set ? undefined : set),
    ]),
  );
  return {
    ...evidence,
    s: focus('strobe'),
    t: focus('threshold'),
    b: () => act.setBit(atoms.bit.value === 1 ? 0 : 1),
    g: () => {
      atoms.beforeOn.value = !atoms.beforeOn.value;
    },
    '+': () => act.zoom(0.5),
    '-': () => act.zoom(2),
    '0': () => act.setSpan(undefined),
    ',': () => act.stepInstant(-1),
    '.': () => act.stepInstant(1),
    '[': () => act.toMark(-1),
    ']': () => act.toMark(1),
    ' ': () => {
      if (matchMedia('(prefers-reduced-motion: reduce)').matches) act.toMark(1);
      else atoms.playing.value = !atoms.playing.value;
    },
    '/': () => {
      if (atoms.lesson.value?.step === undefined) act.go({ name: 'plan', part: 'inputs' });
    },
  };
}

const onStage = ({ atoms }: Page, target: EventTarget | null): boolean =>
  atoms.view.value.keys &&
  atoms.place.value.name === 'plan' &&
  target instanceof Element &&
  target.closest('.stage') !== null;

const isControl = (target: EventTarget | null): boolean =>
  target instanceof Element && target.closest('button, select, summary, a, [role=group]') !== null;

const isTextBox = (target: EventTarget | null): boolean =>
  target instanceof HTMLTextAreaElement ||
  target instanceof HTMLSelectElement ||
  (target instanceof HTMLInputElement && ['text', 'number'].includes(target.type));
