import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import type { DesignWarning } from '../model/run.ts';

/** What the design check warns of, each with its number and remedy. */
export function createWarnings(): {
  readonly node: HTMLElement;
  update(warnings: readonly DesignWarning[]): void;
} {
  const list = h('ul', {});
  const node = h(
    'section',
    { class: 'panel warnings', 'aria-label': 'Warnings about the design' },
    h('h2', {}, 'Worth a second look'),
    list,
  );
  return {
    node,
    update(warnings) {
      node.hidden = warnings.length === 0;
      put(
        list,
        ...warnings.map((warning) =>
          h(
            'li',
            {},
            icon('warning'),
            h('span', {}, h('strong', {}, 'Warning: '), `${warning.message} ${warning.remedy}`),
          ),
        ),
      );
    },
  };
}
