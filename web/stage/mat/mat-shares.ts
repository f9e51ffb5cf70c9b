import type { Design } from '../../../engine/design/design.ts';
import type { CoreShares } from '../../../engine/solver/result.ts';
import { h } from '../../ui/dom.ts';
import type { Run } from '../../model/run.ts';
import { createSideClient } from '../../compute/side-client.ts';

export interface MatShares {
  /** The switch. */
  readonly node: HTMLElement;
  readonly on: () => boolean;
  /** What each core gives at an instant, s; undefined while it is worked out or when switched off. */
  of(run: Run, bit: 0 | 1, at: number): CoreShares | undefined;
}

/** What every core gives at an instant, worked out in a worker of its own when it is wanted. */
export function createMatShares(onChange: () => void): MatShares {
  const client = createSideClient(Infinity);
  let known: { readonly design: Design; readonly bit: 0 | 1; readonly at: number } | undefined;
  let shares: CoreShares | undefined;
  const toggle = h('input', { id: 'mat-shares', type: 'checkbox', change: onChange });
  return {
    node: h('label', { class: 'check', for: 'mat-shares' }, toggle, 'what each core gives'),
    on: () => toggle.checked,
    of(run, bit, at) {
      if (!toggle.checked) return undefined;
      const { design } = run;
      if (known?.design === design && known.bit === bit && known.at === at) return shares;
      const asked = { design, bit, at };
      known = asked;
      shares = undefined;
      client.ask(
        'shares',
        { design: { ...design, selected: { ...design.selected, bit } }, at: [at] },
        {
          onAnswer: ([found]) => {
            shares = found;
            onChange();
          },
          onFailed: () => undefined,
        },
      );
      return undefined;
    },
  };
}
