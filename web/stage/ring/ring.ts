import { html } from 'lit-html';
import type { Run } from '../../model/run.ts';
import { createBehind } from '../../sharing/behind.ts';
import type { Region } from '../../state/page.ts';
import { choice } from '../../ui/choice.ts';
import { iconView } from '../../ui/icon-view.ts';
import { layout } from '../../ui/layout.ts';
import { createCoreView } from './core-view.ts';
import './ring.css';

/** The core now: ring, loop and flux at the clock; the switch of the stored bit for the whole stage. */
export const ring: Region = ({ atoms, now, act }) => {
  const behind = createBehind('The selected core', '⋯');
  const coreView = createCoreView();
  return ({ width, height, em }) => {
    const run = now.run.value;
    // What is computed is of the core that is read, whichever one the mat looks at.
    const { row, column } = run?.design.selected ?? now.core.value;
    const bit = atoms.bit.value;
    const instant = now.instant.value;
    const old = now.runIsOld.value;
    return html`
      <div class="region-head">
        <h2>Core ${row}, ${column} now</h2>
        ${choice({
          title: 'Stored bit',
          options: [
            ['1', 'ONE'],
            ['0', 'ZERO'],
          ],
          chosen: bit === 1 ? '1' : '0',
          onChoose: (value) => act.setBit(value === '1' ? 1 : 0),
        })}
        ${behind.node}
      </div>
      ${
        run
          ? html`<div class=${old ? 'core-card old' : 'core-card'}>
              ${old ? html`<p class="small">${iconView('stale')}before this change</p>` : ''}
              ${coreView({ run, bit, at: sampleIndex(run, instant), instant, span: now.span.value, width, height: layout.value === 'wide' ? height : Infinity, em, behind })}
            </div>`
          : html`<p class="note">Being computed.</p>`
      }
    `;
  };
};

const sampleIndex = (run: Run, time: number): number => {
  const { time: axis } = run.one;
  const end = axis.at(-1) || 1;
  return Math.min(Math.max(Math.round((time / end) * (axis.length - 1)), 0), axis.length - 1);
};
