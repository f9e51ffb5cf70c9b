import { html, type TemplateResult } from 'lit-html';
import { CELLS, type Cell, type Standing, type Verdict } from '../../model/verdict-cells.ts';
import type { Evidence } from '../../state/atoms.ts';
import type { Region } from '../../state/page.ts';
import type { IconName } from '../../ui/icons.ts';
import { iconView } from '../../ui/icon-view.ts';
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
  const work = createWorkLine(runs.cancel, runs.again);
  return () => {
    const old = now.judgedIsOld.value;
    work.update(atoms.work.value);
    const open = atoms.evidence.value;
    return verdictView({
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
  readonly open: Evidence | undefined;
  readonly onOpen: (set: Evidence) => void;
  readonly work: HTMLElement;
}

export const verdictView = ({
  verdict,
  old,
  sought,
  open,
  onOpen,
  work,
}: VerdictOptions): TemplateResult => html`
  <div class="headline standing-${old ? 'unknown' : verdict.standing}" data-standing=${verdict.standing}>
    <p class="headline-words">${old ? 'Working it out for the new inputs.' : verdict.headline}</p>
    <p class="note small">${old ? `Before this change: ${verdict.headline}` : verdict.because}</p>
    ${work}
  </div>
  ${CELLS.map(({ set }) =>
    cellView(
      verdict.cells.find((cell) => cell.set === set)!,
      { old, sought, open, onOpen },
    ),
  )}
`;

function cellView(
  cell: Cell,
  { old, sought, open, onOpen }: Pick<VerdictOptions, 'old' | 'sought' | 'open' | 'onOpen'>,
): TemplateResult {
  const known = cell.standing !== 'unknown';
  const moved = known && !sought && cell.margin !== undefined;
  const detail = old && known ? 'before this change' : moved ? 'worse cases not yet looked for' : cell.detail;
  return html`
    <button
      type="button"
      class="cell ${old ? 'old' : ''} standing-${cell.standing}"
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
