import { VERSION } from '../../../engine/base/version.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { strobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { coreStanding } from '../../model/core-source.ts';
import type { RawDesign } from '../../model/pointer.ts';
import { leaves } from '../../sharing/print-sheet.ts';
import { h } from '../../ui/dom.ts';
import { quantityText } from '../words/say.ts';
import type { Words } from '../words/shape.ts';

/** What a board is and how sure its answers are, on one piece of paper. */
export function boardNodes(words: Words, board: RawDesign): HTMLElement {
  const { sheets } = words.made;
  const design = checkDesign(board);
  const { threshold, guard } = strobeUncertainties(design);
  const known = sheets.uncertain(quantityText(words, threshold, 'V', 2), quantityText(words, guard, 's', 2));
  return h(
    'div',
    { class: 'paper-board' },
    h('p', { class: 'small paper-inputs-title' }, sheets.inputs),
    h(
      'dl',
      { class: 'paper-inputs small' },
      ...leaves(board)
        .filter(([name]) => name !== 'note')
        .map(([name, value]) => h('div', {}, h('dt', {}, name), h('dd', {}, value))),
    ),
    h('p', { class: 'small' }, `${sheets.certainty(sheets.cores[coreStanding(design)], VERSION)} ${known}`),
  );
}
