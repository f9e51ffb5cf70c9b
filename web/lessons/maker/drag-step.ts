/** Carries an item of a list by its grip to where the pointer lets it go; Escape leaves it where it was. */
export function dragStep(event: PointerEvent, from: number, onDrop: (to: number) => void): void {
  const item = (event.currentTarget as HTMLElement).closest('li')!;
  const others = [...item.parentElement!.children].filter((each) => each !== item);
  const middles = others.map((each) => {
    const { top, height } = each.getBoundingClientRect();
    return top + height / 2;
  });
  event.preventDefault();
  item.classList.add('carried');
  const ended = new AbortController();
  const { signal } = ended;
  const end = (): void => {
    ended.abort();
    item.classList.remove('carried');
    item.style.translate = '';
  };
  window.addEventListener(
    'pointermove',
    ({ clientY }) => {
      item.style.translate = `0 ${clientY - event.clientY}px`;
    },
    { signal },
  );
  window.addEventListener(
    'pointerup',
    ({ clientY }) => {
      end();
      const to = middles.filter((middle) => middle < clientY).length;
      if (to !== from) onDrop(to);
    },
    { signal },
  );
  window.addEventListener('pointercancel', end, { signal });
  window.addEventListener('keydown', ({ key }) => key === 'Escape' && end(), { signal });
}
