import { html, type TemplateResult } from 'lit-html';
import { CHAIN_WORDS } from '../../../engine/strobe/chain-words.ts';
import type { Run } from '../../model/run.ts';
import type { StrobeState } from '../../model/strobe-state.ts';
import type { Cause } from '../../model/traces.ts';
import type { Evidence } from '../../state/atoms.ts';
import type { Page, Region } from '../../state/page.ts';
import { createBehind } from '../../sharing/behind.ts';
import type { ChartData } from '../../sharing/chart-data.ts';
import { iconView } from '../../ui/icon-view.ts';
import { layout } from '../../ui/layout.ts';
import { boxOf } from '../../ui/mount.ts';
import { laneMargins, planLanes } from '../trace/lane-plan.ts';
import { ladders } from '../trace/scale-ladder.ts';
import './margin.css';
import type { ColumnKey } from './chain-sums.ts';
import { CAPTION_ROOM, drawStairs, END_ROOM } from './stairs-chart.ts';
import { stairSpan, stairsOf, type Stairs } from './stairs.ts';
import { endWords, stairsSummary } from './stairs-words.ts';

/** px under the stairs for one line of captions, and for two where columns are narrow. */
const CAPTIONS = { one: 17, two: 31 };
const GUTTER = 30;
/** px of the stairs where the page scrolls. */
const FIXED = 250;

/** The column that holds a cause's share of the margin; a small share has gone into the rest. */
const COLUMN_OF_CAUSE: Readonly<Record<Cause, ColumnKey>> = {
  direct: 'coupling',
  half: 'half',
  selected: 'core',
  inhibit: 'inhibit',
};

/** The columns that stand out: those of the evidence that is open, and of the cause that is picked. */
function litColumns({ atoms }: Page, { columns }: Stairs): readonly ColumnKey[] {
  const evidence = LIT[atoms.evidence.value ?? 'nominal'] ?? [];
  const cause = atoms.pickedCause.value;
  if (cause === undefined) return evidence;
  const key = COLUMN_OF_CAUSE[cause];
  return [...evidence, columns.some((column) => column.key === key) ? key : 'rest'];
}

const LIT: Readonly<Partial<Record<Evidence, readonly ColumnKey[]>>> = {
  corners: ['corners'],
  core: ['unknown'],
};

/** Where the margin goes: the least ONE down and the greatest ZERO up to what is left, beside the trace and on its scale. */
export const margin: Region = (page) => {
  const { now } = page;
  const behind = createBehind('Where the margin goes', '⋯');
  const trace = boxOf(document.querySelector<HTMLElement>('.trace')!);
  return ({ width, em }) => {
    const [run, strobe] = [now.judged.value, now.strobe.value];
    const head = html`<div class="region-head">
      <h2>Where the margin goes</h2>
      ${behind.node}
    </div>`;
    if (!run || !strobe)
      return html`${head}
        <p class="note">Being computed.</p>`;
    const stairs = stairsOf(strobe.chains);
    const beside = layout.value === 'wide' ? planLanes({ ...trace.value, em }, undefined) : undefined;
    const height = beside ? beside.signal : FIXED * em;
    const sides = laneMargins(em, { top: 22 });
    const narrow = (width - (GUTTER + END_ROOM) * em) / stairs.columns.length < CAPTION_ROOM * em;
    const captions = CAPTIONS[narrow ? 'two' : 'one'] * em;
    const chart = drawStairs({
      name: stairsSummary(stairs),
      stairs,
      value: spanOf(page, stairs),
      margins: { ...sides, left: GUTTER * em, right: END_ROOM * em, bottom: sides.bottom + captions },
      width,
      height: height + captions,
      em,
      lit: litColumns(page, stairs),
    });
    behind.update(() => stairsData(run, strobe, stairs, chart));
    const old = now.judgedIsOld.value;
    return html`${head}
      <div class="stairs-body ${old ? 'old' : ''}">
        ${chart}${old ? html`<p class="stairs-note">${iconView('stale')}before this change</p>` : endNote(page, stairs)}
      </div>`;
  };
};

/** The trace's own scale where all of the stairs lie in it, so that one band runs through both. */
function spanOf(page: Page, stairs: Stairs) {
  const own = stairSpan(stairs);
  const shared = ladders(page).latch.value ?? own;
  if (shared.low <= own.low && shared.high >= own.high) return shared;
  const room = 0.1 * (own.high - own.low);
  return { low: Math.min(shared.low, own.low - room), high: own.high + room };
}

function endNote({ atoms, now }: Page, { ends }: Stairs): TemplateResult {
  const asked = atoms.evidence.value === 'nominal' ? 'nominal' : 'corners';
  const end = ends.find(({ set }) => set === asked) ?? ends[0]!;
  const standing = now.verdict.value.cells.find(({ set }) => set === end.set)?.standing;
  const mark = standing === 'reads' ? 'ok' : standing === 'short' ? 'warning' : 'error';
  return html`<p class="stairs-note status-${mark}">${iconView(mark)}${endWords(end)}</p>`;
}

function stairsData(run: Run, { chains }: StrobeState, stairs: Stairs, svg: SVGSVGElement): ChartData {
  const codes = [...new Set([...chains.one, ...chains.zero].map(({ step }) => step))];
  const of = (side: 'one' | 'zero') =>
    codes.map((code) => chains[side].find(({ step }) => step === code)?.volts ?? 0);
  return {
    file: 'margin',
    title: 'Where the margin goes',
    summary: stairsSummary(stairs),
    design: run.design,
    pictures: [{ svg }],
    columns: [
      { title: 'step', values: codes.map((code) => CHAIN_WORDS[code]) },
      { title: 'margin of the ONE / V', values: of('one') },
      { title: 'margin of the ZERO / V', values: of('zero') },
    ],
  };
}
