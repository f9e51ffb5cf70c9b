import { h } from '../ui/dom.ts';

/** Something one click away: a title that opens. `onOpen` is called each time it is opened. */
export function createMore(
  title: string,
  onOpen: () => void,
  ...children: Node[]
): { readonly node: HTMLDetailsElement } {
  const node = h(
    'details',
    { class: 'editor more' },
    h('summary', {}, title),
    h('div', { class: 'more-body' }, ...children),
  );
  node.addEventListener('toggle', () => node.open && onOpen());
  return { node };
}
