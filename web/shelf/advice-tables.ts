import { html, nothing, type TemplateResult } from 'lit-html';
import type { Advice } from '../../engine/advice/advice.ts';
import { applyChange, type Change } from '../../engine/advice/changes.ts';
import { beyondAdvice, changeValueText, judgedOver, perUnitText } from '../../engine/advice/words.ts';
import { iconView } from '../ui/icon-view.ts';
import { scrollTable, type Cell } from '../ui/table.ts';
import { seconds, volts, type Advised, type TakeChange } from './advice-words.ts';

/** What each stated tolerance takes of the margin. */
export function costTable({ costs }: Advice): TemplateResult {
  const most = Math.max(1e-12, ...costs.map(({ takes }) => takes));
  return html`<section>
    <h3>What uses it up</h3>
    ${scrollTable({
      name: 'What each input costs',
      caption: 'Ranked by the margin that each stated tolerance takes; gains are positive.',
      heads: ['', 'Input', 'margin of a ONE', 'margin of a ZERO', 'width', 'its tolerance takes', ''],
      headAt: 1,
      rows: costs.map(({ label, unit, onePerUnit, zeroPerUnit, widthPerUnit, takes }, i) => [
        i + 1,
        label,
        perUnitText(onePerUnit, 'V', unit),
        perUnitText(zeroPerUnit, 'V', unit),
        perUnitText(widthPerUnit, 's', unit),
        takes === 0 ? 'none stated' : volts(takes),
        shareBar(takes / most),
      ]),
    })}
  </section>`;
}

/** Beside its number, hence without words of its own. */
const shareBar = (part: number): TemplateResult =>
  html`<svg viewBox="0 0 100 10" width="100" height="10" aria-hidden="true">
    <rect width="100" height="10" class="ground" />
    <rect width=${Math.max(0, Math.min(1, part)) * 100} height="10" class="share-bar" />
  </svg>`;

/** The single changes that bring what is wanted, each to be made at once. */
export const changesPart = (found: Advised, onTake: TakeChange): TemplateResult =>
  html`<section>
    <h3>What to change</h3>
    ${
      found.advice.met
        ? html`<p>
            Over ${judgedOver(found.advice)} nothing need change for what is wanted.
            ${beyondAdvice(found.advice)}
          </p>`
        : html`<p>${beyondAdvice(found.advice)}</p>
            ${scrollTable({
              name: 'Changes',
              caption: 'The smallest change of each single input, smallest first.',
              className: 'changes',
              heads: ['', 'Input', 'from', 'to', 'gives margin, width', ''],
              headAt: 1,
              rows: found.advice.changes.map((change, i) => changeRow(change, i, found, onTake)),
              cellClasses: { 3: 'words', 4: 'words' },
            })}`
    }
  </section>`;

function changeRow(change: Change, i: number, { design }: Advised, onTake: TakeChange): Cell[] {
  const { label, from, to, at, unit, gives } = change;
  const reached = to !== undefined;
  const result = Number.isFinite(gives.margin)
    ? `${volts(gives.margin)}, ${seconds(gives.width)}`
    : 'refused by the check';
  const best = at === undefined ? '' : `at best, at ${changeValueText(at, unit)}: `;
  const make = (): void => onTake(design, applyChange(design, change));
  return [
    reached ? i + 1 : '',
    label,
    changeValueText(from, unit),
    reached
      ? html`${iconView('ok')}${changeValueText(to, unit)}`
      : html`${iconView('error')}not by this alone`,
    reached ? result : `${best}${result}`,
    reached
      ? html`<button type="button" aria-label="Make this change: ${label}" @click=${make}>Make it</button>`
      : nothing,
  ];
}
