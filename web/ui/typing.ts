type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

const typedIn = new WeakSet<EventTarget>();

/** From now on the page knows in which control the reader is typing. */
export function watchTyping(root: EventTarget): void {
  root.addEventListener('input', (event) => event.target && typedIn.add(event.target), true);
  for (const over of ['change', 'focusout'])
    root.addEventListener(over, (event) => event.target && typedIn.delete(event.target), true);
}

/** Shows a value, but never over the head of a reader who is typing another. */
export function showValue(control: Control, text: string): void {
  if (!typedIn.has(control) && control.value !== text) control.value = text;
}
