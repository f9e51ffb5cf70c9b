import { effect } from '@preact/signals-core';
import { h } from '../../ui/dom.ts';
import { weighAhead } from '../course/course-client.ts';
import { bitsOf, lineCores, withBits } from '../moved.ts';
import type { AskContext, AskView, Stage } from './ask.ts';
import { whenStill } from './when-still.ts';
import './bits.css';

/** The mat's bits as buttons, of which those on the two lines can be turned; turned on the stage they turn here too. */
export function bitsView(
  { step, told, words, ask }: AskContext<'bits'>,
  board: Pick<Stage, 'raw' | 'change'>,
): AskView {
  const cores = lineCores(ask);
  let bits: readonly number[] = [];
  const turn = (k: number): void =>
    board.change((raw) =>
      withBits(
        raw,
        ask,
        bitsOf(raw, ask).map((bit, i) => (i === k ? 1 - bit : bit)),
      ),
    );
  const buttons = cores.map((_, k) =>
    h('button', {
      type: 'button',
      class: 'bit-button',
      click: () => turn(k),
    }),
  );
  const cells = Array.from({ length: ask.rows * ask.columns }, (_, i) => {
    const [row, column] = [Math.floor(i / ask.columns), i % ask.columns];
    const k = cores.findIndex((core) => core.row === row && core.column === column);
    if (k >= 0) return buttons[k]!;
    const read = row === ask.read.row && column === ask.read.column;
    return h('span', { class: 'bit-none', 'aria-hidden': 'true' }, read ? words.learn.bitRead : '');
  });
  const touched = (): boolean => bits.join('') !== bitsOf(step.design, ask).join('');
  const ahead = whenStill(() => weighAhead(step.id, { kind: 'bits', bits }));
  const end = effect(() => {
    bits = bitsOf(board.raw.value, ask);
    bits.forEach((bit, k) => {
      buttons[k]!.textContent = String(bit);
      buttons[k]!.setAttribute('aria-pressed', String(bit === 1));
      // What is seen is said too.
      const { row, column } = cores[k]!;
      buttons[k]!.setAttribute('aria-label', `${words.learn.bitAt(row, column)}: ${bit}`);
    });
    if (touched()) ahead();
  });
  const grid = h('div', { class: 'bit-grid', role: 'group', 'aria-label': told.question }, ...cells);
  grid.style.gridTemplateColumns = `repeat(${ask.columns}, minmax(0, 3rem))`;
  return {
    node: h('div', { class: 'prediction' }, h('p', { class: 'question' }, told.question), grid),
    given: () => (touched() ? { kind: 'bits', bits } : { missing: words.learn.turnBits }),
    end,
  };
}
