import { html, type TemplateResult } from 'lit-html';
import type { Design } from '../../../engine/design/design.ts';
import { storedBits } from '../../../engine/mat/stored-pattern.ts';
import { wirePath } from '../../../engine/mat/winding.ts';
import type { CoreShares } from '../../../engine/solver/result.ts';
import { matChart } from '../../charts/mat-chart.ts';
import { wireSumChart } from '../../charts/mat-gives.ts';
import { coreAt, type MatSpaces } from '../../charts/mat-spaces.ts';
import type { Run } from '../../model/run.ts';
import { matSummary } from '../../model/summaries.ts';
import type { Core } from '../../state/atoms.ts';
import { keepLast } from '../../ui/last.ts';
import { neighbour } from './core-changes.ts';

export interface Drawing {
  readonly chart: SVGSVGElement;
  readonly spaces: MatSpaces;
  readonly bits: Uint8Array;
  readonly polarity: Int8Array;
  readonly summary: string;
  /** The sum along the wire, where it is known what each core gives. */
  readonly sum: SVGSVGElement | undefined;
}

/** Drawn anew only when what is drawn has changed: a pointer over a mat of thousands of cores changes none of it. */
export const createDrawing = () =>
  keepLast(
    (
      run: Run,
      bit: 0 | 1,
      row: number,
      column: number,
      given: CoreShares | undefined,
      driven: 1 | 2 | undefined,
      width: number,
      em: number,
    ): Drawing => {
      const { design } = run;
      const { mat: size, selected, exceptions } = design;
      const bits = storedBits({ ...design, selected: { ...selected, bit } });
      const { polarity, order } = wirePath(design);
      const summary = matSummary(run, bits);
      const { node, spaces } = matChart({
        name: summary,
        rows: size.rows,
        columns: size.columns,
        bits,
        polarity,
        order,
        selected,
        focus: { row, column },
        marked: exceptions.map((item) => item.row * size.columns + item.column),
        ...(given ? { shares: given.emf } : {}),
        ...(driven ? { driven } : {}),
        width,
        em,
      });
      const read = selected.row * size.columns + selected.column;
      const sum = given && wireSumChart({ emf: given.emf, order, selected: read, width, em });
      return { chart: node, spaces, bits, polarity, summary, sum };
    },
  );

export interface PlotOptions extends Pick<Drawing, 'chart' | 'spaces'> {
  /** The core that is looked at when it is asked. */
  readonly looked: () => Core;
  readonly size: Design['mat'];
  readonly onLook: (core: Core) => void;
  readonly onTurn: () => void;
  readonly onRead: () => void;
  /** The core under the pointer, whenever it is another one. */
  readonly onPoint: (core: Core | undefined) => void;
}

/** The mat as one stop of the keyboard: arrows go from core to core. */
export function matPlot(options: PlotOptions): TemplateResult {
  const { chart, spaces, looked, size, onLook, onTurn, onRead, onPoint } = options;
  const under = (event: MouseEvent): Core | undefined => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    return coreAt(spaces, size, event.clientX - box.left, event.clientY - box.top);
  };
  const onKey = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = neighbour(event.key, looked(), size);
    if (next) onLook(next);
    else if (event.key === 'Enter') onRead();
    else if (event.key.toLowerCase() === 'x') onTurn();
    else return;
    event.preventDefault();
  };
  return html`<div
    class="plot"
    tabindex="0"
    role="group"
    aria-label="Cores of the mat: arrow keys go from core to core, Enter reads one, X turns its bit"
    @keydown=${onKey}
    @click=${(event: MouseEvent) => {
      const found = under(event);
      if (found) onLook(found);
    }}
    @pointermove=${(event: PointerEvent) => onPoint(under(event))}
    @pointerleave=${() => onPoint(undefined)}
  >
    ${chart}
  </div>`;
}
