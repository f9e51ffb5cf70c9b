import { html, nothing, type TemplateResult } from 'lit-html';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Design } from '../../engine/design/design.ts';
import type { StrobeWindow } from '../../engine/strobe/window-result.ts';
import { rawAt, type RawDesign } from '../model/pointer.ts';
import { chance } from '../stage/verdict/readouts.ts';
import { startAndCancel, statusRow, type Said, type WorkState } from '../ui/status.ts';
import { scrollTable } from '../ui/table.ts';
import type { Larger } from './bench-messages.ts';
import { formView } from './section.ts';

export interface Size {
  readonly rows: number;
  readonly columns: number;
}

export interface LargerViewOptions {
  readonly raw: RawDesign;
  /** Undefined while an input of it is refused. */
  readonly design: Design | undefined;
  /** What the fields hold until another size is typed. */
  readonly first: Size | undefined;
  readonly work: WorkState;
  readonly found: Larger | undefined;
  /** What was found is of another design. */
  readonly old: boolean;
  readonly onPredict: (size: Size) => void;
  readonly onOpen: (raw: RawDesign) => void;
  readonly onCancel: () => void;
}

export const largerView = (options: LargerViewOptions): TemplateResult => {
  const { raw, design, work, found, old, onOpen } = options;
  return html`<p class="note">${design ? aboutWords(raw, design) : nothing}</p>
    ${sizeForm(options)} ${statusRow({ work, name: 'Predicting', otherwise: found && saidOf(found, old) })}
    <div class=${old || work.running ? 'bench-output stale' : 'bench-output'} ?hidden=${!found}>
      ${
        found
          ? html`${bothTable(found)}
              <div class="button-row">
                <button type="button" @click=${() => onOpen(found.raw)}>Open it in the planning view</button>
              </div>`
          : nothing
      }
    </div>`;
};

const sizeForm = ({ design, first, work: { running }, onPredict, onCancel }: LargerViewOptions) =>
  formView({
    name: 'Size of the next build',
    onSubmit: (form) => {
      const [rows, columns] = [...form.querySelectorAll('input')].map(({ value }) => Number(value));
      onPredict({ rows: rows!, columns: columns! });
    },
    content: html`${sideField('rows', 'Rows', first?.rows)} ${sideField('columns', 'Columns', first?.columns)}
    ${startAndCancel({ text: 'Predict', running, unable: !design, onCancel })}`,
  });

const sideField = (side: string, label: string, first: number | undefined): TemplateResult =>
  html`<div class="field narrow">
    <label for="bench-next-${side}">${label}</label>
    <input id="bench-next-${side}" type="number" min="1" step="1" required .value=${String(first ?? '')} />
  </div>`;

function aboutWords(raw: RawDesign, { mat, note }: Design): string {
  const fitted = note.includes('Fitted: ') ? ', as fitted' : '';
  return `From ${String(rawAt(raw, '/name') ?? 'the design')} in the planning view${fitted}, ${mat.rows} × ${mat.columns}, with its strobe and threshold.`;
}

const saidOf = (found: Larger, old: boolean): Said =>
  old
    ? { sign: 'stale', text: 'Stale: of the design before. Predict again.' }
    : { sign: found.next.window.strobe ? 'ok' : 'warning', text: largerWords(found) };

/** What becomes of the window, in one or two sentences. */
function largerWords({ now, next }: Larger): string {
  const size = `${next.rows} × ${next.columns}`;
  if (!next.window.strobe) return `At ${size} there is no window: ${next.window.reason ?? 'it is closed'}`;
  const width = formatQuantity(next.window.strobe.width, 's');
  const before = now.window.strobe
    ? `, against ${formatQuantity(now.window.strobe.width, 's')} at ${now.rows} × ${now.columns}`
    : `; at ${now.rows} × ${now.columns} there is none`;
  return `At ${size} the window is ${width} wide${before}.`;
}

const least = ({ margin }: StrobeWindow): string => formatQuantity(Math.min(margin.one, margin.zero), 'V');

const ROWS: readonly (readonly [string, (window: StrobeWindow) => string])[] = [
  [
    'Window',
    ({ strobe }) =>
      strobe ? `${formatQuantity(strobe.start, 's')} to ${formatQuantity(strobe.end, 's')}` : 'none',
  ],
  ['Window width', ({ strobe }) => (strobe ? formatQuantity(strobe.width, 's') : 'none')],
  ['Strobe in force', ({ inForce }) => formatQuantity(inForce.time, 's')],
  ['Threshold in force', ({ inForce }) => formatQuantity(inForce.threshold, 'V')],
  ['Margin', least],
  [
    'Thresholds that pass',
    ({ threshold }) =>
      threshold ? `${formatQuantity(threshold.low, 'V')} to ${formatQuantity(threshold.high, 'V')}` : 'none',
  ],
  [
    'Best strobe and threshold',
    ({ bestPair }) =>
      bestPair ? `${formatQuantity(bestPair.time, 's')}, ${formatQuantity(bestPair.threshold, 'V')}` : 'none',
  ],
  ['Chance of a wrong bit', ({ errorChance }) => chance(errorChance)],
];

const bothTable = ({ now, next }: Larger): TemplateResult =>
  scrollTable({
    name: 'Both sizes',
    caption: 'The same design in both sizes',
    heads: ['', ...[now, next].map(({ rows, columns }) => `${rows} × ${columns}`)],
    rows: ROWS.map(([name, read]) => [name, read(now.window), read(next.window)]),
  });
