import { html } from 'lit-html';
import type { Run } from '../../model/run.ts';
import type { Region } from '../../state/page.ts';
import { choice } from '../../ui/choice.ts';
import { createCoreView } from './core-view.ts';

/** The core now: its loop and where on it the clock stands; the switch of the stored bit for the whole stage. */
export const ring: Region = ({ atoms, now, act }) => {
  const core = createCoreView();
  return ({ width, em }) => {
    const run = now.run.value;
    const { row, column } = now.core.value;
    const bit = atoms.bit.value;
    if (run) core.update({ run, bit, at: sampleIndex(run, now.instant.value), width, em });
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
      </div>
      ${core.node}
    `;
  };
};

const sampleIndex = (run: Run, time: number): number => {
  const { time: axis } = run.one;
  const end = axis.at(-1) || 1;
  return Math.min(Math.max(Math.round((time / end) * (axis.length - 1)), 0), axis.length - 1);
};
