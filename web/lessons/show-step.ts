/** Brings a lesson or a step into view, once it stands on the page; one that is seen already stays where it is. */
export function showStep(view: HTMLElement, id: string): void {
  requestAnimationFrame(() => {
    const found = view.querySelector<HTMLElement>(`#${CSS.escape(id)}`);
    const box = found?.getBoundingClientRect();
    if (!found || !box || (box.top >= 0 && box.top < window.innerHeight / 2)) return;
    if (!found.contains(document.activeElement)) found.focus({ preventScroll: true });
    found.scrollIntoView();
  });
}
