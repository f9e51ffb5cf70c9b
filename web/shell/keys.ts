import type { Page } from '../state/page.ts';

/** Keys of the whole page. In a text box these keys belong to the text. */
export function listenToKeys({ act }: Page): void {
  document.addEventListener('keydown', (event) => {
    const { ctrlKey, metaKey, shiftKey, key } = event;
    if ((!ctrlKey && !metaKey) || isTextBox(event.target)) return;
    const letter = key.toLowerCase();
    if (letter === 'z' && !shiftKey) act.undo();
    else if (letter === 'y' || letter === 'z') act.redo();
    else if (letter === 'o') document.querySelector<HTMLElement>('#open-file')?.click();
    else return;
    event.preventDefault();
  });
}

const isTextBox = (target: EventTarget | null): boolean =>
  target instanceof HTMLTextAreaElement || (target instanceof HTMLInputElement && target.type === 'text');
