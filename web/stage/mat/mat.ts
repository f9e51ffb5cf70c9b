import { html } from 'lit-html';
import type { Region } from '../../state/page.ts';
import './mat.css';
import { createMatView } from './mat-view.ts';

/** The mat: what each core holds and gives, and how the wire runs. */
export const mat: Region = ({ atoms, now, act }) => {
  const view = createMatView({
    onEdit: act.change,
    onBit: act.setBit,
    onShow: (shows) => {
      atoms.matShows.value = shows;
    },
  });
  return ({ width, em }) => {
    const run = now.run.value;
    if (run)
      view.update(
        run,
        atoms.bit.value,
        now.instant.value,
        atoms.matShows.value === 'gives' ? 'gives' : 'holds',
        width,
        em,
      );
    return html`${view.node}`;
  };
};
