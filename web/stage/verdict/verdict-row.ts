import { signal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit-html';
import { CELLS, type Cell, type Standing, type Verdict } from '../../model/verdict-cells.ts';
import type { Evidence } from '../../state/atoms.ts';
import type { Region } from '../../state/page.ts';
import type { IconName } from '../../ui/icons.ts';
import { iconView } from '../../ui/icon-view.ts';
import { layout } from '../../ui/layout.ts';
import './verdict.css';
import { createWorkLine } from './work-line.ts';

const ICONS: Readonly<Record<Standing, IconName>> = {
  reads: 'ok',
  short: 'warning',
  fails: 'error',
  unknown: 'busy',
};
/** Said with each icon. */
const WORDS: Readonly<Record<Standing, string>> = {
  reads: 'reads',
  short: 'less than asked for',
  fails: 'does not read',
  unknown: 'not known',
};

/** The answer: a headline that is never better than the worst cell, and the four cells it rests on. */
export const verdictRow: Region = ({ atoms, now, act, runs }) => {
  /** On a phone: the cells are unfolded under the answer. */
  const unfolded = signal(false);
  const work = createWorkLine(runs.cancel, runs.again);
  return () => {
    const old = now.judgedIsOld.value;
    work.update(atoms.work.value);
    const open = atoms.evidence.value;
    const narrow = layout.value === 'narrow';
    return verdictView({
      folding: narrow
        ? { folded: !unfolded.value, onFold: () => (unfolded.value = !unfolded.value) }
        : undefined,
      verdict: now.verdict.value,
      old,
      sought: now.sought.value,
      open,
      onOpen: (set) => act.showEvidence(open === set ? undefined : set),
      work: work.node,
    });
  };
};

export interface VerdictOptions {
  readonly verdict: Verdict;
  /** Of the inputs before the last change. */
  readonly old: boolean;
  /** The worst cases are those of this strobe and threshold: none worse is still to be looked for. */
  readonly sought: boolean;
  /** Where there is no room for the cells they are folded away; undefined: they stand there always. */
  readonly folding: { readonly folded: boolean; readonly onFold: () => void } | undefined;
  readonly open: Evidence | undefined;
  readonly onOpen: (set: Evidence) => void;
  readonly work: HTMLElement;
}

export const verdictView = ({
  verdict,
  old,
  sought,
  folding,
  open,
  onOpen,
  work,
}: VerdictOptions): TemplateResult => html`
  <div
    class="headline standing-${old ? 'unknown' : verdict.standing} ${folding?.folded ? 'folded' : ''}"
    data-standing=${verdict.standing}
  >
    <p class="headline-words">
      ${folding?.folded ? iconView(old ? 'stale' : ICONS[verdict.standing]) : nothing}${old ? 'Working it out for the new inputs.' : folding?.folded ? verdict.short : verdict.headline}
    </p>
    ${folding ? foldView(verdict, old, folding) : nothing}
    <p class="note small">${old ? `Before this change: ${verdict.headline}` : verdict.because}</p>
    ${work}
  </div>
  ${CELLS.map(({ set }) =>
    cellView(
      verdict.cells.find((cell) => cell.set === set)!,
      { old, sought, folding, open, onOpen },
    ),
  )}
`;

/** The figures in one line, the worst first, and the button that unfolds their cells. */
function foldView(
  { cells, standing }: Verdict,
  old: boolean,
  { folded, onFold }: NonNullable<VerdictOptions['folding']>,
): TemplateResult {
  const told = cells.filter((cell) => cell.standing !== 'unknown');
  const worst = told.filter((cell) => cell.standing === standing);
  const rest = told.filter((cell) => cell.standing !== standing);
  return html`
    <p class="figures small">
      ${[...worst, ...rest].map(
        ({ figure, standing: each, title }) =>
          html`<span class="standing-${old ? 'unknown' : each}"
            ><strong>${figure.replace(/ left$/, '')}</strong> ${title.toLowerCase()}</span
          > `,
      )}
    </p>
    <button type="button" class="fold" aria-expanded=${String(!folded)} @click=${onFold}>
      <span aria-hidden="true">${folded ? '▾' : '▴'}</span
      ><span class="visually-hidden">All of the verdict</span>
    </button>
  `;
}

function cellView(
  cell: Cell,
  {
    old,
    sought,
    folding,
    open,
    onOpen,
  }: Pick<VerdictOptions, 'old' | 'sought' | 'folding' | 'open' | 'onOpen'>,
): TemplateResult {
  const known = cell.standing !== 'unknown';
  const moved = known && !sought && cell.margin !== undefined;
  const detail = old && known ? 'before this change' : moved ? 'worse cases not yet looked for' : cell.detail;
  return html`
    <button
      type="button"
      class="cell ${old ? 'old' : ''} ${folding?.folded ? 'folded' : ''} standing-${cell.standing}"
      data-set=${cell.set}
      aria-expanded=${open === cell.set ? 'true' : 'false'}
      @click=${() => onOpen(cell.set)}
    >
      <span class="cell-title">${iconView(old && known ? 'stale' : ICONS[cell.standing])}${cell.title}</span>
      <span class="visually-hidden">: ${WORDS[cell.standing]}, </span>
      <span class="cell-words"
        ><strong class="figure">${cell.figure}</strong> <span class="detail">${detail}</span></span
      >
    </button>
  `;
}
