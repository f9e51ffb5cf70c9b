import { signal } from '@preact/signals-core';
import { html } from 'lit-html';
import { tooFine } from '../../charts/mat-fine.ts';
import type { Run } from '../../model/run.ts';
import type { Cause } from '../../model/traces.ts';
import { createBehind } from '../../sharing/behind.ts';
import type { Core } from '../../state/atoms.ts';
import type { Page, Region } from '../../state/page.ts';
import { choice } from '../../ui/choice.ts';
import { layout } from '../../ui/layout.ts';
import { coreCard } from './core-card.ts';
import { faultAt, withBitTurned, withCoreRead, withFault } from './core-changes.ts';
import { createDrawing, matPlot } from './mat-plot.ts';
import { matShares } from './mat-shares.ts';
import { coreText, FINE_HOLDS_KEY, givesText, HOLDS_KEY, matColumns, sharesText } from './mat-words.ts';
import { triedOf } from './mat-tried.ts';
import './mat.css';

/** px, for text of 16 px: no mat is drawn wider, and none narrower for want of height. */
const WIDEST = 480;
const NARROWEST = 250;
/** px of what stands over and under the mat. */
const BESIDE = 268;
/** The same on a projector, where the mat's words and controls are left out. */
const BESIDE_PROJECTED = 130;

/** How many lines drive the cores that a cause comes from; coupling and inhibit are of no core by itself. */
const DRIVEN_LINES: Readonly<Partial<Record<Cause, 1 | 2>>> = { half: 1, selected: 2 };

/** px across for a mat as high as wide that lets all of its card be seen where the page does not scroll. */
function roomFor(width: number, height: number, em: number, beside: number): number {
  const most = Math.min(width, WIDEST * em);
  return layout.value === 'wide' ? Math.min(most, Math.max(NARROWEST * em, height - beside * em)) : most;
}

/** The mat: what each core holds and gives, and how the wire runs; one core of it is looked at, and can be changed. */
export const mat: Region = (page) => {
  const { atoms, now } = page;
  const behind = createBehind('The mat', '⋯');
  const shares = matShares(page);
  /** The core under the pointer. */
  const pointed = signal<Core | undefined>(undefined);
  const draw = createDrawing();
  return ({ width, height, em }) => {
    const run = now.run.value;
    const shows = atoms.matShows.value;
    const head = html`<div class="region-head">
      <h2>The mat</h2>
      ${choice({
        title: 'The mat shows',
        options: [
          ['holds', 'holds'],
          ['gives', 'gives now'],
          ['fails', 'may fail'],
        ],
        chosen: shows,
        onChoose: (value) => {
          atoms.matShows.value = value;
        },
      })}
      ${run ? behind.node : ''}
    </div>`;
    if (!run)
      return html`${head}
        <p class="note">Being computed.</p>`;
    const { design } = run;
    const [bit, at] = [atoms.bit.value, now.instant.value];
    const core = within(now.core.value, design.mat);
    const given = shows === 'gives' ? shares.of(run, bit, at, now.span.value) : undefined;
    const driven = DRIVEN_LINES[atoms.pickedCause.value ?? 'direct'];
    const tried = shows === 'fails' ? triedOf(page) : undefined;
    const seen = draw({
      run,
      bit,
      core,
      given,
      driven,
      tried: tried?.marks,
      width: roomFor(width, height, em, atoms.view.value.projector ? BESIDE_PROJECTED : BESIDE),
      em,
    });
    const fine = tooFine(seen.spaces.pitch);
    behind.update(() => ({
      file: 'mat',
      title: 'The mat',
      summary: `${seen.summary}${given ? ` ${sharesText(given, given.time, fine)}` : ''}`,
      design,
      pictures: [{ svg: seen.chart }],
      columns: matColumns(design, seen.bits, seen.polarity, given),
    }));
    // As it is at the key or click, which may come before the last one is drawn.
    const looked = (): Core => within(now.core.value, design.mat);
    const act = changes(page, run, looked, seen.bits);
    const onPoint = (found: Core | undefined): void => {
      if (found?.row !== pointed.value?.row || found?.column !== pointed.value?.column) pointed.value = found;
    };
    const gives = (of: Core): string => (given ? givesText(design, of, given) : '');
    const under = pointed.value;
    const key = given ? sharesText(given, at, fine) : 'Working out what each core gives.';
    const keys = {
      holds: fine ? FINE_HOLDS_KEY : HOLDS_KEY,
      gives: key,
      fails: tried?.told ?? 'Being computed.',
    };
    return html`
      ${head} ${matPlot({ ...seen, looked, size: design.mat, ...act, onPoint })} ${seen.sum ?? ''}
      <p class="note small">${keys[shows]}</p>
      <p class="note small" aria-hidden="true">
        ${
          given && under
            ? `Row ${under.row}, column ${under.column} ${gives(under)}`
            : 'A click looks at a core.'
        }
      </p>
      ${coreCard({
        core,
        size: design.mat,
        read: isRead(run, core),
        fault: faultAt(design, core),
        told: `${coreText(design, core, seen.bits, seen.polarity)}${given ? ` It ${gives(core)}` : ''}`,
        ...act,
      })}
    `;
  };
};

/** What the reader can do with the core that is looked at. */
const changes = ({ act, atoms }: Page, run: Run, looked: () => Core, bits: Uint8Array) => ({
  onLook: act.selectCore,
  onTurn: () => {
    if (isRead(run, looked())) act.setBit(atoms.bit.value === 1 ? 0 : 1);
    else act.change((raw) => withBitTurned(raw, run.design.mat.columns, bits, looked()));
  },
  onRead: () => act.change((raw) => withCoreRead(raw, looked())),
  onFault: (fault: Parameters<typeof withFault>[2]) => act.change((raw) => withFault(raw, looked(), fault)),
});

const isRead = ({ design: { selected } }: Run, { row, column }: Core): boolean =>
  row === selected.row && column === selected.column;

const within = ({ row, column }: Core, mat: { readonly rows: number; readonly columns: number }): Core => ({
  row: Math.min(row, mat.rows - 1),
  column: Math.min(column, mat.columns - 1),
});
